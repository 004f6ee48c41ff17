"""Legal levels of fuel against intervals worked out here by moments alone: no state, lever or root of the program's.

The fuel's moment runs straight from level to level of the tank; total, side and axle are straight lines between them, so
each bound is met on one side of one root a layer.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.intervals import Interval
from tests.examples import examples
from tests.kinds.workbench import judge

LITRE = 10**6
MORE = "{course: anticlockwise, conditions: {burning: {fuel: unusable to full}}}"
TRACK_MM, BASE_MM = 1500, 2200

Bound = tuple[str, str, Fraction]
"""What is held, by which word, to how much (kg, %)."""
Case = tuple[list[Bound], dict[str, Any]]


def number(value: Fraction) -> str:
    return f"{float(value):.4f}"


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """A tank of one to three layers, a car on it, and one to three bounds near what the car weighs."""

    def tenths(low: int, high: int) -> Fraction:
        return Fraction(draw(st.integers(low, high)), 10)

    steps = [tenths(20, 120) for _ in range(draw(st.integers(1, 3)))]
    levels = [sum(steps[: n + 1], Fraction(0)) for n in range(len(steps))]
    table = [(level, 10 * tenths(0, 2500), 10 * tenths(-700, 700)) for level in levels]
    loads = [tenths(1200, 1800) for _ in range(4)]
    tank: dict[str, Any] = {
        "table": table,
        "loads": loads,
        "density": Fraction(draw(st.integers(700, 800)), 1000),
        "least": draw(st.sampled_from([Fraction(0), Fraction(1, 2)])),
        "weighed": draw(st.sampled_from([Fraction(0), levels[0], levels[-1]]) | st.just(Fraction(1))),
    }
    tank["weighed"] = min(tank["weighed"], levels[-1])
    bounds = []
    for _ in range(draw(st.integers(1, 3))):
        held = draw(st.sampled_from(["total", "left", "rear"]))
        word = draw(st.sampled_from(["at_least", "above", "at_most", "below"]))
        near = by_hand(tank, held)(draw(st.sampled_from(levels)) * Fraction(draw(st.integers(0, 10)), 10))
        nudge = draw(st.sampled_from([Fraction(0), tenths(-40, 40) / (1 if held == "total" else 20)]))
        bounds.append((held, word, Fraction(number(near + nudge))))
    return bounds, tank


def by_hand(tank: dict[str, Any], held: str) -> Callable[[Fraction], Fraction]:
    """The total in kg, or the share of the left or the rear in percent, by litres on board."""
    front_left, _, rear_left, rear_right = tank["loads"]
    total, left, rear = sum(tank["loads"]), front_left + rear_left, rear_left + rear_right
    points = [(Fraction(0), Fraction(0), Fraction(0))]
    points += [(level, level * back, level * across) for level, back, across in tank["table"]]

    def moment(litres: Fraction, place: int) -> Fraction:
        for low, high in pairwise(points):
            if litres <= high[0]:
                return low[place] + (litres - low[0]) / (high[0] - low[0]) * (high[place] - low[place])
        raise AssertionError("more than the tank takes")

    def gained(litres: Fraction) -> tuple[Fraction, Fraction, Fraction]:
        now, then = litres, tank["weighed"]
        along, across = (moment(now, place) - moment(then, place) for place in (1, 2))
        kg = tank["density"]
        return kg * (now - then), kg * ((now - then) / 2 + across / TRACK_MM), kg * along / BASE_MM

    def value(litres: Fraction) -> Fraction:
        more, more_left, more_rear = gained(litres)
        if held == "total":
            return Fraction(total + more)
        part = left + more_left if held == "left" else rear + more_rear
        return Fraction(100 * part / (total + more))

    return value


def own_intervals(bounds: list[Bound], tank: dict[str, Any]) -> tuple[list[Interval], list[Interval]]:
    """Where all bounds are met, and where one is not."""
    least, most = tank["least"], tank["table"][-1][0]
    corners = sorted({least, most, *(level for level, *_ in tank["table"] if least < level < most)})
    ends = set(corners)
    for held, _, bound in bounds:
        value, total = by_hand(tank, held), by_hand(tank, "total")

        def over(litres: Fraction) -> Fraction:
            """How far it lies above the bound, times the total for a share: straight between two levels."""
            return (value(litres) - bound) * (1 if held == "total" else total(litres))  # noqa: B023 (used at once)

        for low, high in pairwise(corners):
            a, b = over(low), over(high)
            if a != b and low <= (root := low + (high - low) * a / (a - b)) <= high:
                ends.add(root)
    met = {
        "at_least": lambda v, b: v >= b, "above": lambda v, b: v > b,
        "at_most": lambda v, b: v <= b, "below": lambda v, b: v < b,
    }  # fmt: skip

    def legal(litres: Fraction) -> bool:
        return all(met[word](by_hand(tank, held)(litres), bound) for held, word, bound in bounds)

    found: dict[bool, list[Interval]] = {True: [], False: []}
    levels = sorted(ends)
    pieces: list[tuple[Fraction, Fraction, bool]] = [(levels[0], levels[0], legal(levels[0]))]
    for low, high in pairwise(levels):
        pieces += [(low, high, legal((low + high) / 2)), (high, high, legal(high))]
    for at, (low, high, is_met) in enumerate(pieces):
        if at and pieces[at - 1][2] is is_met:
            continue
        last = next((n for n in range(at, len(pieces)) if pieces[n][2] is not is_met), len(pieces)) - 1
        inside = [low == high, pieces[last][0] == pieces[last][1]]
        found[is_met].append(Interval(low * LITRE, pieces[last][1] * LITRE, *inside))
    return found[True], found[False]


def told(bounds: list[Bound], tank: dict[str, Any]) -> tuple[list[Interval], list[Interval]]:
    names = {"total": "weight.total", "left": "percentage.left", "rear": "percentage.rear"}
    checks = [
        f"{{limit: {names[h]}, {w}: {number(b)} {'kg' if h == 'total' else '%'}}}" for h, w, b in bounds
    ]
    wheels = ("front_left", "front_right", "rear_left", "rear_right")
    tyre = {"mass": "15 kg", "section": "200 mm"}
    car = {
        "weighing": {
            "fuel": f"{number(tank['weighed'])} L", "driver": "out", "tyres": "dry", "wear": "new",
            "readings": [{w: f"{number(kg)} kg" for w, kg in zip(wheels, tank["loads"], strict=True)}],
        },
        "dimensions": {
            "wheelbase_left": f"{BASE_MM} mm", "wheelbase_right": f"{BASE_MM} mm",
            "front_width_over_tyres": f"{TRACK_MM + 200} mm", "rear_width_over_tyres": f"{TRACK_MM + 200} mm",
        },
        "tyres": {"dry": {"front": tyre, "rear": tyre}},
        "fuel": {
            "capacity": f"{number(tank['table'][-1][0])} L", "unusable": f"{number(tank['least'])} L",
            "density": f"{number(tank['density'])} kg/L",
            "at": [
                {"level": f"{number(level)} L", "behind_front_axle": f"{number(back)} mm", "left_of_centre": f"{number(across)} mm"}
                for level, back, across in tank["table"]
            ],
        },
    }  # fmt: skip
    (line,) = judge(f"{{condition: burning, all_of: [{', '.join(checks)}]}}", car, "{}", MORE).legal_fuel
    return list(line.holds), list(line.fails)


@examples(100)
@given(case=cases())
def test_legal_levels_are_those_worked_out_by_moments(case: Case) -> None:
    assert told(*case) == own_intervals(*case)
