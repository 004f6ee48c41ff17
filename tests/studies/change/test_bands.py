"""The spread of margins in little room."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.studies.change.bands import MOST_BANDS, Bands, side_by_side

numbers = st.lists(st.fractions(min_value=-50, max_value=50, max_denominator=10**6), min_size=1, max_size=60)


def filled(values: list[Fraction]) -> Bands:
    bands = Bands()
    for value in values:
        bands.add(value)
    return bands


def test_few_numbers_lie_in_round_bands() -> None:
    bands = side_by_side([filled([Fraction(-1, 2), Fraction(0), Fraction(3, 10), Fraction(17, 10)])])
    assert [(float(b.low), float(b.high), b.counts[0]) for b in bands] == [
        (-0.6, -0.4, 1),
        (-0.4, -0.2, 0),
        (-0.2, 0.0, 0),
        (0.0, 0.2, 1),
        (0.2, 0.4, 1),
        *((place / 10, (place + 2) / 10, 0) for place in (4, 6, 8, 10, 12, 14)),
        (1.6, 1.8, 1),
    ]


def test_a_margin_of_nothing_is_never_in_one_band_with_a_breach() -> None:
    bands = side_by_side([filled([Fraction(-1, 10**9), Fraction(0)])])
    assert [(b.low < 0, b.counts[0]) for b in bands] == [(True, 1), (False, 1)]


def test_equal_numbers_are_one_band() -> None:
    [band] = side_by_side([filled([Fraction(5)] * 3)])
    assert band.low <= 5 < band.high
    assert band.counts == (3,)


def test_nothing_has_no_bands() -> None:
    assert side_by_side([Bands(), Bands()]) == ()


@given(numbers)
def test_every_number_is_in_one_band_and_the_extremes_are_exact(values: list[Fraction]) -> None:
    bands = filled(values)
    assert sum(b.counts[0] for b in side_by_side([bands])) == len(values) == bands.number
    assert (bands.least, bands.greatest) == (min(values), max(values))


@given(numbers, numbers)
def test_two_collections_share_their_bands(first: list[Fraction], second: list[Fraction]) -> None:
    for band in side_by_side([filled(first), filled(second)], most=7):
        assert band.counts[0] == sum(band.low <= v < band.high for v in first)
        assert band.counts[1] == sum(band.low <= v < band.high for v in second)


@given(numbers, st.randoms(use_true_random=False))
def test_the_order_of_the_numbers_does_not_matter(values: list[Fraction], chance: Random) -> None:
    mixed = list(values)
    chance.shuffle(mixed)
    assert side_by_side([filled(values)]) == side_by_side([filled(mixed)])


def test_memory_is_bounded_however_many_numbers_come() -> None:
    chance = Random(1)
    bands = Bands()
    for _ in range(20_000):
        bands.add(Fraction(chance.randrange(-(10**9), 10**9), 1000))
    assert len(bands._counts) <= MOST_BANDS
    assert bands.number == 20_000
    assert sum(b.counts[0] for b in side_by_side([bands])) == 20_000


@pytest.mark.parametrize(
    ("number", "low"), [(Fraction(0), 0), (Fraction("44.5"), 44), (Fraction("-0.3"), -1)]
)
def test_one_number_alone_stands_in_a_band_of_one(number: Fraction, low: int) -> None:
    alone = Bands()
    alone.add(number)
    [band] = side_by_side([alone])
    assert band.low == low
    assert band.high == low + 1
    assert band.counts == (1,)
