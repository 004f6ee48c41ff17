"""What floats tell of a car is what the exact engine says, margins too: random packs and cars near their limits, by both.

`python -m tests.deep.test_cleared 100000` tries so many cars. Formulas, bounds and cars are those of `test_filter`;
here they stand in every kind of check, under guards, in lists, beside days, older rules and clauses that take the
place of others.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterator
from random import Random

import pytest

from checker.kinds.judging.assessment import FAIL, PASS, Assessment
from checker.pack.model import Pack
from checker.reading.problems import InputError
from checker.verdict.filtered import told_by_floats
from checker.verdict.inspection import inspect_car
from tests.building import DAY, car_of, pack_of
from tests.deep import test_filter

pytestmark = pytest.mark.deep

SEED, CARS, CARS_A_PACK = 20261129, 3000, 20

FACTS = test_filter.FACTS.replace(
    "  f.covered:",
    "  f.p: {type: number}\n  f.q: {type: number}\n  f.built: {type: date, happened: true}\n  f.words: {type: text, several: true}\n  f.stuff: {type: material}\n  f.covered:",
)
FACTS += """
categories: [frame, frame/rail, wheel]
materials: {steel: [mild steel], light metal: [aluminium, magnesium]}
"""
_PLAIN = (
    "allowed: [low, high], of: f.kind",
    "banned: [high], of: f.kind",
    "allowed: [a, b], of: f.words",
    "required: [a, b], of: f.words",
    "required: [a, c], of: f.words, at_least: 1",
    "banned: [r1], of: rods",
    "allowed: [r1], of: rods",
    "limit: f.gears, at_most: limited(f.gears)",
    "banned: [magnesium], of: f.stuff",
    "allowed: [light metal], of: f.stuff",
    "allowed: [1, 2], of: f.gears",
    "limit: f.built, at_least: 2026-01-31",
    "valid: f.built + 24 months",
    "holds: f.covered",
    "holds: f.kind == 'low' or f.covered",
    "holds: f.b > 2 and f.gears == 1",
    "holds: not f.covered",
    "limit: f.kind, exactly: low",
    "limit: f.gears, exactly: 2",
    "limit: f.many, at_least: 2, of_several: worst",
    "limit: f.many, at_most: 2.5, of_several: mean",
    "limit: f.many, exactly: [1, 2, 3]",
    "limit: count(m for m in f.many), exactly: 3",
    'limit: "f.a", at_most: 3, rounded: {to: 0.5, mode: half_up}',
)
_OF_RODS = (
    "limit: x, at_most: 3",
    "limit: n, exactly: 2",
    'limit: x, at_least: "2 if n > 2 else 3"',
    'limit: x, at_most: "stepped(n)"',
    'limit: x, at_most: "limited(x)"',
    "allowed: [r0, r1], of: name",
    "banned: [r1], of: name",
)
_OF_PARTS = ("banned: [magnesium]", "allowed: [steel, light metal]", "limit: mass, at_most: 3 kg")
_GUARDS = (
    "",
    "",
    "",
    ', when: "f.b > 2"',
    ", unless: f.covered",
    ", when: \"f.kind == 'low'\"",
    ", when: stated(f.c)",
)


TENTHS = ("0.1", "0.2", "0.3", "0.7", "1.1", "2.2", "3.3", "0.9", "3", "0.30000000000000004")
"""No float is any of these but 3, so sums that are equal on paper are not in floats, and the other way round."""
_OF_TENTHS = (
    "f.p + f.q",
    "f.p - f.q",
    "f.p * f.q",
    "f.p * 3",
    "f.p + f.q - 0.3",
    "f.p / f.q",
    "f.p",
    "mean(f.many) * f.p",
)


def in_tenths(chance: Random) -> str:
    """A limit of numbers that no error moves, at its bound on paper as often as not."""
    sense = chance.choice(("at_least", "at_most", "above", "below", "exactly"))
    made = (*_OF_TENTHS, *TENTHS, "0.1 * 3", "0.1 + 0.2", "f.q + 0.1", "f.q * f.p")
    return f'limit: "{chance.choice(_OF_TENTHS[:-1])}", {sense}: "{chance.choice(made)}"'


def check(chance: Random, depth: int = 2) -> str:
    """A random check, without its braces."""
    if chance.random() < 0.15:
        return in_tenths(chance)
    kind = chance.random()
    guard = chance.choice(_GUARDS)
    if depth and kind < 0.25:
        parts = ", ".join(f"{{{check(chance, depth - 1)}}}" for _ in range(chance.choice((1, 2, 2, 3))))
        how = chance.choice(("all_of", "all_of", "any_of", "none_of"))
        return f"{how}: [{parts}]{guard}"
    if kind < 0.35:
        where = chance.choice(("", "", ", where: n > 2", ", where: x > 2", ", where: name == 'r0'"))
        none = chance.choice(("", "", ", if_none: pass", ", if_none: fail", ", if_none: not_applicable"))
        return (
            f"each: rods, {chance.choice(_OF_RODS)}{where}{none}{chance.choice(('', ', when: x > 1', guard))}"
        )
    if kind < 0.4:
        return f'pairs: rods, limit: "abs(a.x - b.x)", at_most: {chance.choice(("0", "0.5", "1"))}'
    if kind < 0.5:
        of = chance.choice(("within: frame", "within: wheel", "each: components"))
        return f"{of}, {chance.choice(_OF_PARTS)}{guard}"
    if kind < 0.6:
        made = test_filter.formula(chance, 1)
        bound = chance.choice(('"limited(f.a)"', '"limited(f.sure)"', '"stepped(f.b)"', "f.b", '"d + 1"'))
        return f'let: {{u: "{made}", v: "u + 1"}}, limit: v, at_most: {bound}{guard}'
    if kind < 0.75:
        return f"{chance.choice(_PLAIN)}{guard}"
    text = test_filter.clause(chance, 1)
    return text[text.index("check: {") + len("check: {") : -3]


def clause(chance: Random, number: int) -> str:
    """A random clause, perhaps with days, an older rule, or in another's place."""
    more = chance.choice(
        (
            *(
                "",
                "",
                "",
                "",
                f"since: {DAY}, ",
                "since: 2026-06-01, ",
                f"until: {DAY}, ",
                "until: 2026-01-01, ",
            ),
            "earlier: [{before: 2026-02-01, by: f.built, check: none}], ",
            f"earlier: [{{before: 2026-02-01, by: f.built, check: {{{chance.choice(_PLAIN)}}}}}], ",
            *((f'instead_of: ["{chance.randrange(1, number)}"], ',) * 3 if number > 1 else ()),
        )
    )
    return f'"{number}": {{title: T, text: W, {more}check: {{{check(chance)}}}}}\n'


