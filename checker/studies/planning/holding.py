"""What holds a plan back: what a kilogram of room more in a clause would buy, and where nothing works, why.

What a kilogram buys is the dual value of a clause's rows where everything could be cut to any size: the slope of the
least mass. Where no plan exists, the fewest clauses are found that cannot hold together, and the least that more
freedom would have to be.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations

from checker.car.weights.places import spot_told
from checker.quantities.kind import Unknown
from checker.reading.quick_dataclasses import dataclass
from checker.studies.planning.aims import mass
from checker.studies.planning.highs import Clock, solve
from checker.studies.planning.lists import Cap
from checker.studies.planning.model import Model
from checker.studies.planning.program import Constraint, Decided, Program, Status
from checker.studies.planning.rows import Row

_WORTH_TELLING = 1e-6


@dataclass(frozen=True, slots=True)
class Price:
    """What more room would buy."""

    group: str
    """As "clause 3.1", "place left box" or "shelf P1"."""
    kg: float
    """By how many kg the car could be lighter for one kg of room more (one piece more for a shelf)."""


def prices(model: Model, clock: Clock) -> tuple[Price, ...]:
    """What holds the car back from being lighter, the dearest first; none where nothing holds it.

    A clause's rows in all its states get the same room.
    """
    program = model.program.relaxed()
    found = solve(program, mass(model), clock)
    if found.status is not Status.OPTIMAL:
        return ()
    by_group: dict[str, float] = {}
    for constraint, dual in zip(program.constraints, found.duals, strict=True):
        if constraint.group not in ("aim", "stock"):
            by_group[constraint.group] = by_group.get(constraint.group, 0.0) + abs(dual)
    worth = [Price(group, kg) for group, kg in by_group.items() if kg > _WORTH_TELLING]
    return tuple(sorted(worth, key=lambda price: -price.kg))


def conflict(model: Model, clock: Clock) -> tuple[str, ...]:
    """The fewest groups that cannot hold together; () where they can, or the time was up before that was known.

    Clauses, where what may be done does not contradict itself; else places, pieces and things.
    """
    clauses = [group for group in model.groups if group.startswith("clause ")]
    if not _is_infeasible(model.program, clock):
        return ()
    if _is_infeasible(bare := model.without(*clauses), clock):
        return _fewest(bare, [group for group in model.groups if group not in clauses], clock)
    return _fewest(model.program, clauses, clock)


def _is_infeasible(program: Program, clock: Clock) -> bool:
    return solve(program, {}, clock).status is Status.INFEASIBLE


def _fewest(program: Program, groups: Sequence[str], clock: Clock) -> tuple[str, ...]:
    """Of these groups the fewest that cannot be met together, beside all others (by hitting sets).

    Whatever can be met leaves some groups unmet, and what cannot hold together has one at least of these in it. So the
    fewest that have one of each such set are tried, until nothing meets them.
    """
    unmet: list[set[str]] = []
    while True:
        tried = _hitting(groups, unmet)
        kept = tuple(one for one in program.constraints if one.group not in groups or one.group in tried)
        found = solve(Program(program.columns, kept), {}, clock)
        if found.status is Status.INFEASIBLE:
            return tried
        left = {
            one.group for one in program.constraints if one.group in groups and not one.holds(found.values)
        }
        if not found.values or not left - set(tried):
            return ()
        unmet.append(left)


def _hitting(groups: Sequence[str], sets: Sequence[set[str]]) -> tuple[str, ...]:
    """The fewest of the groups, the first of them where there are several, that have one of each set."""
    for number in range(len(groups)):
        for tried in combinations(groups, number):
            if all(one.intersection(tried) for one in sets):
                return tried
    return tuple(groups)


@dataclass(frozen=True, slots=True)
class More:
    """The least further ballast that would make the car legal beside all that may be done."""

    kg: float
    places: tuple[tuple[str, float], ...]
    """How much of it at each declared place; () where it sits at `along` and `across`."""
    along_mm: float = 0.0
    """Behind the front axle: where all of it acts."""
    across_mm: float = 0.0
    """Left of the car's centre line."""
    off: Off | None = None
    """What would have to come off beside it."""
    tried: bool = False
    """A car with it, rounded up to 0.1 kg, was planned and judged; what comes off is reckoned only."""


@dataclass(frozen=True, slots=True)
class Off:
    """How much of the car itself would have to come off, beyond what may, and where all of it acts."""

    kg: float
    along_mm: float
    across_mm: float


