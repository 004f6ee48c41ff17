"""The parts of a clause with the places where they are written: its check, older checks, and every branch."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checker.kinds.frame.framed import Framed
from checker.kinds.judging.check import Check
from checker.pack.model import Clause
from checker.reading.document import Document
from checker.reading.problems import Path


@dataclass(frozen=True, slots=True)
class Part:
    """One check of a clause."""

    check: Check
    """With its frame, where it has one."""
    path: Path
    branch: bool
    """It is a branch of a combination, or an older check: a case can pass it by."""


def parts_of(clause: Clause, document: Document) -> Iterator[Part]:
    """Every check of a clause, the outermost first."""
    here: Path = ("clauses", clause.number)
    yield from _with_branches(Part(clause.check, (*here, "check"), False), document)
    for place, entry in enumerate(clause.earlier):
        if entry.check is not None:
            older = Part(entry.check, (*here, "earlier", place, "check"), True)
            yield from _with_branches(older, document)


def _with_branches(part: Part, document: Document) -> Iterator[Part]:
    yield part
    for check, path in branches_of(part.check, part.path, document):
        yield from _with_branches(Part(check, path, True), document)


def branches_of(check: Check, path: Path, document: Document) -> list[tuple[Check, Path]]:
    """The branches of a combination with their places; [] for a check that combines nothing."""
    inner = unframed(check)
    counted = isinstance(document.get((*path, inner.kind)), dict)
    at: Path = (*path, inner.kind, *(("of",) if counted else ()))
    return [(branch, (*at, place)) for place, branch in enumerate(inner.branches())]


def unframed(check: Check) -> Check:
    """A check without its frame."""
    return check.check if isinstance(check, Framed) else check
