"""Where packs are: the path that was given, `rulepacks/` of the current folder, or those that are installed.

A pack is a folder of editions, or a single file. Which files of a folder are editions is told by the word
they begin with at the start of a line (`pack:`, `bulletin:`, `approvals:`), so that files that are not
asked for are never read in full.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from checker.pack.editions.file_heads import kind_of, name_in
from checker.quantities.folding import fold
from checker.reading.nearest import did_you_mean
from checker.reading.problems import InputError, Problem


@dataclass(frozen=True, slots=True)
class PackFolder:
    """A pack's files."""

    name: str
    place: str
    """Folder or file, as the user would name it."""
    editions: tuple[str, ...]
    bulletins: tuple[str, ...] = ()
    approvals: str | None = None
    alone: bool = False
    """One edition picked by its file: bulletins beside it that amend another pack or edition do not matter."""


def installed() -> Path:
    """The packs that come with the program: in the wheel, or in the source tree of an editable install."""
    here = Path(__file__).resolve().parents[2]
    carried = here / "rulepacks"
    return carried if carried.is_dir() else here.parent / "rulepacks"


def places() -> Iterator[Path]:
    """The folders that are searched for packs, in order."""
    yield Path("rulepacks")
    own = installed()
    if own.resolve() != Path("rulepacks").resolve():
        yield own


def open_folder(place: str | os.PathLike[str]) -> PackFolder:
    """The pack at a path.

    A folder holds editions, bulletins and the approvals register. A file is one edition, with the bulletins and the
    register that stand beside it.

    Raises:
        InputError: There is no pack there (PK110), packs of several formulas (PK610), or several registers (PK612).
    """
    path = Path(place)
    if path.is_file():
        found = _files_in(path.parent)
        register = found["approvals"][0] if found["approvals"] else None
        name = name_in(path) or path.stem
        return PackFolder(name, str(place), (str(place),), tuple(found["bulletin"]), register, alone=True)
    if not path.is_dir():
        raise InputError(
            [Problem("PK110", f"there is no pack at '{place}'", hint="give a pack's file or folder")]
        )
    found = _files_in(path)
    names = {fold(name): name for file in found["pack"] if (name := name_in(Path(file)))}
    if not found["pack"]:
        hint = "a pack's file begins with `pack:`"
        raise InputError([Problem("PK110", f"the folder '{place}' holds no edition of a pack", hint=hint)])
    if len(names) > 1:
        told = ", ".join(names.values())
        raise InputError([Problem("PK610", f"the folder '{place}' holds packs of several formulas: {told}")])
    if len(found["approvals"]) > 1:
        told = ", ".join(found["approvals"])
        raise InputError(
            [Problem("PK612", f"the folder '{place}' holds several approvals registers: {told}")]
        )
    name = next(iter(names.values()), path.name)
    register = found["approvals"][0] if found["approvals"] else None
    return PackFolder(name, str(place), tuple(found["pack"]), tuple(found["bulletin"]), register)


def _files_in(folder: Path) -> dict[str, list[str]]:
    """The files of a folder by what they are: pack, bulletin, approvals."""
    kinds: dict[str, list[str]] = {"pack": [], "bulletin": [], "approvals": []}
    for file in sorted(folder.iterdir()):
        if file.suffix in (".yaml", ".yml") and file.is_file() and (word := kind_of(file)) in kinds:
            kinds[word].append(str(file))
    return kinds


def find_packs() -> list[PackFolder]:
    """Every pack that can be named by its formula, those of the current folder first."""
    found: dict[str, PackFolder] = {}
    for place in places():
        if not place.is_dir():
            continue
        for entry in sorted(place.iterdir()):
            if entry.name.startswith((".", "__")) or not (
                entry.is_dir() or entry.suffix in (".yaml", ".yml")
            ):
                continue
            try:
                folder = open_folder(entry)
            except InputError:
                continue
            found.setdefault(fold(folder.name), folder)
    return list(found.values())


def find_pack(formula: str) -> PackFolder:
    """The pack of a formula.

    Raises:
        InputError: No place that is searched has it (PK611); the nearest name is given.
    """
    packs = find_packs()
    for folder in packs:
        if fold(folder.name) == fold(formula):
            return folder
    names = [folder.name for folder in packs]
    hint = did_you_mean(formula, names) or (
        f"packs found: {', '.join(names)}" if names else "give one with --pack PATH"
    )
    searched = "rulepacks/ or among the installed packs"
    raise InputError([Problem("PK611", f"no pack of the formula '{formula}' in {searched}", hint=hint)])
