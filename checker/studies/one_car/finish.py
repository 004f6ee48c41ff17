"""With how much fuel a car may come home: the levels at which every clause is met with worn tyres, of every set."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.car.weights.states import state_of
from checker.kinds.frame.legal_fuel import in_all
from checker.kinds.judging.assessment import DISPENSATION, LegalFuel
from checker.pack.model import Clause
from checker.quantities.intervals import Interval, Intervals, without
from checker.quantities.kind import Unknown
from checker.reading.quick_dataclasses import dataclass
from checker.studies.one_car.guarded_fuel import guarded_levels
from checker.verdict.inspection import Inspection

NEW, WORN = Fraction(0), Fraction(1)


@dataclass(frozen=True, slots=True)
class Finish:
    """The fuel to come home with on one set of tyres, worn, with the driver out and aboard as the clauses ask."""

    tyres: str | None
    """None: those that the car was weighed on."""
    legal: Intervals | None
    """All levels in mm3 at which every clause is met; None where that is not known."""
    guarded: Intervals | None
    """Of these the levels at which every clause is met by more than the gear resolves, closed in on from within."""
    fails: Intervals
    """Levels in mm3 at which some clause fails for certain."""
    asked: Interval | None
    """The levels that are asked for; None where they are not known."""
    clauses: tuple[Clause, ...]
    """Those that fail with any other, the one that asks for the least first; none where any rest is enough."""
    unknown: Unknown
    """What is lacking where the levels are not known."""


def finishes(inspection: Inspection, wear: Fraction = WORN) -> tuple[Finish, ...]:
    """For each set of tyres, as worn as that; none where no clause asks for a range of fuel."""
    asked = tuple(fuel_lines(inspection))
    if not asked:
        return ()
    return tuple(
        _finish(inspection, asked, tyres, wear) for tyres in inspection.car.every_tyre_set or (None,)
    )


def fuel_lines(inspection: Inspection) -> Iterator[tuple[Clause, LegalFuel]]:
    """What the clauses that bind the car ask of its fuel."""
    for outcome in inspection.outcomes:
        if outcome.counts and outcome.outcome != DISPENSATION:
            yield from ((outcome.clause, line) for line in outcome.legal_fuel)


def _finish(
    inspection: Inspection, asked: tuple[tuple[Clause, LegalFuel], ...], tyres: str | None, wear: Fraction
) -> Finish:
    worn = [(c, line) for c, line in asked if line.state.wear in (None, wear) and on_tyres(line, tyres)]
    whole = in_all((line for _, line in worn), state_of(None, None, tyres, wear))
    if whole.asked is None:
        return Finish(tyres, None, None, whole.fails, None, (), whole.unknown)
    clauses = limiting(whole.asked, [(clause, line.fails) for clause, line in worn])
    if whole.unknown.is_told and without(whole.asked, whole.fails):
        return Finish(tyres, None, None, whole.fails, whole.asked, clauses, whole.unknown)
    guarded = guarded_levels(inspection, whole.holds, tyres, wear)
    return Finish(tyres, whole.holds, guarded, whole.fails, whole.asked, clauses, Unknown())


def on_tyres(line: LegalFuel, tyres: str | None) -> bool:
    """Whether the line is for these tyres; those that the car was weighed on stand for themselves."""
    return tyres is None or line.state.tyres in (None, tyres)


def limiting(asked: Interval, fails: list[tuple[Clause, Intervals]]) -> tuple[Clause, ...]:
    """The clauses that fail where the levels begin and end at which none does, from the least level on.

    Where every level fails: the first clause that fails at all of them itself, else all that fail at some.
    """
    left = without(asked, (one for _, levels in fails for one in levels))
    found: dict[str, Clause] = {}
    for legal in left:
        for end in (legal.low, legal.high):
            touching = (c for c, levels in fails if any(end in (one.low, one.high) for one in levels))
            found.update((clause.number, clause) for clause in touching if end not in (asked.low, asked.high))
    if left:
        return tuple(found.values())
    by_clause: dict[str, tuple[Clause, list[Interval]]] = {}
    for clause, levels in fails:
        by_clause.setdefault(clause.number, (clause, []))[1].extend(levels)
    for clause, taken in by_clause.values():
        if not without(asked, taken):
            return (clause,)
    return tuple(clause for clause, taken in by_clause.values() if taken)
