"""With how much fuel on board a check holds: the legal levels, all of them, exactly.

Along a straight line through the states of a car (fuel burnt, tyres worn) every distance of a limit is the least of
pieces that are each linear, or linear over linear, and run one way (`checker.quantities.formula.form`). So it is zero
at two places at most, and these are found from its ends inwards: three values tell a piece, its zero cuts off what
fails for certain, and the next piece takes over. Nothing is searched for and nothing is rounded. What the whole check
comes to is then asked at each zero and between any two.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from itertools import pairwise

from checker.car.scene import Scene
from checker.car.weights.states import between, state_of, states
from checker.car.weights.weights import State
from checker.kinds.contract.check import Check, Combining
from checker.kinds.frame.frame import Frame
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, PASS, Assessment, LegalFuel
from checker.kinds.judging.exact_rule import EXACTLY
from checker.quantities.intervals import Interval, Intervals, union, without
from checker.quantities.kind import Unknown, unite
from checker.reading.quick_dataclasses import dataclass

_HOLD = (PASS, NOT_APPLICABLE)
_ENDS = (Fraction(0), Fraction(1))
_HALVINGS = 64
"""How near a bend a piece may begin or end, in halvings of the way."""


@dataclass(frozen=True, slots=True)
class Along:
    """Where on the way from one state (0) to another (1) a check holds and where it fails."""

    holds: Intervals
    fails: Intervals
    unknown: Unknown
    """What is lacking for the rest of the way."""


def legal_fuel(check: Frame, scene: Scene, *, met: bool = False) -> tuple[LegalFuel, ...]:
    """With how much fuel a check holds, for every driver, tyre set and wear that its conditions ask for.

    Args:
        met: It is known to hold at every corner, so it holds throughout.
    """
    found: list[LegalFuel] = []
    for condition in check.conditions:
        if condition.fuel is None or condition.fuel[0] == condition.fuel[1]:
            continue
        by_rest: dict[State, list[State]] = {}
        for state in states(scene.car, condition):
            by_rest.setdefault(State(None, state.driver, state.tyres, state.wear), []).append(state)
        found += [_line(check, rest, line, scene, met) for rest, line in by_rest.items()]
    return tuple(found)


def _line(check: Frame, rest: State, line: list[State], scene: Scene, met: bool) -> LegalFuel:
    """One line along fuel, from state to state; with a tank of unknown size as far as the fuel it was weighed with."""
    rest = state_of(None, rest.driver, rest.tyres, rest.wear)
    missing = [state.fuel for state in line if isinstance(state.fuel, Unknown)]
    levels = [state.fuel for state in line if isinstance(state.fuel, Fraction)]
    weighed = scene.car.value("weighing.fuel")
    if missing and levels and isinstance(weighed, Fraction) and weighed > levels[-1]:
        levels.append(weighed)
    if not levels:
        return LegalFuel(rest, None, (), (), unite(missing))
    asked = Interval(min(levels), max(levels))
    if met:
        return LegalFuel(rest, asked, (asked,), (), Unknown())
    holds: list[Interval] = []
    fails: list[Interval] = []
    for low, high in pairwise(levels) if len(levels) > 1 else [(levels[0], levels[0])]:
        start, end = (state_of(fuel, rest.driver, rest.tyres, rest.wear) for fuel in (low, high))
        found = along(check, start, end, scene)
        holds += (one.mapped(low, high - low) for one in found.holds)
        fails += (one.mapped(low, high - low) for one in found.fails)
        missing.append(found.unknown)
    return LegalFuel(rest, asked, union(holds), union(fails), unite(missing))


def of_clause(check: Check | None, found: Assessment) -> Iterator[LegalFuel]:
    """What a clause asks of the fuel: the check itself, or those of its parts that must all hold."""
    if isinstance(check, Frame) and check.conditions:
        yield from found.legal_fuel
    elif isinstance(check, Frame) and check.many is not None:
        for member in found.branches:
            yield from of_clause(check.check, member)
    elif isinstance(check, Frame):
        yield from of_clause(check.check, found)
    elif check is not None and check.combines is Combining.ALL:
        for branch, judged in zip(check.branches(), found.branches, strict=False):
            yield from of_clause(branch, judged)


def in_all(lines: Iterable[LegalFuel], state: State) -> LegalFuel:
    """Several lines that must all hold as one: the levels legal in each of them."""
    lines = tuple(lines)
    known = [line.asked for line in lines if line.asked is not None]
    unknown = unite(line.unknown for line in lines)
    fails = union(one for line in lines for one in line.fails)
    if not known:
        return LegalFuel(state, None, (), fails, unknown)
    asked = Interval(min(one.low for one in known), max(one.high for one in known))
    lost = [one for line in lines if line.asked for one in without(line.asked, line.holds)]
    holds = () if len(known) < len(lines) else without(asked, lost)
    return LegalFuel(state, asked, holds, fails, unknown)


def along(check: Frame, start: State, end: State, scene: Scene) -> Along:
    """Where a check, in whatever conditions, holds on the way between two states that differ only in fuel and wear, and
    lie within one layer of the tank."""
    found: dict[Fraction, Assessment] = {}

    def at(part: Fraction) -> Assessment:
        if part not in found:
            found[part] = check.in_one_state(scene.in_state(between(start, end, part)), EXACTLY)
        return found[part]

    ends = [at(part) for part in _ENDS]
    if all(one.outcome in _HOLD for one in ends):
        return Along((Interval(*_ENDS),), (), Unknown())
    cuts = sorted({*_ENDS, *_turns(at)})
    pieces = [(Interval(part, part), at(part)) for part in cuts]
    pieces += ((Interval(a, b, False, False), at((a + b) / 2)) for a, b in pairwise(cuts))
    return Along(
        union(piece for piece, judged in pieces if judged.outcome in _HOLD),
        union(piece for piece, judged in pieces if judged.outcome == FAIL),
        unite(judged.unknown for _, judged in pieces if judged.outcome not in (*_HOLD, FAIL)),
    )


def _turns(at: Callable[[Fraction], Assessment]) -> Iterator[Fraction]:
    """Every part of the way where some distance of the check is zero."""

    def distance(part: Fraction, place: int) -> Fraction | None:
        there = list(_distances(at(part)))
        return there[place] if len(there) == number else None

    number = sum(1 for _ in _distances(at(_ENDS[0])))
    for place in range(number):
        yield from zeros(lambda part, place=place: distance(part, place))  # type: ignore[misc]


def _distances(found: Assessment) -> Iterator[Fraction]:
    """The distances of every limit in it, in an order that is the same all along the way."""
    if found.branches:
        for branch in found.branches:
            yield from _distances(branch)
    else:
        yield from found.distances


Distance = Callable[[Fraction], "Fraction | None"]


def zeros(distance: Distance) -> set[Fraction]:
    """Where, from 0 to 1, the least of several pieces that each run one way first and last is zero.

    Args:
        distance: Its value at each part of the way; None where it is not known.
    """
    found: set[Fraction] = set()
    for start, end in (_ENDS, _ENDS[::-1]):
        part: Fraction | None = start
        while part is not None:
            value = distance(part)
            if value is None or value >= 0:
                if value == 0:
                    found.add(part)
                break
            part = _zero_of_piece(distance, part, end)
    return found


def _zero_of_piece(distance: Distance, start: Fraction, end: Fraction) -> Fraction | None:
    """Where the piece that begins at `start` is zero on the way to `end`; None where it is not."""
    step = (end - start) / 4
    for _ in range(_HALVINGS):
        values = [distance(start + n * step) for n in range(4)]
        if None in values or step == 0:
            return None
        piece = _linear_over_linear(*values)  # type: ignore[arg-type]
        if piece is not None:
            a, b = piece
            steps = None if b == 0 else -a / b
            return start + steps * step if steps is not None and 0 < steps <= (end - start) / step else None
        step /= 2
    return None


def _linear_over_linear(
    first: Fraction, second: Fraction, third: Fraction, fourth: Fraction
) -> tuple[Fraction, Fraction] | None:
    """The numerator a + b x of the (a + b x) / (1 + d x) with these values at 0, 1, 2 and 3.

    None where there is none, or its divisor passes through zero: then they are not of one piece.
    """
    if second == third:
        return (first, Fraction(0)) if first == second == fourth else None
    d = (2 * second - first - third) / (2 * (third - second))
    b = second * (1 + d) - first
    return (first, b) if 1 + 3 * d > 0 and first + 3 * b == fourth * (1 + 3 * d) else None