def declaration(chance: Random) -> str:
    """A random car, with words, days, and parts of components."""
    words = chance.choice(("[a]", "[a, b]", "[a, b, z]", '["a", B]', "[]"))
    stuff = chance.choice(("mild steel", "magnesium", "light metal", "unobtainium", '"aluminium"'))
    built = chance.choice(("2026-01-31", "2026-02-01", "2024-05-03", "2024-05-02", "2020-02-29"))
    more = [
        f"p: {chance.choice(TENTHS)}",
        f"q: {chance.choice(TENTHS)}",
        f"words: {words}",
        f"stuff: {stuff}",
        f"built: {built}",
    ]
    more = [one for one in more if chance.random() > 0.05]
    text = test_filter.declaration(chance)
    if chance.random() < 0.1:
        text = re.sub("rods: .*", chance.choice(("rods: []", "")), text)
    parts = ", ".join(
        f"{{name: p{at}, category: {chance.choice(('frame', 'frame/rail', 'wheel'))}, mass: {chance.choice(('3 kg', '2.9 kg', '3.1 kg'))}"
        f", materials: [{chance.choice(('mild steel', 'magnesium', 'light metal', 'tin'))}]}}"
        for at in range(chance.choice((0, 1, 2, 3)))
    )
    if chance.random() < 0.9:
        text += f"components: [{parts}]\n"
    return text.replace("f: {", f"f: {{{', '.join([*more, ''])}", 1)


def packs(seed: int) -> Iterator[tuple[Pack, Random]]:
    """Random packs of clauses that can be used, with the chance that made each."""
    limited = "  limited: {by: [x], rows: [{x: up to 2, value: no limit}, {x: above 2, value: 3}]}\n"
    more = FACTS.replace("tables:\n", f"tables:\n{limited}")
    while True:
        chance = Random(seed)
        clauses: list[str] = []
        for number in range(1, 11):
            one = clause(chance, number)
            try:
                pack_of("".join([*clauses, one]), more)
            except InputError:  # a bound below zero, a division by nothing, a clause that is not there
                continue
            clauses.append(one)
        official = chance.choice(("as_displayed", "benefit_to_entrant", "strict"))
        if clauses:
            yield pack_of("".join(clauses), f"decision: {{official: {official}}}\n{more}"), chance
        seed += 1


def told_of(one: Assessment) -> tuple[object, ...]:
    ranked = (one.size, one.met_by_nature) if one.margin else None
    return one.outcome, one.value, one.bounds, one.margin, ranked


def attack(cars: int, seed: int = SEED) -> Counter[str]:
    """Judge so many cars both ways; how many outcomes came out as what, and how many were left to the engine.

    Raises:
        AssertionError: Floats told another outcome than the engine.
    """
    told: Counter[str] = Counter()
    made = packs(seed)
    for _ in range(0, cars, CARS_A_PACK):
        pack, chance = next(made)
        for _ in range(CARS_A_PACK):
            text = declaration(chance)
            audience, exact = chance.choice(("entrant", "official")), chance.random() < 0.2
            try:
                car = car_of(pack, text, audience=audience)
            except InputError:
                told["cars that cannot be read"] += 1
                continue
            found = told_by_floats(pack, car, DAY, audience, exact=exact)
            for one in inspect_car(pack, car, DAY, audience, exact=exact).outcomes:
                number = one.clause.number
                if number not in found:
                    told[f"left: {one.outcome}"] += 1
                    continue
                said = found[number].outcome
                what = one.clause.check.sentence()
                where = (seed, number, what, text, audience, exact)
                assert said == one.outcome, (*where, said, one.outcome)
                told[said] += 1
                measured = found[number].measured()
                if measured is None:
                    told["margins not told"] += 1
                    continue
                assert told_of(measured) == told_of(one.assessment), (*where, measured, one.assessment)
                bounds = found[number].bounds
                if bounds is not None and measured.margin is not None:
                    told["margins between bounds"] += 1
                    assert bounds[0] <= measured.margin.value <= bounds[1], (*where, bounds, measured.margin)
            told["cars"] += 1
    return told


def test_what_floats_clear_is_what_the_exact_engine_says() -> None:
    told = attack(CARS)
    assert min(told[PASS], told[FAIL], told["not_applicable"]) > CARS / 5, told
    assert told["margins between bounds"] > CARS, told


if __name__ == "__main__":
    print(attack(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else SEED))
