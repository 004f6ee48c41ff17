"""Which outcomes of a car floats tell for certain, so that only the others are left to the exact engine.

For each check of a pack a function is written once (`checker.kinds.clearing`), which tells its outcome from floats that
know their own error, or nothing. What it tells is what the exact engine says: that is the law of
`tests/deep/test_cleared.py`. It notes in floats which limits were looked at, so that a margin is worked out exactly of
the one that decides alone. Whoever needs a finding or an act asks the engine.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from datetime import date
from fractions import Fraction
from typing import NamedTuple

from checker.car.car import Car
from checker.kinds.clearing.car_in_floats import CarInFloats
from checker.kinds.clearing.floats import in_float
from checker.kinds.clearing.told import Told, ToldClause
from checker.kinds.clearing.writer import Judge, judge_of
from checker.kinds.contract.check import Check
from checker.kinds.contract.writing import BINDS_NOT, OPEN
from checker.kinds.judging.assessment import NOT_APPLICABLE, Verdict
from checker.pack.model import Clause, Pack
from checker.quantities.formula.expression import Expression
from checker.reading.quick_dataclasses import replace
from checker.verdict.approvals import citations
from checker.verdict.decision import rule_for
from checker.verdict.inspection import with_those_before

_MOST_PACKS = 32
_Judges = dict[int, "Judge | None"]
_made: dict[tuple[int, int], tuple[Pack, Expression | None, _Judges]] = {}
"""By pack and swept bound, which are held so that no other takes their place: the functions of the checks, as far as
any was asked."""


class SweptBound(NamedTuple):
    """A bound of a limit that counts as another number than is written."""

    bound: Expression
    """As compiled: a constant."""
    value: Fraction
    """In base units."""


def cleared(
    pack: Pack, car: Car, on: date, audience: str, *, exact: bool = False, only: Collection[str] | None = None
) -> Mapping[str, Verdict]:
    """The outcomes of a car that floats tell, by clause; those that are not there are for `inspect_car`.

    Args:
        pack, car, on, audience, exact, only: As for `inspect_car`.
    """
    told = told_by_floats(pack, car, on, audience, exact=exact, only=only)
    return {number: one.outcome for number, one in told.items()}


def told_by_floats(
    pack: Pack,
    car: Car,
    on: date,
    audience: str,
    *,
    exact: bool = False,
    only: Collection[str] | None = None,
    swept: SweptBound | None = None,
) -> Mapping[str, ToldClause]:
    """The same with their margins.

    Args:
        pack, car, on, audience, exact, only: As for `inspect_car`.
        swept: Then outcomes alone are told: no margin.
    """
    wanted = pack.clauses if only is None else with_those_before(pack, only)
    rule = replace(rule_for(audience, pack.decision), exact=exact)
    floats = car.once((CarInFloats, rule), lambda: CarInFloats(car, rule))
    approved = citations(pack, car, floats.scene, on).grants if car.approvals else {}
    if swept is not None:
        value = in_float(swept.value)
        if value is None:
            return {}
        floats.swept = value
    judges = _judges(pack, None if swept is None else swept.bound)
    told: dict[str, ToldClause] = {}
    for number in wanted:
        noted: Told = []
        if number in approved:
            continue
        outcome = _of_clause(pack.clauses[number], floats, on, judges, noted)
        if outcome != OPEN:
            told[number] = ToldClause(outcome, noted if swept is None else None)
    _instead_of(pack, wanted, told)
    return told if only is None else {number: told[number] for number in told if number in only}


def _judges(pack: Pack, swept: Expression | None) -> Callable[[Check], Judge | None]:
    """From a check of the pack to its function."""
    key = id(pack), id(swept)
    if key not in _made:
        if len(_made) >= _MOST_PACKS:
            del _made[next(iter(_made))]
        _made[key] = (pack, swept, {})
    made = _made[key][2]

    def judge(check: Check) -> Judge | None:
        if id(check) not in made:
            made[id(check)] = judge_of(check, pack.scope, margins=swept is None, swept=swept)
        return made[id(check)]

    return judge


def _of_clause(
    clause: Clause, car: CarInFloats, on: date, judges: Callable[[Check], Judge | None], noted: Told
) -> int:
    """Its outcome as `inspect_car` tells it: by the clause's own days, then an older check for older cars."""
    if (clause.since is not None and on < clause.since) or (clause.until is not None and on > clause.until):
        return BINDS_NOT
    check: Check | None = clause.check
    for entry in clause.earlier:
        if entry.until is not None and on > entry.until:
            continue
        built = entry.by.evaluate(car.scene)
        if not isinstance(built, date):
            return OPEN
        if built < entry.before:
            check = entry.check
            break
    if check is None:
        return BINDS_NOT
    judge = judges(check)
    return OPEN if judge is None else judge(car, car.scene, noted)


def _instead_of(pack: Pack, wanted: Collection[str], told: dict[str, ToldClause]) -> None:
    """A clause that applies takes the place of those it names; where it is not told, they are not."""
    judged = {number: one.outcome for number, one in told.items()}
    for number in wanted:
        for replaced in pack.clauses[number].instead_of:
            if replaced not in wanted or (replaced in told and told[replaced].outcome == NOT_APPLICABLE):
                continue
            if number not in judged:
                told.pop(replaced, None)
            elif judged[number] != NOT_APPLICABLE:
                told[replaced] = ToldClause(BINDS_NOT, ())
