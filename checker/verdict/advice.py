"""Advice that holds: what is told to be done is done on the car as data, and the car is judged again.

An act from a check knows one state and the guard there. Another state may need more, a guard may grow with the load,
and where limits lie on both sides, what cures the one may break the other. So each act is tried: its amount grows until
the clause is met, and where it can never be, that is told with by how much. The amounts that suffice are an interval
along every axis, for a margin is monotone in what is added or moved.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from fractions import Fraction

from checker.car.car import Car
from checker.car.errors.cures import How, Remedy
from checker.car.gear.pad_doubts import PadsDiffer
from checker.kinds.contract.check import uses
from checker.kinds.judging.acts import Act, Acts, Advice, Do, Room, Untried, all_of
from checker.kinds.judging.assessment import FAIL, PASS, TOO_CLOSE, Assessment
from checker.pack.model import Pack
from checker.quantities.amount import Amount
from checker.quantities.dimension import MASS
from checker.quantities.units import parse_unit
from checker.reading.quick_dataclasses import replace
from checker.verdict.axes import OPPOSITE, Axis, axis_of
from checker.verdict.deeds import deed_of, materials_tried, why_untried, with_entry
from checker.verdict.inspection import Inspection, Outcome, Together, inspect_car
from checker.verdict.search import BEYOND, AmountRange, Search, acts_of

_KG = parse_unit("kg", None)
BALLAST = "ballast.mass"
_SMALL_KG = Fraction(1, 1000)
"""So little that no piece is the lightest or heaviest because of it, and no bound is stepped over."""


def advised(inspection: Inspection, only: Collection[str] | None = None) -> Inspection:
    """The inspection with every act tried on the car, and with what makes all clauses on weights pass together.

    Args:
        only: Numbers of the clauses to try alone, nothing together; None: all.
    """
    broken = [
        o
        for o in inspection.outcomes
        if o.outcome in (FAIL, TOO_CLOSE) and o.assessment.act and (only is None or o.clause.number in only)
    ]
    if not broken:
        return inspection
    first = _asked_first(inspection.car)
    wait = {o.clause.number for o in broken if first is not None and o.on_weights}
    tried = {
        o.clause.number: _waiting(o, first) if first and o.clause.number in wait else _tried(inspection, o)
        for o in broken
    }
    outcomes = tuple(tried.get(o.clause.number, o) for o in inspection.outcomes)
    together = _together(inspection, broken) if only is None and not wait else None
    return replace(inspection, outcomes=outcomes, together=together)


def looked_at(pack: Pack, numbers: Collection[str]) -> list[str]:
    """These clauses and the others that must have been judged for what `advised` tells of them: those on ballast."""
    on_ballast = (number for number, clause in pack.clauses.items() if BALLAST in clause.judged_by)
    return list(dict.fromkeys((*numbers, *on_ballast)))


def _asked_first(car: Car) -> Act | None:
    """To correct a reading that was perhaps typed wrong: until that is settled no weight is worth moving."""
    reasons = [doubt.reason for doubt in car.pad_doubts]
    asked = next((one.asked for one in reasons if isinstance(one, PadsDiffer) and one.asked), None)
    if asked is None:
        return None
    return Act(Do.MEASURE, remedy=Remedy(How.CORRECT_READING, times=asked.reading), untried=Untried.READINGS)


def _waiting(outcome: Outcome, first: Act) -> Outcome:
    """The outcome with what is to be done first in place of all else."""
    tried = {_of_any(act): first for act in acts_of(outcome.assessment.act)}
    whole = replace(outcome.assessment, act=first)
    return replace(outcome, assessment=replace(whole, branches=_branches_tried(whole, tried)))


def _tried(inspection: Inspection, outcome: Outcome) -> Outcome:
    advice = outcome.assessment.act
    assert advice is not None
    act = _trial(inspection, outcome.clause.number, advice)
    tried = dict(zip(map(_of_any, acts_of(advice)), acts_of(act), strict=True))
    each_once = all_of([act]) if isinstance(act, Acts) and not act.any_one else act
    whole = replace(outcome.assessment, act=each_once)
    return replace(outcome, assessment=replace(whole, branches=_branches_tried(whole, tried)))


def _branches_tried(found: Assessment, tried: Mapping[Act, Act]) -> tuple[Assessment, ...]:
    """The parts of a clause with what they ask for as it was tried for the whole of it."""
    return tuple(
        replace(one, act=one.act and _exchanged(one.act, tried), branches=_branches_tried(one, tried))
        for one in found.branches
    )


def _exchanged(advice: Advice, tried: Mapping[Act, Act]) -> Advice:
    if isinstance(advice, Acts):
        return replace(advice, acts=tuple(_exchanged(one, tried) for one in advice.acts))
    known = tried.get(_of_any(advice))
    return advice if known is None else replace(known, item=advice.item)


def _of_any(act: Act) -> Act:
    """An act whatever entry is named with it."""
    return replace(act, item="")


def _trial(inspection: Inspection, number: str, advice: Advice) -> Advice:
    if isinstance(advice, Acts) and advice.any_one:
        return replace(advice, acts=tuple(_trial(inspection, number, one) for one in advice.acts))
    acts = list(acts_of(advice))
    if len(acts) == 1 and acts[0].summed is not None and acts[0].amount is not None:
        return _of_a_sum(inspection, number, acts[0]) or _untried(advice, inspection.car)
    axes = frozenset(axis for act in acts if (axis := axis_of(act, inspection.car)) is not None)
    for material in materials_tried(acts, inspection.car):
        car = inspection.car
        for act in acts:
            deed = deed_of(act, car, material)
            if deed is not None:
                car = deed(car)
            elif axis_of(act, car) is None:
                return _untried(advice, inspection.car)
        search = Search(replace(inspection, car=car), (number,), axes)
        search.learn(acts)
        search.run()
        if search.passes:
            break
    return _with_amounts(advice, search, inspection.car)


_TRIED_OF_A_SUM = 8
"""Of how many entries is tried whether they count in a sum, at most."""


def _of_a_sum(inspection: Inspection, number: str, act: Act) -> Act | None:
    """The act, tried on one entry after the other, the greatest first, till one counts; None where none does."""
    assert act.summed is not None
    list_name, name = act.summed
    counted = [e for e in inspection.car.every_entry(list_name) if isinstance(e.value(name), Fraction)]
    for entry in sorted(counted, key=lambda e: -e.value(name) * e.standing)[:_TRIED_OF_A_SUM]:
        tried = _trial(inspection, number, replace(act, target=(list_name, entry.path, name), summed=None))
        if isinstance(tried, Act) and (tried.enough or tried.untried is Untried.OPEN):
            return replace(tried, target=(), summed=act.summed)
    return None


def _untried(advice: Advice, car: Car) -> Advice:
    """The same, with why it was not tried."""
    if isinstance(advice, Acts):
        return replace(advice, acts=tuple(_untried(one, car) for one in advice.acts))
    can = axis_of(advice, car) is not None or deed_of(advice, car) is not None
    return replace(advice, untried=Untried.BESIDE if can else why_untried(advice))


def _with_amounts(advice: Advice, search: Search, car: Car) -> Advice:
    if isinstance(advice, Acts):
        return replace(advice, acts=tuple(_with_amounts(one, search, car) for one in advice.acts))
    axis = axis_of(advice, car)
    if axis is None:
        return _found(advice, search)
    assert advice.amount is not None
    gap = search.gap(axis)
    if gap is not None:
        return replace(advice, do=Do.NOTHING_HELPS, amount=replace(advice.amount, value=gap), enough=False)
    if not search.passes:
        return replace(advice, enough=False)
    least, most = search.found[axis].least, search.found[axis].most
    asked = Fraction(advice.amount.value)
    if advice.more and least - asked <= 2 * BEYOND * max(least, Fraction(1)):
        least = asked
    at_most = None if most is None else replace(advice.amount, value=most)
    act = _found(replace(advice, amount=replace(advice.amount, value=least), most=at_most), search)
    return replace(act, short_of=_short_of(act, search.inspection))


def _found(act: Act, search: Search) -> Act:
    """An act with whether it is enough; open where the clause is not shown then."""
    if search.passes and search.open:
        return replace(act, untried=Untried.OPEN)
    return replace(act, enough=search.passes)


def _short_of(act: Act, inspection: Inspection) -> tuple[Room, ...]:
    """Clauses on the sum of ballast that leave less room than an act adds.

    A clause on each piece leaves no room that can be told: the same weight in one more piece may be within it. So one
    small piece is added as data, and only where the margin falls by all of its mass does it count.
    """
    if act.do is not Do.ADD or act.target or act.amount is None:
        return ()
    tight = [
        o
        for o in inspection.outcomes
        if o.outcome == PASS
        and o.check is not None
        and BALLAST in uses(o.check)
        and o.assessment.margin is not None
        and o.assessment.margin.kind.dimension == MASS
        and o.assessment.bounds[0].sense.is_upper
        and o.assessment.margin.value < act.amount.value
    ]
    if not tight:
        return ()
    car = with_entry(inspection.car, "ballast", "mass", _SMALL_KG)
    numbers = [o.clause.number for o in tight]
    fuller = inspect_car(inspection.pack, car, inspection.on, inspection.audience, only=numbers).outcomes
    left = {o.clause.number: o.assessment.margin_value for o in fuller}
    return tuple(
        Room(o.clause.number, margin)
        for o in tight
        if (margin := o.assessment.margin) is not None and left[o.clause.number] == margin.value - _SMALL_KG
    )


# --- all clauses on weights at once ---------------------------------------------------------------------------


def _together(inspection: Inspection, broken: Sequence[Outcome]) -> Together | None:
    """What makes every clause on weights pass; None where no more than one clause asks for anything."""
    on_weights = [o for o in inspection.outcomes if o.on_weights]
    asking = [o for o in broken if o in on_weights]
    if not asking:
        return None
    numbers = tuple(o.clause.number for o in on_weights if o.counts)
    search = Search(inspection, numbers, None)
    search.learn([act for o in asking for act in acts_of(o.assessment.act)])
    if not search.found:
        return None
    search.run()
    if len(asking) == 1 and len(search.found) == 1 and search.passes:
        return None
    along = (_act_along(axis, one) for axis, one in search.found.items() if one.least)
    acts = tuple(replace(act, short_of=_short_of(act, inspection)) for act in along)
    told = acts if search.passes else ()
    return Together(search.passes, told, tuple(o.clause.number for o in asking), search.open)


def _act_along(axis: Axis, one: AmountRange) -> Act:
    amount = Amount(one.least, _KG.kind, _KG)
    if axis[0] == "move":
        ends = (OPPOSITE[axis[1]], axis[1])
        start, end = ends if one.rises else reversed(ends)
        return Act(Do.MOVE, amount=amount, start=start, end=end, enough=True)
    place = "" if axis[1] == "total" else axis[1].replace("_", " ")
    return Act(Do.ADD if one.rises else Do.REMOVE, amount=amount, end=place, enough=True)
