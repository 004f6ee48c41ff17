"""Cleared means that the exact engine says the same: random formulas on cars near their limits, by floats and without.

`python -m tests.deep.test_filter 100000` tries so many cars. The exact engine is the same one with its two short ways
closed: every guard band is worked out by exact sensitivities, every corner of a condition is assessed in full.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from random import Random
from typing import Any

import pytest

from checker.car.car import Car
from checker.kinds.contract.check import Check
from checker.kinds.limit import Limit
from checker.kinds.limiting import spreads
from checker.pack.model import Pack
from checker.reading.problems import InputError
from checker.verdict.inspection import inspect_car
from tests.building import DAY, car_of, pack_of

pytestmark = pytest.mark.deep

SEED, CARS, CARS_A_PACK = 20261128, 400, 10

FACTS = """
facts:
  f.a: {type: number, uncertainty: 0.5}
  f.b: {type: number, uncertainty: 0.25}
  f.c: {type: number, uncertainty: 0.000001}
  f.sure: {type: number}
  f.gears: {type: count}
  f.kind: {type: text}
  f.covered: {type: truth}
  f.many: {type: number, several: true, uncertainty: 0.125}
derived: {d: {formula: f.a + 2 * f.b}, e: {formula: f.a - f.a}}
tables:
  stepped: {by: [x], rows: [{x: up to 3, value: 2}, {x: above 3, value: 5}]}
lists:
  rods: {known_by: name, fields: {name: {type: text}, x: {type: number, uncertainty: 0.5}, n: {type: number}}}
"""
LEAVES: tuple[str, ...] = (
    "f.a",
    "f.b",
    "f.c",
    "f.sure",
    "f.gears",
    "d",
    "e",
    "1",
    "2.5",
    "stepped(f.sure)",
    "stepped(f.a)",
)
LEAVES += (
    "mean(f.many)",
    "sum(r.x for r in rods)",
    "sum(r.n for r in rods)",
    "count(m for m in f.many)",
    "min(f.many)",
)
WEIGHTS = (
    "weight.total",
    "weight.front",
    "weight.inside",
    "percentage.rear",
    "percentage.inside",
    "percentage.front",
)
NUMBERS = ("0", "1", "2", "3", "3.0", "2.999999", "3.000001", "-2", "0.5", "2.5", "0.001", "1000000")
NEAR = ("0", "0", "1e-12", "0.000001", "0.1", "0.4", "0.41", "0.9", "2", "50")
"""How far a bound is put from a value that a number stands for."""


def formula(chance: Random, depth: int) -> str:
    """A random formula of plain numbers."""
    if depth == 0 or chance.random() < 0.2:
        return chance.choice(LEAVES)
    one, other = formula(chance, depth - 1), formula(chance, depth - 1)
    return chance.choice(
        (
            *(f"({one} + {other})", f"({one} - {other})", f"({one} * {other})", f"({one} - {one})"),
            *(f"({one} / {chance.choice(LEAVES[:5])})", f"max({one}, {other})", f"min({one}, {other})"),
            *(
                f"abs({one} - {other})",
                f"(-{one})",
                f"({one})**2",
                f"({one} if f.kind == 'low' else {other})",
            ),
            *(f"({one} if f.sure > 2 else {other})", f"({one} if f.b > 2 else {other})"),
            f"({one} if f.covered else {other})",
        )
    )


def bounds(chance: Random, made: str, near: str) -> str:
    sense = chance.choice(("at_least", "at_most", "above", "below", "exactly"))
    other = chance.choice(("at_most", "at_least"))
    if chance.random() < 0.15:
        return f'nominal: "{made}", plus_minus: {chance.choice(("0.1", "1", "3"))}'
    bound = f'{sense}: "{made} {chance.choice("+-")} {near}"'
    if sense in ("above", "below") and chance.random() < 0.2:
        bound = f'{"above" if other == "at_most" else "below"}: "{made} - 1", {other}: "{made} + 1"'
    if chance.random() < 0.15:
        bound += f", tolerance: {chance.choice(('0', '0.1', '1'))}"
    return bound


def clause(chance: Random, number: int) -> str:
    """A random clause: a formula held to a bound near what it comes to, alone or for each entry, under a guard."""
    near = chance.choice(NEAR).replace("1e-12", "0.000000000001")
    guard = chance.choice(("", "", ', when: "f.b > 2"', ", unless: f.covered", ", when: \"f.kind == 'low'\""))
    if chance.random() < 0.4:
        name = chance.choice(WEIGHTS)
        condition = chance.choice(("any", "any_without_driver", "as_weighed"))
        unit = "kg" if name.startswith("weight") else "%"
        middle = {"weight.total": 640, "weight.front": 298, "weight.inside": 322, "percentage.rear": 53.4}
        middle |= {"percentage.inside": 50.3, "percentage.front": 46.5}
        at = middle[name] + chance.choice((0, 0.05, 0.5, 3, 30)) * chance.choice((-1, 1))
        more = chance.choice(
            ("", "", f" + 0 {unit} * f.a", f" + 0.01 {unit} * f.a", " * stepped(f.sure) / 2")
        )
        sense = chance.choice(("at_least", "at_most", "above", "below", "exactly"))
        check = f'limit: {name}, {sense}: "{at:g} {unit}{more}", condition: {condition}'
        return f'"{number}": {{title: T, text: W, check: {{{check}{guard}}}}}\n'
    made = formula(chance, chance.randrange(4))
    if chance.random() < 0.3:
        made = made.replace("f.a", chance.choice(("x", "n", "x + n"))) if "rods" not in made else made
        check = f'each: rods, limit: "{made}", {bounds(chance, chance.choice(NUMBERS), near)}'
    else:
        check = f'limit: "{made}", {bounds(chance, chance.choice((*NUMBERS, "f.b", "d")), near)}'
    return f'"{number}": {{title: T, text: W, check: {{{check}{guard}}}}}\n'


def declaration(chance: Random) -> str:
    """A random car: equal tracks or not, facts left out, numbers that coincide, plain or quoted."""

    def number() -> str:
        found = chance.choice(NUMBERS)
        return f'"{found}"' if chance.random() < 0.01 else found

    facts = {"a": number(), "b": number(), "c": number(), "sure": number()}
    facts |= {"kind": chance.choice(("low", "high", '"low"')), "covered": chance.choice(("true", "false"))}
    facts |= {"gears": chance.choice(("1", "2", "3")), "many": f"[{number()}, {number()}, {number()}]"}
    if chance.random() < 0.15:
        del facts[chance.choice(tuple(facts))]
    rods = [
        f"{{name: r{at}, x: {number()}, n: {number()}, count: {chance.choice((1, 2))}}}" for at in range(2)
    ]
    loads = [chance.choice(("150", "148", "172", "170", "160", "150.5")) for _ in range(4)]
    track = chance.choice(("1715", "1715", "1700"))
    repeats = chance.choice((1, 1, 1, 2, 3))
    wheels = ("front_left", "front_right", "rear_left", "rear_right")
    readings = [
        "{"
        + ", ".join(
            f"{w}: {float(kg) + chance.choice((0, 0, 0.5)) * (n > 0):g} kg"
            for w, kg in zip(wheels, loads, strict=True)
        )
        + "}"
        for n in range(repeats)
    ]
    fuel = chance.choice(("0 L", "6 L", "22 L"))
    return f"""
