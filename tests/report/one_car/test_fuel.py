"""Levels of fuel in words: what fails stretches outwards, and nothing is told of levels of which nothing is known."""

from __future__ import annotations

from fractions import Fraction

from checker.car.weights.weights import State
from checker.kinds.judging.assessment import LegalFuel
from checker.quantities.intervals import Interval
from checker.quantities.kind import Unknown
from checker.report.one_car.fuel import CAPACITY, crossings, failing_words
from tests.examples import each_row

LITRE = 10**6
FULL = Unknown(absent=(CAPACITY,))


def line(fails: list[tuple[str, str]], unknown: Unknown = Unknown(), *, holds: bool = True) -> LegalFuel:  # noqa: B008 (a value)
    stretches = tuple(Interval(Fraction(a) * LITRE, Fraction(b) * LITRE) for a, b in fails)
    asked = Interval(Fraction(0), Fraction(10 * LITRE))
    return LegalFuel(State(), asked, (asked,) if holds else (), stretches, unknown)


@each_row(
    ("fails", "unknown", "words"),
    [
        ([("0", "3.333")], Unknown(), "less than 3.34 L"),
        ([("3.333", "10")], Unknown(), "more than 3.33 L"),
        ([("3.333", "10")], FULL, "3.33 L to 10.00 L"),
        ([("10", "10")], FULL, "10.00 L"),
        ([("0", "10")], Unknown(), "any amount of fuel"),
        ([("0", "10")], FULL, "any amount up to 10.00 L"),
        ([("0", "1"), ("9", "10")], Unknown(), "less than 1.00 L or more than 9.00 L"),
        ([("0", "1"), ("9", "10")], FULL, "less than 1.00 L or 9.00 L to 10.00 L"),
        ([("4", "5")], Unknown(), "4.00 L to 5.00 L"),
        ([], Unknown(), ""),
    ],
)
def test_levels_that_fail(fails: list[tuple[str, str]], unknown: Unknown, words: str) -> None:
    assert failing_words(line(fails, unknown)) == words


def test_no_crossing_is_told_at_the_end_of_what_is_known() -> None:
    assert [one["fails"] for one in crossings(line([("0", "1"), ("9", "10")]))] == ["below", "above"]
    assert [one["fails"] for one in crossings(line([("0", "1"), ("9", "10")], FULL))] == ["below"]
    assert crossings(line([("10", "10")], FULL)) == []
