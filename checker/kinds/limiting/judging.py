"""Judging a limit: the value against each bound, with what its gear resolves."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.car.scene import Scene
from checker.kinds.judging.acts import Act
from checker.kinds.judging.assessment import (
    FAIL,
    NO_LIMIT,
    NOT_SHOWN,
    PASS,
    Amount,
    Assessment,
    Bound,
    DecisionRule,
    HowKnown,
    Working,
    not_shown,
)
from checker.kinds.judging.bounds import LOWER, Side, distances_before_rounding, no_limit, sides
from checker.kinds.judging.breach import act_on, called, change_beyond, change_from, change_to
from checker.kinds.judging.exact_rule import EXACTLY
from checker.kinds.judging.findings import AgainstBound, Equal, Found, Offends, Unlimited
from checker.kinds.judging.ranking import all_hold
from checker.kinds.judging.reasons import NotJudged
from checker.kinds.judging.shown_units import margin_unit
from checker.kinds.judging.spread import guard_band, unresolved
from checker.kinds.limiting.limited import Limited
from checker.kinds.limiting.spreads import Spreads
from checker.quantities.formula.families import is_declared, same_word
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import NUMBER, Kind, Unknown, unite
from checker.quantities.rounding import round_to
from checker.quantities.sense import Sense
from checker.quantities.units import Unit, difference_kind
from checker.reading.quick_dataclasses import replace


def assess(limited: Limited, scene: Scene, rule: DecisionRule) -> Assessment:
    """Judge the value, or each of several values where the worst counts."""
    if limited.of_several == "worst" and limited.limit.kind.name != "list":
        times = scene.car.weighings
        if times > 1:
            return all_hold([judged_against(limited, scene.at_weighing(n), rule, None) for n in range(times)])
    elif limited.of_several:
        values = limited.limit.evaluate(scene)
        if isinstance(values, Unknown):
            return not_shown(values, workings=limited.workings(scene))
        if not values:
            empty = Unknown.because(NotJudged.EMPTY_LIST, called(limited.limit))
            return not_shown(empty, workings=limited.workings(scene))
        if limited.of_several == "worst":
            found = [judged_against(limited, scene, rule, at) for at in range(len(values))]
            distances = tuple(distance for one in found for distance in one.distances)
            return replace(all_hold(found), branches=(), distances=distances)
    return judged_against(limited, scene, rule, None)


def clear_margin(limited: Limited, scene: Scene, rule: DecisionRule) -> Fraction | None:
    """The least margin of a single value, where each is plainly beyond its guard band; else None."""
    held = _held(limited, scene)
    if len(held) != 1 or limited.limit.kind.name == "list":
        return None
    measured = held[0][1]
    spreads = Spreads(limited, measured, scene, rule, None)
    margins = [side.margin for side in measured if side.margin and spreads.is_beyond_guard(side.margin)]
    return min(margins) if len(margins) == len(measured) else None


def _held(limited: Limited, scene: Scene) -> list[tuple[Fraction, list[Side]]]:
    """Each value that counts, held against each bound; nothing where values are rounded, or one is not known."""
    several = limited.of_several and limited.limit.kind.name == "list"
    if limited.of_several and (limited.of_several != "worst" if several else scene.car.weighings > 1):
        return []
    if limited.rounding is not None or not limited.value_kind.is_measure or limited.irrational:
        return []
    value = limited.limit.evaluate(scene)
    tolerance = Fraction(0) if limited.tolerance is None else limited.tolerance.evaluate(scene)
    if isinstance(value, Unknown) or isinstance(tolerance, Unknown):
        return []
    values = value if several else (value,)
    return [(one, sides(limited.bounds, one, limited.value_kind, tolerance, scene)) for one in values]


def measured(limited: Limited, scene: Scene) -> Assessment:
    """The outcome, value, bounds, margin and size that `assess` tells, with every value exact."""
    held = _held(limited, scene)
    if not held or any(side.margin is None for _, every in held for side in every):
        return assess(limited, scene, EXACTLY)
    by_value = ([_measured(limited, value, side, scene) for side in every] for value, every in held)
    found = [one[0] if len(one) == 1 else _of_one_value(one) for one in by_value]
    return found[0] if len(found) == 1 else all_hold(found)


def _of_one_value(found: list[Assessment]) -> Assessment:
    """Held to several bounds; the one that it is nearest to stands first."""
    whole = all_hold(found)
    ordered = sorted((b for one in found for b in one.bounds), key=lambda b: b not in whole.bounds)
    return replace(whole, branches=(), bounds=tuple(ordered))


def _measured(limited: Limited, value: Fraction, side: Side, scene: Scene) -> Assessment:
    margin, kind = side.margin or Fraction(0), limited.value_kind
    unit = margin_unit(kind, limited.limit, limited.bounds, side.sense, scene)
    return Assessment(
        EXACTLY.decide(margin, Fraction(0), side.inclusive),
        Amount(value, kind, unit),
        (Bound(side.sense, Amount(side.bound, kind, unit)),),
        Amount(margin, margin_kind(kind), unit.step if unit is not None else None),
        size=side.size if side.size else (unit.factor if unit else Fraction(1)),
        met_by_nature=not side.tells,
    )


def judged_against(limited: Limited, scene: Scene, rule: DecisionRule, given: int | None) -> Assessment:
    """Judge one value: of several that at `given`, or their mean."""
    value = limited.value(scene, given)
    workings = limited.workings(scene)
    if isinstance(value, Unknown):
        if no_limit(limited.bounds, scene):
            return replace(NO_LIMIT, workings=workings)
        return not_shown(unite([value, *_lacking(limited, scene)]), workings=workings)
    kind = limited.value_kind
    if not (kind.is_measure or kind.name in ("date", "grade")):
        return _assess_equal(limited, value, kind, scene, workings)
    tolerance = Fraction(0) if limited.tolerance is None else limited.tolerance.evaluate(scene)
    if isinstance(tolerance, Unknown):
        return not_shown(tolerance, workings=workings)
    if limited.rounding is None:
        measured = sides(limited.bounds, value, kind, tolerance, scene)
        distances = tuple(side.margin for side in measured if side.margin is not None)
        return _judge(limited, value, measured, scene, rule, workings, given, distances)
    step, mode = limited.rounding[0].evaluate(scene), limited.rounding[1]
    if isinstance(step, Fraction) and step <= 0:
        step = Unknown.because(NotJudged.NO_STEP)
    if isinstance(step, Unknown):
        return not_shown(step, workings=workings)
    rounded = round_to(value, step, mode)
    measured = sides(limited.bounds, rounded, kind, tolerance, scene)
    turns = (d for side in measured for d in distances_before_rounding(side, value, rounded, step, mode))
    return _judge(limited, rounded, measured, scene, rule, workings, given, tuple(turns))


def _lacking(limited: Limited, scene: Scene) -> Iterator[Unknown]:
    """What is not known of all that a value is held to."""
    for _, expression in limited.expressions():
        if expression is not limited.limit and isinstance(found := expression.evaluate(scene), Unknown):
            yield found


def _judge(
    limited: Limited,
    value: object,
    measured: list[Side],
    scene: Scene,
    rule: DecisionRule,
    workings: tuple[Working, ...],
    given: int | None,
    distances: tuple[Fraction, ...],
) -> Assessment:
    kind, what = limited.value_kind, called(limited.limit)
    spreads = Spreads(limited, measured, scene, rule, given)

    def against(side: Side) -> Assessment:
        unit = margin_unit(kind, limited.limit, limited.bounds, side.sense, scene)
        shown = Amount(value, kind, unit if kind.is_measure else None)
        if side.unknown is not None:
            return not_shown(side.unknown, value=shown, workings=workings)
        bound = Bound(side.sense, None if side.bound is None else Amount(side.bound, kind, shown.unit))
        if side.margin is None:
            return Assessment(PASS, shown, (bound,), finding=Unlimited(what), workings=workings)
        margin = _settled(limited, side.margin, value)
        guard_squared = spreads.guard_squared(side.direction, margin)
        if isinstance(guard_squared, Unknown):
            return not_shown(guard_squared, value=shown, workings=workings)
        outcome, known = rule.decide(margin, guard_squared, side.inclusive), spreads.known(side.direction)
        amount = Amount(margin, margin_kind(kind), unit.step if unit is not None else None)
        resolved = (outcome != PASS or margin >= 0) and (outcome != FAIL or margin <= 0)
        return Assessment(
            outcome,
            shown,
            (bound,),
            amount,
            size=side.size if side.size else (unit.factor if unit else Fraction(1)),
            met_by_nature=not side.tells,
            known=known,
            act=None if outcome == PASS else _act(limited, side, margin, unit, scene, known),
            finding=AgainstBound(what, shown, bound, amount, side.direction != LOWER, resolved),
            workings=workings,
            distances=distances,
        )

    held = [against(side) for side in measured]
    if len(held) == 1 and held[0].distances == distances and held[0].outcome != NOT_SHOWN:
        return held[0]
    return replace(_of_one_value(held), distances=distances)


def _settled(limited: Limited, margin: Fraction, value: object) -> Fraction:
    """Differences below 10^-25 of a value made with roots or angles count as none."""
    if not limited.irrational or not isinstance(value, Fraction):
        return margin
    return Fraction(0) if abs(margin) < abs(value) / 10**25 else margin


def _assess_equal(
    limited: Limited, value: object, kind: Kind, scene: Scene, workings: tuple[Working, ...]
) -> Assessment:
    """Words, truths and lists: equal or not."""
    expression = limited.bounds[0].expression
    wanted = expression.evaluate(scene)
    if isinstance(wanted, NoLimit):
        return replace(NO_LIMIT, value=Amount(value, kind), workings=workings)
    if isinstance(wanted, Unknown):
        return not_shown(wanted, workings=workings)
    sense = limited.bounds[0].sense
    banned = sense is Sense.OTHER_THAN
    element = expression.kind.element or expression.kind
    same = _same(value, wanted, limited, is_declared(element, expression.constant))
    if isinstance(same, Unknown):
        return not_shown(same, value=Amount(value, kind), workings=workings)
    met = same != banned
    what, shown, bound = called(limited.limit), Amount(value, kind), Bound(sense, Amount(wanted, kind))
    act: Act | None = None
    finding: Found = Equal(what, shown, Amount(wanted, kind), met)
    if not met and banned:
        word = str(value).lower() if isinstance(value, bool) else str(value)
        act, finding = change_from(what, wanted, kind), Offends(word, what)
    elif not met:
        act = change_to(limited.limit, wanted, kind, scene)
    return Assessment(
        PASS if met else FAIL,
        shown,
        (bound,),
        Amount(Fraction(0 if met else -1), NUMBER),
        met_by_nature=True,
        act=act,
        finding=finding,
        workings=workings,
    )


def _act(
    limited: Limited, side: Side, margin: Fraction, unit: Unit | None, scene: Scene, known: HowKnown
) -> Act:
    kind = limited.value_kind
    raise_it = side.direction == LOWER
    if side.sense is Sense.OTHER_THAN:
        return change_from(called(limited.limit), side.bound, kind, unit)
    if kind.name == "date" and side.sense is Sense.EXACTLY:
        return change_to(limited.limit, side.bound, kind, scene)
    if kind.name in ("date", "grade"):
        return change_beyond(limited.limit, side.bound, kind, raise_it, scene)
    spread = known.spread()
    short = -margin + (guard_band(spread) if spread else 0)
    more = spread is None and not side.inclusive
    step = unit.step if unit is not None else None
    act = act_on(limited.limit, short, raise_it, scene, step, more=more)
    if spread is None:
        return act
    return replace(act, unresolved=replace(unresolved(spread, margin), whole=not known.taken_as_exact()))


def margin_kind(kind: Kind) -> Kind:
    """What a margin is, by the kind of the value: days for days, steps for grades, a count for words."""
    kind = difference_kind(kind)
    return kind if kind.is_measure else NUMBER


def _same(value: object, wanted: object, limited: Limited, declared: bool) -> bool | Unknown:
    """Whether two words, truths or lists are one; `declared`: the second may be vague too."""
    if isinstance(value, str) and isinstance(wanted, str):
        return same_word((value, wanted), (limited.tree, limited.tree), (True, declared))
    if not isinstance(value, tuple) or not isinstance(wanted, tuple):
        return value == wanted
    if len(value) != len(wanted):
        return False
    pairs = [_same(one, other, limited, declared) for one, other in zip(value, wanted, strict=True)]
    doubts = [one for one in pairs if isinstance(one, Unknown)]
    return unite(doubts) if doubts and False not in pairs else False not in pairs
