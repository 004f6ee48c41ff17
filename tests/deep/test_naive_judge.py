"""Cars within a few units of a limit, against a judge written from the language reference and nothing else.

The naive judge knows rational numbers, the definitions of the units and the reference's rows on bounds, `tolerance` and
`rounded`; it asks the checker for nothing. `python -m tests.deep.test_naive_judge 1000000` tries a million cars.
"""

from __future__ import annotations

import random
import sys
from dataclasses import dataclass
from fractions import Fraction

import pytest

from checker.quantities.literal import parse_literal
from checker.verdict.inspection import inspect_car
from tests.building import DAY, car_of, pack_of_check

pytestmark = pytest.mark.deep

SEED, CARS = 20260503, 20_000

UNITS = {
    "mm": {"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(254, 10)},
    "kg": {"kg": Fraction(1), "g": Fraction(1, 1000), "lb": Fraction(45359237, 10**8)},
}
"""How much of the first unit each is. Source: the inch and the pound by their definitions of 1959 (from memory)."""
BOUNDS = ("at_least", "above", "at_most", "below", "exactly")


@dataclass(frozen=True)
class Rule:
    """One `limit`: its bound, and what is beside it; amounts in the first unit."""

    first: str
    sense: str
    bound: str
    tolerance: str
    step: str
    mode: str

    @property
    def check(self) -> str:
        more = f", tolerance: {self.tolerance}" if self.tolerance else ""
        more += f", rounded: {{to: {self.step}, mode: {self.mode}}}" if self.step else ""
        return f"{{limit: thing.size, {self.sense}: {self.bound}{more}}}"


def amount(text: str) -> Fraction:
    """An amount in its first unit."""
    number, _, unit = text.partition(" ")
    return Fraction(number) * next(known[unit] for known in UNITS.values() if unit in known)


def rounded(value: Fraction, step: Fraction, mode: str) -> Fraction:
    """To a step: halves up, halves to even, towards plus infinity, towards minus infinity."""
    steps = value / step
    floor = steps.numerator // steps.denominator
    beyond = steps - floor
    if mode == "down" or beyond == 0:
        return floor * step
    if mode == "up":
        return (floor + 1) * step
    if beyond != Fraction(1, 2):
        return (floor + (beyond > Fraction(1, 2))) * step
    if mode == "half_even":
        return (floor + floor % 2) * step
    return (floor + 1) * step


def naive(rule: Rule, value: Fraction) -> tuple[str, Fraction]:
    """Outcome and margin."""
    if rule.step:
        value = rounded(value, amount(rule.step), rule.mode)
    tolerance = amount(rule.tolerance) if rule.tolerance else Fraction(0)
    bound = amount(rule.bound)
    if rule.sense == "exactly":
        margin = tolerance - abs(value - bound)
    else:
        margin = tolerance + (value - bound if rule.sense in ("at_least", "above") else bound - value)
    met = margin > 0 if rule.sense in ("above", "below") else margin >= 0
    return "pass" if met else "fail", margin


def drawn(dice: random.Random, each: int) -> tuple[Rule, list[str]]:
    """A rule and so many cars about its limit: on it, and some units in the last place beside it."""
    first = dice.choice(sorted(UNITS))
    unit = dice.choice(sorted(UNITS[first]))
    places = dice.randint(0, 4)
    bound = Fraction(dice.randint(1, 10 ** (places + 3)), 10**places)
    tolerance = dice.choice(("", "", f"{_decimal(Fraction(dice.randint(1, 30), 10**places))} {unit}"))
    step = dice.choice(("", "", f"{_decimal(Fraction(dice.choice((1, 2, 5)), 10**places))} {unit}"))
    mode = dice.choice(("half_up", "half_even", "up", "down"))
    rule = Rule(first, dice.choice(BOUNDS), f"{_decimal(bound)} {unit}", tolerance, step, mode)
    cars = []
    for _ in range(each):
        other = dice.choice(sorted(UNITS[first]))
        edge = bound * UNITS[first][unit]
        if tolerance:
            edge += dice.choice((-1, 0, 1)) * amount(tolerance)
        if step:
            edge += dice.choice((-1, 0, 1)) * amount(step) / 2
        fine = Fraction(1, 10 ** dice.randint(places, places + 6))
        count = edge / UNITS[first][other] / fine
        near = max(0, count.numerator // count.denominator + dice.randint(-3, 3)) * fine
        cars.append(f"{_decimal(near)} {other}")
    return rule, cars


def _decimal(value: Fraction) -> str:
    """A fraction with a power of ten below it, written out."""
    digits = 0
    while (value * 10**digits).denominator != 1:
        digits += 1
    whole = int(value * 10**digits)
    text = str(whole).rjust(digits + 1, "0")
    return f"{text[:-digits]}.{text[-digits:]}" if digits else text


def test_the_naive_judge_rounds_as_the_reference_says() -> None:
    """That the judge itself is right: by hand."""
    half = [Fraction(n, 2) for n in (1, 3, 5)]
    assert [rounded(h, Fraction(1), "half_up") for h in half] == [1, 2, 3]
    assert [rounded(h, Fraction(1), "half_even") for h in half] == [0, 2, 2]
    assert [rounded(Fraction(7, 3), Fraction(1), mode) for mode in ("up", "down")] == [3, 2]
    assert naive(Rule("mm", "above", "10 mm", "", "", ""), Fraction(10)) == ("fail", Fraction(0))
    assert naive(Rule("mm", "exactly", "10 mm", "1 mm", "", ""), Fraction(11)) == ("pass", Fraction(0))


def judged_alike(dice: random.Random, rules: int, each: int) -> int:
    """Judge `each` cars by each of so many rules, the first three of which are read whole; how many lay on the limit.

    The others are the car of nothing with a value put in its place, so that a million takes minutes.
    """
    on_the_limit = 0
    for _ in range(rules):
        rule, cars = drawn(dice, each)
        pack = pack_of_check(rule.check, f"facts: {{thing.size: {{unit: {rule.first}}}}}")
        none = car_of(pack, f"thing: {{size: 0 {rule.first}}}")
        for place, text in enumerate(cars):
            if place < 3:
                car = car_of(pack, f"thing: {{size: {text}}}")
            else:
                value = parse_literal(text, None).value
                assert isinstance(value, Fraction)
                car = none.with_value("thing.size", None, value)
            found = inspect_car(pack, car, DAY, "entrant").outcomes[0].assessment
            wanted, margin = naive(rule, amount(text))
            assert (found.outcome, found.margin_value) == (wanted, margin), (rule, text)
            on_the_limit += margin == 0
    return on_the_limit


@pytest.mark.parametrize("part", range(20))
def test_every_car_is_judged_as_by_the_naive_judge(part: int) -> None:
    found = judged_alike(random.Random(SEED + part), CARS // 20 // 20, 20)
    assert found > 20, "the limit itself is tried too"


if __name__ == "__main__":
    wanted = int(sys.argv[1])
    on_limits = sum(judged_alike(random.Random(SEED + part), 10, 100) for part in range(wanted // 1000))
    print(f"{wanted // 1000 * 1000} cars judged alike, {on_limits} of them on their limit")
