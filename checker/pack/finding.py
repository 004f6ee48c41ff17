"""Where packs are: the path that was given, `rulepacks/` of the current folder, or those that are installed.

A pack is a folder of editions, or a single file. Which files of a folder are editions is told by the word
they begin with at the start of a line (`pack:`, `bulletin:`, `approvals:`), so that files that are not
asked for are never read in full.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from checker.quantities.words import fold
from checker.reading.nearest import did_you_mean
from checker.reading.problems import InputError, Problem

_FIRST_WORD = re.compile(rb"^(pack|bulletin|approvals|cases)\s*:", re.MULTILINE)
_NAME = re.compile(rb"^pack\s*:\s*[\"']?([^\"'#\r\n]+?)[\"']?\s*(?:#.*)?$", re.MULTILINE)
_HEAD_BYTES = 65536


@dataclass(frozen=True, slots=True)
class PackFolder:
    """A pack's files."""

    name: str
    place: str
    """Folder or file, as the user would name it."""
    editions: tuple[str, ...]
    bulletins: tuple[str, ...] = ()
    approvals: str | None = None


def installed() -> Path:
    """The packs that come with the program: in the wheel, or in the source tree of an editable install."""
    here = Path(__file__).resolve().parent.parent
    carried = here / "rulepacks"
    return carried if carried.is_dir() else here.parent / "rulepacks"


def places() -> Iterator[Path]:
    """The folders that are searched for packs, in order."""
    yield Path("rulepacks")
    own = installed()
    if own.resolve() != Path("rulepacks").resolve():
        yield own


def open_folder(place: str | os.PathLike[str]) -> PackFolder:
    """The pack at a path: a file is one edition, a folder holds editions, bulletins and the approvals register.

    Raises:
        InputError: There is no pack there (PK110), or packs of several formulas (PK610).
    """
    path = Path(place)
    if path.is_file():
        return PackFolder(_name_in(path) or path.stem, str(place), (str(place),))
    if not path.is_dir():
        raise InputError(
            [Problem("PK110", f"there is no pack at '{place}'", hint="give a pack's file or folder")]
        )
    kinds: dict[str, list[str]] = {"pack": [], "bulletin": [], "approvals": []}
    names: dict[str, str] = {}
    for file in sorted(path.iterdir()):
        if file.suffix not in (".yaml", ".yml") or not file.is_file():
            continue
        word = _kind_of(file)
        if word in kinds:
            kinds[word].append(str(file))
        if word == "pack" and (name := _name_in(file)):
            names.setdefault(fold(name), name)
    if not kinds["pack"]:
        hint = "a pack's file begins with `pack:`"
        raise InputError([Problem("PK110", f"the folder '{place}' holds no edition of a pack", hint=hint)])
    if len(names) > 1:
        told = ", ".join(names.values())
        raise InputError([Problem("PK610", f"the folder '{place}' holds packs of several formulas: {told}")])
    name = next(iter(names.values()), path.name)
    register = kinds["approvals"][0] if kinds["approvals"] else None
    return PackFolder(name, str(place), tuple(kinds["pack"]), tuple(kinds["bulletin"]), register)


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


def _kind_of(file: Path) -> str:
    match = _FIRST_WORD.search(_head(file))
    return match[1].decode() if match else ""


def _name_in(file: Path) -> str:
    match = _NAME.search(_head(file))
    return match[1].decode(errors="replace").strip() if match else ""


def _head(file: Path) -> bytes:
    try:
        with file.open("rb") as stream:
            return stream.read(_HEAD_BYTES)
    except OSError:
        return b""
