"""Steps of the classes; the published tables are checked in tests/outside."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from checker.car.described.accuracy_classes import CLASSES, NIST, STANDARDS, TABLES, AccuracyClass

TENTH = Fraction(1, 10)

classes = st.sampled_from([(n, s) for n in CLASSES for s in STANDARDS if n in TABLES[s]])
loads = st.fractions(0, 3000, max_denominator=1000)
intervals = st.sampled_from([Fraction(1, 100), TENTH, Fraction(1, 5), Fraction(1, 2), Fraction(1)])


def test_a_load_on_a_step_belongs_below_it() -> None:
    pad = AccuracyClass("III", TENTH, in_service=False)
    assert pad.permissible_kg(Fraction(50)) == Fraction("0.05")
    assert pad.permissible_kg(Fraction("50.0001")) == TENTH
    assert pad.permissible_kg(Fraction(200)) == TENTH
    assert pad.permissible_kg(Fraction("200.0001")) == Fraction("0.15")


def test_only_three_and_four_bars_have_a_table_in_both_standards() -> None:
    assert [name for name in CLASSES if name in TABLES[NIST]] == ["III", "IIII"]


@given(its=classes, interval=intervals, load=loads, more=loads)
def test_a_heavier_load_never_allows_less(
    its: tuple[str, str], interval: Fraction, load: Fraction, more: Fraction
) -> None:
    pad = AccuracyClass(its[0], interval, True, its[1])
    assert pad.permissible_kg(load) <= pad.permissible_kg(load + more)


@given(its=classes, interval=intervals, load=loads)
def test_in_service_twice_as_much_is_allowed(
    its: tuple[str, str], interval: Fraction, load: Fraction
) -> None:
    new, used = (AccuracyClass(its[0], interval, service, its[1]) for service in (False, True))
    assert used.permissible_kg(load) == 2 * new.permissible_kg(load)


@given(its=classes, interval=intervals, load=loads, factor=st.integers(1, 50))
def test_only_the_number_of_intervals_counts(
    its: tuple[str, str], interval: Fraction, load: Fraction, factor: int
) -> None:
    one = AccuracyClass(its[0], interval, True, its[1]).permissible_kg(load)
    other = AccuracyClass(its[0], interval * factor, True, its[1]).permissible_kg(load * factor)
    assert other == one * factor