f: {{{", ".join(f"{name}: {value}" for name, value in facts.items())}}}
rods: [{", ".join(rods)}]
weighing:
  instrument: pads
  fuel: {fuel}
  driver: {chance.choice(("out", "aboard"))}
  tyres: dry
  wear: {chance.choice(("new", "worn"))}
  readings: [{", ".join(readings)}]
instruments: {{pads: {{resolution: 0.5 kg, permissible_error: 0.5 kg{chance.choice(("", ", common_error: 0.05 %"))}}}}}
dimensions: {{wheelbase_left: 2200 mm, wheelbase_right: 2204 mm, front_width_over_tyres: 1715 mm,
  rear_width_over_tyres: {track} mm}}
tyres: {{dry: {{front: {{mass: 14 kg, section: 215 mm}}, rear: {{mass: 15 kg, section: 215 mm}}}}}}
fuel:
  capacity: 22 L
  unusable: {chance.choice(("0 L", "1 L"))}
  density: {{value: 0.75 kg/L, uncertainty: 0.01 kg/L}}
  at: {{behind_front_axle: {chance.choice(("1760", "0", "2202"))} mm, right_of_centre: {chance.choice(("60", "0"))} mm}}
driver: {{mass: {{value: 82 kg, uncertainty: 0.3 kg}}, at: {{behind_front_axle: 1210 mm, right_of_centre: 30 mm}}}}
wear: {{front_left: 0.4 kg, front_right: 0.6 kg, rear_left: 0.4 kg, rear_right: 0.6 kg}}
"""


@contextmanager
def exact_engine() -> Iterator[None]:
    """With the short ways closed."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(spreads, "scatter_of", lambda *_: None)
        patched.setattr(Limit, "clear_margin", Check.clear_margin)
        yield


def outcomes(pack: Pack, car: Car, audience: str) -> dict[str, Any]:
    """By clause all that may differ."""
    return {
        one.clause.number: (one.outcome, one.assessment.margin, one.assessment.state, one.assessment.spread)
        for one in inspect_car(pack, car, DAY, audience).outcomes
    }


def packs(seed: int) -> Iterator[tuple[Pack, Random]]:
    """Random packs of clauses that can be used, with the chance that made each."""
    while True:
        chance = Random(seed)
        clauses = []
        for number in range(8):
            one = clause(chance, number + 1)
            try:
                pack_of(one, FACTS)
            except InputError:  # a bound below zero, a division by nothing
                continue
            clauses.append(one)
        official = chance.choice(("as_displayed", "benefit_to_entrant", "strict"))
        if clauses:
            yield pack_of("".join(clauses), f"decision: {{official: {official}}}\n{FACTS}"), chance
        seed += 1


def attack(cars: int, seed: int = SEED) -> Counter[str]:
    """Judge so many cars both ways; how many outcomes came out as what.

    Raises:
        AssertionError: Of some car the two say something else.
    """
    told: Counter[str] = Counter()
    made = packs(seed)
    for _ in range(0, cars, CARS_A_PACK):
        pack, chance = next(made)
        for _ in range(CARS_A_PACK):
            text = declaration(chance)
            audience = chance.choice(("entrant", "official"))
            try:
                quick, slow = car_of(pack, text, audience=audience), car_of(pack, text, audience=audience)
            except InputError:
                told["cars that cannot be read"] += 1
                continue
            found = outcomes(pack, quick, audience)
            with exact_engine():
                exact = outcomes(pack, slow, audience)
            for number, one in found.items():
                assert one == exact[number], (pack.clauses[number].check.sentence(), text, one, exact[number])
                told[one[0]] += 1
            told["cars"] += 1
    return told


def test_what_is_cleared_is_as_the_exact_engine_says() -> None:
    told = attack(CARS)
    assert min(told[outcome] for outcome in ("pass", "fail", "too_close", "not_shown")) > CARS / 20, told


if __name__ == "__main__":
    print(attack(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else SEED))
