"""A number swept with floats asked first turns every car where the exact engine alone does."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from functools import cache

import pytest

from checker.cli.editions import edition_named
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.problems import InputError
from checker.studies.fleet.sweep import Sweeper, Swept
from checker.studies.fleet.swept_floats import SweptFloats
from checker.studies.fleet.swept_number import CannotVaryError, Number, Varied, numbers_in
from tests.conftest import ROOT
from tests.examples import quick_first
from tests.studies.change.test_floats_first import documents
from tests.unfiltered import filter_closed

DAY = date(2026, 7, 5)


@cache
def dunlin() -> Pack:
    return edition_named(f"{ROOT}/rulepacks/dunlin@{DAY}", DAY)


def swept(number: Number, cars: list[Document], audience: str | None) -> list[Swept | str]:
    """What becomes of the cars between a twentieth less and a twentieth more than is written."""
    low, high = number.value * Fraction(19, 20), number.value * Fraction(21, 20)
    sweeper = Sweeper(dunlin(), number, low, high, on=DAY, audience=audience)
    found: list[Swept | str] = []
    for car in cars:
        try:
            found.append(sweeper.sweep(car, ""))
        except InputError as error:
            found.append(str(error))
    return found


@pytest.mark.parametrize("audience", quick_first([None, "entrant", "official"], quick=1))
@pytest.mark.parametrize(
    "clause",
    quick_first(["3.2", "3.1", "3.3", "3.4", "4.1", "4.3", "4.5", "5.2", "6.7", "7.1", "8.1"], quick=1),
)
def test_every_turn_is_the_exact_engines(clause: str, audience: str | None) -> None:
    cars = documents(3, seed=4)
    for number in numbers_in(dunlin(), clause)[:2]:
        try:
            by_floats = swept(number, cars, audience)
        except CannotVaryError:
            continue
        with filter_closed():
            assert swept(number, cars, audience) == by_floats


def test_floats_take_a_bound_as_it_comes() -> None:
    (number,) = numbers_in(dunlin(), "3.2")
    varied = Varied(dunlin(), number)
    floats = SweptFloats(number, varied.at(number.value), varied.at(number.value + 10))
    assert floats._bound is not None


def test_a_number_in_a_table_is_left_to_the_exact_engine() -> None:
    number = next(one for one in numbers_in(dunlin(), "3.1") if one.path[0] == "tables")
    varied = Varied(dunlin(), number)
    assert SweptFloats(number, varied.at(number.value), varied.at(number.value + 1))._bound is None
