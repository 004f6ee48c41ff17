"""Dimensions multiply and divide like the quantities themselves, and have names."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.dimension import (
    BASES,
    CURRENT,
    LENGTH,
    MASS,
    MONEY,
    NO_DIMENSION,
    SOUND_A,
    SOUND_C,
    TIME,
    Dimension,
    base_dimension,
)
from tests.examples import each_row

DIMENSIONS = st.lists(st.integers(-3, 3), min_size=len(BASES), max_size=len(BASES)).map(
    lambda exponents: Dimension(tuple(exponents))
)


@each_row(
    ("dimension", "name"),
    [
        (MASS, "mass"),
        (MASS / LENGTH**3, "density"),
        (MASS * LENGTH / TIME**2, "force"),
        (MASS / TIME**2, "stiffness"),
        (CURRENT * TIME, "electric charge"),
        (MASS**2, "mass squared"),
        (LENGTH**4, "length to the fourth"),
        (MONEY / MASS, "money per mass"),
        (MASS * LENGTH, "mass times length"),
        (MASS / LENGTH**2, "mass per length^2"),
        (NO_DIMENSION / LENGTH, "1 per length"),
        (NO_DIMENSION, "number"),
    ],
)
def test_dimensions_have_names_in_words(dimension: Dimension, name: str) -> None:
    assert dimension.name == name


@each_row("base", BASES)
def test_every_base_quantity_is_a_dimension_of_its_own(base: str) -> None:
    assert base_dimension(base).name == base
    assert base_dimension(base).degree == 1


def test_the_two_weightings_of_sound_never_mix() -> None:
    assert SOUND_A != SOUND_C


@given(DIMENSIONS, DIMENSIONS)
def test_division_undoes_multiplication(a: Dimension, b: Dimension) -> None:
    assert a * b == b * a
    assert (a * b) / b == a
    assert a / a == NO_DIMENSION


@given(DIMENSIONS)
def test_halving_undoes_squaring_and_odd_powers_have_no_root(dimension: Dimension) -> None:
    assert (dimension**2).halved() == dimension
    assert (dimension**2 * MASS).halved() is None
    assert (dimension**3).degree == 3 * dimension.degree
