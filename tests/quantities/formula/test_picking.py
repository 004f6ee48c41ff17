"""One out of several, neighbours, and totals that run: held to plain Python."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from statistics import median
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.formula.reductions import different
from checker.quantities.kind import Kind
from tests.examples import each_row
from tests.quantities.formula.workshop import (
    MATERIALS,
    Entry,
    Scene,
    absent,
    compiled,
    day,
    entry,
    reasons,
    value,
    wrong,
)

NUMBERS = st.lists(st.fractions(min_value=-9, max_value=9, max_denominator=4), min_size=1, max_size=8)


def pads(*values: Any) -> dict[str, Any]:
    return {"brakes__pad": tuple(Fraction(one) for one in values)}


def pieces(*positions: Any, **more: Any) -> Scene:
    made = [
        entry(position=Fraction(at), mass=Fraction(place + 1), **more) for place, at in enumerate(positions)
    ]
    return Scene(lists={"ballast": tuple(made)})


@given(NUMBERS)
def test_the_median_is_pythons(values: list[Fraction]) -> None:
    assert value("median(brakes.pad)", **pads(*values)) == median(values)


@given(NUMBERS, st.integers(1, 9))
def test_places_are_those_of_a_sorted_list(values: list[Fraction], place: int) -> None:
    largest = value(f"nth_largest({place}, brakes.pad)", **pads(*values))
    smallest = value(f"nth_smallest({place}, (x for x in brakes.pad))", **pads(*values))
    if place > len(values):
        assert reasons(largest) == (f"there are {len(values)} values, and number {place} is asked for",)
    else:
        assert (largest, smallest) == (sorted(values)[-place], sorted(values)[place - 1])


def test_equal_values_each_take_a_place_and_an_entry_stands_as_often_as_it_says() -> None:
    twice = Scene(lists={"ballast": (Entry({"mass": Fraction(5)}, standing=2), entry(mass=Fraction(3)))})
    assert value("nth_largest(2, (b.mass for b in ballast)) / (1 kg)", twice) == 5
    assert value("nth_largest(3, (b.mass for b in ballast)) / (1 kg)", twice) == 3
    assert value("median(b.mass for b in ballast) / (1 kg)", twice) == 5
    assert value("nth(2, ballast).mass / (1 kg)", twice) == 5
    assert value("nth(3, ballast).mass / (1 kg)", twice) == 3


def test_positions_of_several_values() -> None:
    assert [value(f"nth({n}, brakes.pad)", **pads(4, 4, 7)) for n in (1, 2, 3)] == [4, 4, 7]
    assert reasons(value("nth(4, brakes.pad)", **pads(4, 4, 7))) == (
        "there are 3, and number 4 is asked for",
    )


@pytest.mark.parametrize(
    ("text", "facts", "expected"),
    [
        ("count_different(brakes.pad)", pads(4, 4, 7), 2),
        ("count_different(brakes.pad)", {"brakes__pad": ()}, 0),
        ("count_different(harness.labels)", {"harness__labels": ("B7", "b7", "C1")}, 2),
    ],
)
def test_how_many_differ(text: str, facts: dict[str, Any], expected: int) -> None:
    assert value(text, **facts) == expected


def test_words_that_may_be_the_same_do_not_differ_for_certain() -> None:
    count = different(Kind("text", tree="material"), MATERIALS)
    assert count([("light metal", 1), ("steel", 2), ("Steel", 1)]) == 2
    assert reasons(count([("light metal", 1), ("aluminium", 1)])) == (
        "light metal may be aluminium: say which",
    )
    assert reasons(count([("titanum", 1)]))


def test_grades_and_days_have_places_too() -> None:
    graded = Scene(lists={"ballast": tuple(entry(grade=one) for one in ("B", "A", "C"))})
    assert value("nth_largest(1, (b.grade for b in ballast))", graded) == "A"
    made = Scene(lists={"components": tuple(entry(made=day(2026, month, 1)) for month in (3, 1, 2))})
    assert value("nth_smallest(2, (c.made for c in components))", made) == day(2026, 2, 1)


AREA = "sum((b.position - a.position) * (a.mass + b.mass) / 2 for a, b in neighbours(ballast, position))"


@given(st.lists(st.fractions(min_value=0, max_value=99, max_denominator=3), max_size=7, unique=True))
def test_neighbours_stand_in_the_order_of_their_field(positions: list[Fraction]) -> None:
    points = sorted((at, place + 1) for place, at in enumerate(positions))
    area = sum((Fraction((b - a) * (one + two), 2) for (a, one), (b, two) in pairwise(points)), Fraction(0))
    assert value(f"{AREA} / (1 kg * 1 mm)", pieces(*positions)) == area


def test_without_a_field_neighbours_stand_as_declared() -> None:
    gaps = "max(b.position - a.position for a, b in neighbours(ballast)) / (1 mm)"
    assert value(gaps, pieces(3, 9, 1)) == 6
    assert value("max(b - a for a, b in neighbours(brakes.pad))", **pads(3, 9, 1)) == 6


def test_some_run_of_so_many() -> None:
    three = "any(max(a, b, c) < 5 mm for a, b, c in neighbours(brakes.pad))"
    assert value(three, **pads(1, 9, 2, 3, 4)) is True
    assert value(three, **pads(1, 9, 2, 3, 9)) is False
    assert value(three, **pads(1, 2)) is False


def test_an_unknown_place_in_the_order_is_unknown() -> None:
    unplaced = Scene(
        lists={"ballast": (entry(mass=Fraction(1)), entry(mass=Fraction(2), position=Fraction(3)))}
    )
    assert absent(value(AREA, unplaced)) == ("ballast.position",)


SUCCESS = "running_total(ballast, mass, position, 0 kg, {most} kg) / (1 kg)"


@given(st.lists(st.integers(-20, 20), max_size=8), st.integers(0, 30))
def test_a_running_total_is_kept_between_its_ends(changes: list[int], most: int) -> None:
    made = [entry(position=Fraction(-place), mass=Fraction(one)) for place, one in enumerate(changes)]
    total = 0
    for change in reversed(changes):
        total = min(max(total + change, 0), most)
    assert value(SUCCESS.format(most=most), Scene(lists={"ballast": tuple(made)})) == total


def test_a_running_total_has_no_order_among_equals() -> None:
    tied = Scene(lists={"ballast": tuple(entry(position=Fraction(1), mass=Fraction(one)) for one in (5, -5))})
    assert reasons(value(SUCCESS.format(most=9), tied)) == (
        "two entries of ballast have one place in the order of their running total",
    )


@each_row(
    ("text", "number", "place"),
    [
        ("nth_largest(0, brakes.pad)", 302, "0"),
        ("nth_largest(engine.cylinders, brakes.pad)", 302, "engine.cylinders"),
        ("nth_largest(brakes.pad)", 305, "nth_largest(brakes.pad)"),
        ("nth_largest(2, harness.labels)", 302, "harness.labels"),
        ("median(harness.labels)", 302, "harness.labels"),
        ("nth(2, engine.capacity)", 302, "engine.capacity"),
        ("neighbours(ballast)", 105, "neighbours(ballast)"),
        ("sum(1 for a, b in ballast)", 105, "ballast"),
        ("sum(1 for a, b in neighbours(ballast, label))", 302, "label"),
        ("sum(1 for a, b in neighbours(ballast, place))", 205, "place"),
        ("sum(1 for a, a in neighbours(ballast))", 202, "a"),
        ("sum(1 for a, b, c, d, e, f, g in neighbours(ballast))", 105, "a, b, c, d, e, f, g"),
        ("running_total(ballast, mass, position, 0 kg)", 305, "running_total(ballast, mass, position, 0 kg)"),
        (
            "running_total(ballast, mass, position, 0 mm, 5 kg)",
            301,
            "running_total(ballast, mass, position, 0 mm, 5 kg)",
        ),
        ("min(2 kg, (b.mass for b in ballast))", 105, "(b.mass for b in ballast)"),
    ],
)
def test_mistakes(text: str, number: int, place: str) -> None:
    (found,) = wrong(text)
    assert found == (number, place) or (found[0] == number and found[1] in place)


def test_what_is_used_is_known() -> None:
    assert compiled(AREA).uses == {"ballast", "ballast.position", "ballast.mass"}
    assert compiled("running_total(ballast, mass, position, 0 kg, 5 kg)").uses == {
        "ballast",
        "ballast.mass",
        "ballast.position",
    }