def more_that_would_do(model: Model, clock: Clock, caps: Sequence[Cap] = ()) -> More | None:
    """The least more: at the declared places beyond what they may carry, or else anywhere between the wheels.

    Args:
        caps: Of clauses on all ballast: what each has left, and what a kilogram does to that.
    """
    named = [place.name for place in model.planning.places]
    at_places = _extra(model, _at_places(model), clock, caps)
    if at_places is not None:
        told = tuple((name, kg) for name, kg in zip(named, at_places, strict=True) if kg > _WORTH_TELLING)
        return More(sum(at_places), told)
    corners = list(_corners(model))
    spots = [loads for *_, loads in corners]
    anywhere = _extra(model, spots, clock, caps) if corners else None
    if anywhere is not None:
        return More(sum(anywhere), (), *_middle(corners, anywhere))
    both = _extra(model, [*spots, *((*one, -1.0) for one in spots)], clock, caps) if corners else None
    if both is None:
        return None
    on, off = both[: len(corners)], both[len(corners) :]
    return More(sum(on), (), *_middle(corners, on), off=Off(sum(off), *_middle(corners, off)))


def _middle(corners: Sequence[tuple[float, float, _Shares]], parts: Sequence[float]) -> tuple[float, float]:
    """Where several masses act together."""
    kg = sum(parts)
    along = sum(x * part for (x, _, _), part in zip(corners, parts, strict=True)) / kg if kg else 0.0
    across = sum(y * part for (_, y, _), part in zip(corners, parts, strict=True)) / kg if kg else 0.0
    return along, across


_Shares = tuple[float, ...]
"""The parts of a mass that fall on the rear axle and on the left side; -1 behind them for a mass that comes off."""


def _at_places(model: Model) -> list[_Shares]:
    """Of each declared place; none where the levers are not known."""
    shares = [model.car.geometry.shares(spot_told(place.fields)) for place in model.planning.places]
    return [
        (float(rear), float(left))
        for rear, left in shares
        if not isinstance(rear, Unknown) and not isinstance(left, Unknown)
    ]


def _corners(model: Model) -> Iterator[tuple[float, float, _Shares]]:
    """The four contact centres: what sits between them is a mean of them."""
    geometry = model.car.geometry
    base, tracks = geometry.wheelbase, geometry.tracks
    if isinstance(base, Unknown) or any(isinstance(track, Unknown) for track in tracks.values()):
        return
    for rear, axle in enumerate(("front", "rear")):
        track = tracks[axle]
        assert not isinstance(track, Unknown)
        for left, side in ((1, 1), (0, -1)):
            yield float(rear * base), float(side * track / 2), (float(rear), float(left))


def _extra(model: Model, spots: Sequence[_Shares], clock: Clock, caps: Sequence[Cap]) -> list[float] | None:
    """The least kg of further ballast at these spots; None where none is enough."""
    if not spots:
        return None
    program = model.program
    first = len(program.columns)
    columns = (*program.columns, *(Decided("more", 0, 500, whole=False) for _ in spots))
    constraints = [_with_more(model, one, spots, first) for one in program.constraints]
    of_options = {cap.clause: cap.gains for cap in model.caps}
    for cap in caps:
        gains = of_options.get(cap.clause, {})
        terms = {at: float(gains[o]) for at, o in enumerate(model.options) if o in gains}
        (by,) = cap.gains.values()
        terms |= {first + n: float(by) for n, spot in enumerate(spots) if len(spot) == 2}
        constraints.append(Constraint(f"clause {cap.clause}", terms, -float(cap.now)))
    found = solve(Program(columns, tuple(constraints)), {first + n: 1.0 for n in range(len(spots))}, clock)
    return list(found.values[first:]) if found.values else None


def _with_more(model: Model, one: Constraint, spots: Sequence[_Shares], first: int) -> Constraint:
    if one.number < 0:
        return one
    needed = model.rows[one.number].needed
    terms = dict(one.terms)
    for n, (rear, left, *off) in enumerate(spots):
        gain = float(needed.total) + float(needed.rear) * rear + float(needed.left) * left
        terms[first + n] = -gain if off else gain
    return Constraint(one.group, terms, one.low, one.high, one.number)


@dataclass(frozen=True, slots=True)
class Unresolvable:
    """A window between two limits that is narrower than what the gear leaves open: no car is shown to be in it."""

    clause: str
    window: Fraction
    guard: Fraction
    """What is left open to each side, in the unit of the window."""


def unresolvable(rows: Sequence[Row]) -> tuple[Unresolvable, ...]:
    """Clauses whose window the gear cannot resolve."""
    found: dict[str, Unresolvable] = {}
    by_state: dict[tuple[str, object], list[Row]] = {}
    for row in rows:
        by_state.setdefault((row.clause, row.state), []).append(row)
    for (clause, _), both in by_state.items():
        if len(both) != 2:
            continue
        low, high = both
        opposite = low.value.total * high.value.total + low.value.rear * high.value.rear < 0 or (
            low.value.left * high.value.left < 0
        )
        window = low.value.now / low.divisor.now + high.value.now / high.divisor.now
        guard = max(low.guard, high.guard)
        if opposite and window < 2 * guard:
            found.setdefault(clause, Unresolvable(clause, window, guard))
    return tuple(found.values())
