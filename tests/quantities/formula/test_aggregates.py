"""sum, mean, min, max, count, any and all: how often entries stand, parts, filters, and what is unknown."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.kind import NUMBER, TRUTH, quantity
from tests.examples import each_row
from tests.quantities.formula.workshop import (
    SCOPE,
    Entry,
    Scene,
    absent,
    compiled,
    day,
    each,
    entry,
    let,
    pairs,
    problems,
    reasons,
    runs,
    value,
    wrong,
)

BALLAST = (
    entry(label="B1", mass=Fraction(6), fixings=Fraction(2), locked=True, grade="B", hardness=(1, 2)),
    entry(2, label="B2", mass=Fraction(3), fixings=Fraction(4), locked=False, grade="A", hardness=(5,)),
)
COMPONENTS = (
    entry(2, name="hub", mass=Fraction(4), category="brakes", made=day(2024, 1, 1)),
    entry(2, True, name="bolt", mass=Fraction(1), category="brakes/disc", made=day(2020, 1, 1)),
    entry(1, name="seat", mass=Fraction(7), category="seat", made=day(2025, 1, 1)),
)
CAR = Scene(lists={"ballast": BALLAST, "components": COMPONENTS})
LOADED = Scene(
    values={"brakes.pad": (Fraction(3), Fraction(5)), "lamps.work": (True, False), "harness.labels": ("a",)}
)


@each_row(
    ("text", "expected"),
    [
        ("sum(b.mass for b in ballast)", 12),
        ("mean(b.mass for b in ballast)", 4),
        ("min(b.mass for b in ballast)", 3),
        ("max(b.mass for b in ballast)", 6),
        ("count(ballast)", 3),
        ("count(b for b in ballast)", 3),
        ("count(b.mass for b in ballast)", 3),
        ("any(b.locked for b in ballast)", True),
        ("all(b.locked for b in ballast)", False),
        ("sum(b.mass for b in ballast if b.fixings >= 2)", 12),
        ("sum(b.mass for b in ballast if b.fixings > 2)", 6),
        ("sum(b.mass for b in ballast if b.fixings > 1 if b.locked)", 6),
        ("count(b for b in ballast if b.fixings > 2)", 2),
        ("sum(b.mass * b.fixings for b in ballast)", 36),
        ("min(b.grade for b in ballast)", "B"),
        ("max(b.grade for b in ballast)", "A"),
        ("any(b.grade > 'B' for b in ballast)", True),
        ("sum(1 for b in ballast)", 3),
        ("max(c.made for c in components)", day(2025, 1, 1)),
        ("sum(max(b.hardness) for b in ballast)", 12),
        ("sum(max(h for h in b.hardness if h < 5 or true) for b in ballast)", 12),
        ("sum(count(c for c in components if c.mass > b.mass) for b in ballast)", 7),
    ],
)
def test_an_entry_stands_as_often_as_its_count_says(text: str, expected: Any) -> None:
    assert value(text, CAR) == expected


@each_row(
    ("text", "expected"),
    [
        ("sum(c.mass for c in components)", 15),
        ("mean(c.mass for c in components)", 5),
        ("count(components)", 5),
        ("count(c for c in components if c.category in 'brakes')", 4),
        ("min(c.mass for c in components)", 1),
        ("max(c.mass for c in components if c.category in 'brakes/disc')", 1),
        ("any(c.name == 'bolt' for c in components)", True),
        ("all(c.mass > 1 kg for c in components)", False),
    ],
)
def test_parts_are_contained_in_sums_and_seen_by_the_others(text: str, expected: Any) -> None:
    assert value(text, CAR) == expected


@each_row(
    ("text", "expected"),
    [
        ("mean(brakes.pad)", 4),
        ("sum(brakes.pad)", 8),
        ("min(brakes.pad)", 3),
        ("max(brakes.pad)", 5),
        ("count(brakes.pad)", 2),
        ("any(lamps.work)", True),
        ("all(lamps.work)", False),
        ("sum(p for p in brakes.pad if p > 3 mm)", 5),
        ("count(p for p in brakes.pad if p > 9 mm)", 0),
        ("all(label == 'A' for label in harness.labels)", True),
    ],
)
def test_a_fact_with_several_values_can_be_given_directly(text: str, expected: Any) -> None:
    assert value(text, LOADED) == expected


def test_a_field_with_several_values_of_the_entry_or_of_an_item() -> None:
    here = Scene(names={"": BALLAST[0], "a": BALLAST[0], "b": BALLAST[1]})
    assert value("mean(hardness)", here, each("ballast")) == Fraction(3, 2)
    assert value("sum(h for h in hardness)", here, each("ballast")) == 3
    assert value("mean(a.hardness) - mean(b.hardness)", here, pairs("ballast")) == Fraction(-7, 2)
    assert compiled("mean(hardness)", each("ballast")).locals == {""}


def test_a_let_can_name_a_list_or_its_values() -> None:
    scope = let("pieces", "ballast")
    assert value("count(pieces)", CAR, scope) == 3
    assert value("sum(p.mass for p in pieces)", CAR, scope) == 12
    assert value("count(all_pads)", LOADED, let("all_pads", "brakes.pad")) == 2


def test_a_run_goes_through_its_neighbours_once_each() -> None:
    scope = runs("ballast")
    scene = Scene(names={"run": BALLAST})
    assert value("sum(b.mass for b in run)", scene, scope) == 9
    assert value("count(run)", scene, scope) == 2
    assert compiled("count(run)", scope).locals == {"run"}
    assert compiled("sum(b.mass for b in run)", scope).uses == {"ballast.mass"}


def test_the_sum_and_count_of_nothing_are_zero_and_the_rest_of_nothing_is_unknown() -> None:
    nothing = Scene(lists={"ballast": ()}, values={"brakes.pad": ()})
    assert value("sum(b.mass for b in ballast)", nothing) == 0
    assert value("count(ballast)", nothing) == 0
    assert value("any(b.locked for b in ballast)", nothing) is False
    assert value("all(b.locked for b in ballast)", nothing) is True
    for name, word in (("mean", "mean"), ("min", "least"), ("max", "greatest")):
        assert word in reasons(value(f"{name}(b.mass for b in ballast)", nothing))[0]
        assert reasons(value(f"{name}(brakes.pad)", nothing))
        assert reasons(value(f"{name}(b.mass for b in ballast if b.fixings > 99)", CAR))


def test_an_entry_that_stands_no_times_counts_nowhere() -> None:
    scene = Scene(
        lists={"ballast": (entry(0, mass=Fraction(9), locked=False), entry(mass=Fraction(2), locked=True))}
    )
    assert value("sum(b.mass for b in ballast)", scene) == 2
    assert value("max(b.mass for b in ballast)", scene) == 2
    assert value("all(b.locked for b in ballast)", scene) is True
    assert value("count(ballast)", scene) == 1
    none = Scene(lists={"ballast": (entry(0),)})
    assert value("sum(b.mass for b in ballast if b.locked)", none) == 0
    assert reasons(value("mean(b.mass for b in ballast)", none))


# --- what is unknown -------------------------------------------------------------------------------------------

HALF = Scene(lists={"ballast": (entry(mass=Fraction(6), locked=True), entry(fixings=Fraction(2)))})


def test_a_list_that_is_not_stated_is_unknown_in_every_aggregate() -> None:
    for name in ("sum", "mean", "min", "max", "count"):
        assert absent(value(f"{name}(b.mass for b in ballast)")) == ("ballast",)
    for name in ("any", "all"):
        assert absent(value(f"{name}(b.locked for b in ballast)")) == ("ballast",)
    assert absent(value("count(ballast)")) == ("ballast",)
    assert absent(value("mean(brakes.pad)")) == ("brakes.pad",)


def test_a_field_that_is_not_stated_makes_an_aggregate_unknown() -> None:
    for name in ("sum", "mean", "min", "max", "count"):
        assert absent(value(f"{name}(b.mass for b in ballast)", HALF)) == ("ballast.mass",)
    assert value("count(ballast)", HALF) == 2


def test_a_filter_that_is_not_known_makes_an_aggregate_unknown() -> None:
    assert absent(value("sum(b.mass for b in ballast if b.fixings > 1)", HALF)) == (
        "ballast.fixings",
        "ballast.mass",
    )
    assert absent(value("count(b for b in ballast if b.locked)", HALF)) == ("ballast.locked",)
    assert value("count(b for b in ballast if false and b.locked)", HALF) == 0


def test_any_and_all_are_decided_by_what_is_known() -> None:
    assert value("any(b.locked for b in ballast)", HALF) is True
    assert absent(value("all(b.locked for b in ballast)", HALF)) == ("ballast.locked",)
    assert value("all(not b.locked for b in ballast)", HALF) is False
    assert absent(value("any(not b.locked for b in ballast)", HALF)) == ("ballast.locked",)
    doubtful = Scene(lists={"ballast": (entry(locked=False), entry(fixings=Fraction(1), locked=True))})
    assert absent(value("any(b.locked for b in ballast if b.mass > 1 kg)", doubtful)) == ("ballast.mass",)
    assert value("any(b.locked for b in ballast if b.fixings > 1 or not b.locked)", doubtful) is False
    assert value("all(b.locked for b in ballast if b.fixings > 0 and b.locked)", doubtful) is True
    assert absent(value("all(b.locked for b in ballast if b.mass > 1 kg)", doubtful)) == ("ballast.mass",)


def test_what_counts_or_not_without_changing_the_result_does_not_matter() -> None:
    scene = Scene(lists={"ballast": (entry(locked=True), entry(locked=True))})
    assert value("all(b.locked for b in ballast if b.mass > 1 kg)", scene) is True
    assert value("any(not b.locked for b in ballast if b.mass > 1 kg)", scene) is False


# --- names and kinds -------------------------------------------------------------------------------------------


def test_the_name_of_a_for_must_be_new() -> None:
    for taken in ("ballast", "minimum", "engine", "true", "pi"):
        assert wrong(f"sum(1 for {taken} in ballast)") == [(202, taken)]
    assert wrong("sum(mass.mass for mass in ballast)", each("ballast")) == [(202, "mass")]
    assert wrong("sum(a.mass for a in ballast)", pairs("ballast")) == [(202, "a")]
    assert wrong("sum(sum(b.mass for b in ballast) for b in ballast)") == [(202, "b")]
    assert value("sum(b.mass for b in ballast) + sum(b.mass for b in ballast)", CAR) == 24


def test_the_name_of_a_for_has_no_meaning_outside() -> None:
    assert wrong("sum(b.mass for b in ballast) + b.mass") == [(201, "b.mass")]
    assert compiled("sum(b.mass for b in ballast)").locals == frozenset()
    assert compiled("sum(x.mass - a.mass for x in ballast)", pairs("ballast")).locals == {"a"}


@each_row(
    ("text", "number", "at"),
    [
        ("sum(ballast)", 304, "ballast"),
        ("mean(b for b in ballast)", 304, "b"),
        ("any(b for b in ballast)", 304, "b"),
        ("sum(b.hardness for b in ballast)", 304, "b.hardness"),
        ("sum(b.label for b in ballast)", 302, "b.label"),
        ("sum(c.made for c in components)", 302, "c.made"),
        ("mean(b.grade for b in ballast)", 302, "b.grade"),
        ("min(b.label for b in ballast)", 302, "b.label"),
        ("sum(b.locked for b in ballast)", 302, "b.locked"),
        ("any(b.mass for b in ballast)", 303, "b.mass"),
        ("all(brakes.pad)", 303, "brakes.pad"),
        ("sum(harness.labels)", 302, "harness.labels"),
        ("sum(b.mass for b in ballast if b.mass)", 303, "b.mass"),
        ("count(b.locked for b in ballast)", 302, "b.locked"),
        ("count(lamps.work)", 302, "lamps.work"),
        ("sum(driver.mass)", 302, "driver.mass"),
        ("count(3)", 302, "3"),
        ("mean([1, 2])", 105, "[1, 2]"),
        ("any(x for x in driver.mass)", 302, "driver.mass"),
        ("sum(b.weight for b in ballast)", 205, "b.weight"),
        ("sum(b.count for b in ballast)", 205, "b.count"),
        ("sum(p.mass for p in brakes.pad)", 201, "p.mass"),
        ("sum(nobody.mass for b in ballast if nothing)", 201, "nobody.mass"),
        ("count(b for b in balast)", 201, "balast"),
        ("ballast.mass", 304, "ballast.mass"),
    ],
)
def test_what_an_aggregate_cannot_go_through(text: str, number: int, at: str) -> None:
    assert wrong(text)[0] == (number, at)


def test_hints_of_aggregates() -> None:
    assert problems("sum(ballast)")[0].hint == "sum(x.mass for x in ballast)"
    assert problems("ballast.mass")[0].hint == "go through it: (x.mass for x in ballast)"
    assert "if" in problems("count(b.locked for b in ballast)")[0].hint
    assert problems("count(b for b in balast)")[0].hint == "Did you mean 'ballast'?"


def test_all_mistakes_of_a_for_are_told() -> None:
    text = "sum(b.weight for b in ballast if b.lock if 3)"
    assert wrong(text) == [(205, "b.weight"), (205, "b.lock"), (303, "3")]


def test_kinds_of_aggregates() -> None:
    assert compiled("sum(b.mass for b in ballast)").kind == quantity(MASS)
    assert compiled("mean(brakes.pad)").kind == quantity(LENGTH)
    assert compiled("count(ballast)").kind == NUMBER
    assert compiled("all(lamps.work)").kind == TRUTH
    found = compiled("sum(b.mass for b in ballast if b.locked)")
    assert found.uses == {"ballast", "ballast.mass", "ballast.locked"}
    assert not found.constant
    assert not compiled("sum(1 for b in ballast)").constant


def test_names_of_the_check_can_be_used_inside_a_for() -> None:
    scene = Scene(lists=CAR.lists, names={"": BALLAST[1]})
    assert value("count(x for x in ballast if x.mass > mass)", scene, each("ballast")) == 1


def test_a_field_is_called_as_it_is_written_also_where_python_reserves_it() -> None:
    scene = Scene(lists={"ballast": (Entry({"class": "x"}), Entry({"class": "y"}))})
    assert value("count(b for b in ballast if b.class == 'Y')", scene) == 1
    assert SCOPE.entries["ballast"].fields["class"].kind.name == "text"
