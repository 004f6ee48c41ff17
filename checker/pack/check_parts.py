"""The parts of a clause with the places where they are written: its check, older checks, and every branch."""

from __future__ import annotations

from collections.abc import Iterator

from checker.kinds.contract.check import Check
from checker.kinds.frame.framed import Framed
from checker.pack.model import Clause
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CheckPart:
    """One check of a clause."""

    check: Check
    """With its frame, where it has one."""
    path: Path
    branch: bool
    """It is a branch of a combination, or an older check: a case can pass it by."""


def parts_of(clause: Clause) -> Iterator[CheckPart]:
    """Every check of a clause, the outermost first."""
    here: Path = ("clauses", clause.number)
    yield from _with_branches(CheckPart(clause.check, (*here, "check"), False))
    for place, entry in enumerate(clause.earlier):
        if entry.check is not None:
            older = CheckPart(entry.check, (*here, "earlier", place, "check"), True)
            yield from _with_branches(older)


def _with_branches(part: CheckPart) -> Iterator[CheckPart]:
    yield part
    inner = unframed(part.check)
    for check, place in zip(inner.branches(), inner.places(), strict=True):
        yield from _with_branches(CheckPart(check, (*part.path, *place), True))


def unframed(check: Check) -> Check:
    """A check without its frame."""
    return check.check if isinstance(check, Framed) else check
