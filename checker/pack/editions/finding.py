"""Where packs are: the path that was given, `rulepacks/` of the current folder, or those that are installed.

A pack is a folder of editions, or a single file among whatever else.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from checker.pack.editions.file_heads import formula_of_edition
from checker.pack.editions.folder_files import (
    BULLETIN,
    EDITION,
    INTERPRETATIONS,
    PROCEDURE,
    REGISTER,
    FolderFiles,
    files_in,
    is_yaml,
)
from checker.pack.editions.places import places
from checker.quantities.folding import fold
from checker.reading.nearest import did_you_mean
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, replace


@dataclass(frozen=True, slots=True)
class PackFolder:
    """A pack's files."""

    name: str
    place: str
    """Folder or file, as the user would name it."""
    editions: tuple[str, ...]
    bulletins: tuple[str, ...] = ()
    _: KW_ONLY
    approvals: str | None = None
    procedures: tuple[str, ...] = ()
    """How the day runs, each for some editions."""
    interpretations: str | None = None
    siblings: tuple[str, ...] = ()
    """Editions beside that are not asked for; a bulletin may amend one of them."""
    below: tuple[str, ...] = ()
    """Bulletins in folders below, which do not count and are named."""
    alone: bool = False
    """One edition picked by its file: bulletins beside it that amend another pack or edition are left aside."""


class UnusableFolderError(InputError):
    """A place that holds no pack, or one that cannot be used as it stands."""

    def __init__(self, problems: Iterable[Problem], formulas: frozenset[str] | None) -> None:
        super().__init__(problems)
        self.formulas = formulas
        """What the editions that can be read there call their formula, folded; None: nothing there is a pack's."""


def open_folder(place: str | os.PathLike[str]) -> PackFolder:
    """The pack at a path, or the one of that name where there is nothing at the path.

    A folder holds editions, bulletins and the approvals register. A file is one edition, with the bulletins and the
    register that stand beside it. A name is that of the formula, looked for in `places`.

    Raises:
        InputError: There is no pack there or of that name (PK110), a file that is none of a pack's (PK613) or that has
            to be read to be known and cannot be, packs of several formulas (PK610), several registers (PK612).
    """
    path = Path(place)
    if path.is_file():
        return _of_file(path, str(place))
    if not path.is_dir():
        return _of_name(str(place), path)
    found = files_in(path)
    editions = found.of(EDITION)
    names = {fold(name): name for file in editions if (name := formula_of_edition(file))}
    problems = [*found.problems, *_doubles(found, path)]
    if not editions and not (found.problems and found.any_yaml):
        hint = "a pack's file begins with `pack:`"
        problem = Problem("PK110", f"the folder '{place}' holds no edition of a pack", hint=hint)
        raise UnusableFolderError([problem], None)
    if len(names) > 1:
        told = ", ".join(names.values())
        problems.append(Problem("PK610", f"the folder '{place}' holds packs of several formulas: {told}"))
    if problems:
        raise UnusableFolderError(problems, frozenset(names))
    name = next(iter(names.values()), path.name)
    return _with_those_beside(PackFolder(name, str(place), tuple(editions)), found)


def _of_name(name: str, path: Path) -> PackFolder:
    """The pack of that name, where it may be one: a path that leads nowhere is told as such."""
    hint = "give a pack's file, its folder or its name"
    if path.name == name and not path.suffix and not path.is_symlink():
        try:
            return find_pack(name)
        except UnusableFolderError:
            raise
        except InputError as error:
            hint = error.problems[0].hint or hint
    problem = Problem("PK110", f"there is no pack at '{name}'", hint=hint)
    raise UnusableFolderError([problem], frozenset() if path.is_symlink() else None)


def _of_file(path: Path, place: str) -> PackFolder:
    found = files_in(path.parent, only_yaml=True)
    problems = [p for p in found.problems if p.span is None or Path(p.span.file) != path]
    problems += _doubles(found, path.parent)
    try:
        name = formula_of_edition(place) or path.stem
    except InputError as error:
        raise UnusableFolderError([*error.problems, *problems], frozenset()) from None
    if problems:
        raise UnusableFolderError(problems, frozenset([fold(name)]))
    siblings = tuple(file for file in found.of(EDITION) if Path(file) != path)
    return _with_those_beside(PackFolder(name, place, (place,), siblings=siblings, alone=True), found)


def _doubles(found: FolderFiles, folder: Path) -> Iterator[Problem]:
    """A folder has one register, and one file of interpretations (612)."""
    for word, what in ((REGISTER, "approvals registers"), (INTERPRETATIONS, "files of interpretations")):
        if len(found.of(word)) > 1:
            told = ", ".join(found.of(word))
            yield Problem("PK612", f"the folder '{folder}' holds several {what}: {told}")


def _with_those_beside(folder: PackFolder, found: FolderFiles) -> PackFolder:
    """With bulletins, register, procedures and interpretations."""
    register, answers = (next(iter(found.of(word)), None) for word in (REGISTER, INTERPRETATIONS))
    return replace(
        folder,
        bulletins=tuple(found.of(BULLETIN)),
        approvals=register,
        procedures=tuple(found.of(PROCEDURE)),
        interpretations=answers,
        below=tuple(found.below),
    )


def find_packs() -> tuple[list[PackFolder], list[Problem]]:
    """Every pack that can be named by its formula, those of the current folder first; and why others cannot be used."""
    found: dict[str, PackFolder] = {}
    problems: list[Problem] = []
    for opened in _searched():
        if isinstance(opened, PackFolder):
            found.setdefault(fold(opened.name), opened)
        else:
            problems += opened.problems
    return list(found.values()), list(dict.fromkeys(problems))


def find_pack(formula: str) -> PackFolder:
    """The pack of a formula.

    Raises:
        InputError: No place that is searched has it (PK611), with the nearest name; or what may be that pack cannot be
            used, so that no other is taken in its place.
    """
    names: list[str] = []
    for opened in _searched():
        if isinstance(opened, PackFolder):
            if fold(opened.name) == fold(formula):
                return opened
            names.append(opened.name)
        elif not opened.formulas or fold(formula) in opened.formulas:
            raise opened
    hint = did_you_mean(formula, names) or (
        f"packs found: {', '.join(names)}" if names else "give one with --pack PATH"
    )
    searched = "rulepacks/ or among the installed packs"
    raise InputError([Problem("PK611", f"no pack of the formula '{formula}' in {searched}", hint=hint)])


def _searched() -> Iterator[PackFolder | UnusableFolderError]:
    """What stands in the places that are searched, apart from what is no pack's."""
    for place in map(Path, places()):
        for entry in sorted(place.iterdir()) if place.is_dir() else ():
            if entry.name.startswith((".", "__")) or not (entry.is_dir() or is_yaml(entry)):
                continue
            try:
                yield open_folder(entry)
            except UnusableFolderError as error:
                if error.formulas is not None:
                    yield error
