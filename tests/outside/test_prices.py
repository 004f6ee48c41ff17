"""Price caps that follow an index, through the formula of a pack, against published worked examples.

Sources, each read in a copy: US Bureau of Labor Statistics, "How to use the Consumer Price Index for escalation"
(129.9 to 136.0: 6.1 points, 4.7 per cent); the same Bureau, "Using the Consumer Price Index for Escalation", January
1989, page 5 (113.8 to 118.5: 4.7 points, 4.1 per cent); Alaska Department of Labor, index change (201.427 to 205.916:
4.489 points, 2.2 per cent; 195.144 to 201.427: 6.283 points, 3.2 per cent). The re-based caps are our own
calculation from these indexes, rounded once, at the end.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.pack.model import Pack
from checker.quantities.display import decimal_text
from tests.building import outcome_of, pack_of

FACTS = """
facts:
  season.index_before: {type: number, stated_by: organiser}
  season.index_now: {type: number, stated_by: organiser}
  part.price: {unit: GBP}
derived:
  points: {formula: season.index_now - season.index_before}
  change: {formula: percent(season.index_now / season.index_before - 1)}
  cap: {formula: "round_half_up(1000.00 GBP * season.index_now / season.index_before, 0.01 GBP)", unit: GBP}
"""


def rebased() -> Pack:
    return pack_of(
        """
        "1": {title: Cap, check: {limit: part.price, at_most: cap}}
        "2": {title: Points, check: {limit: points, at_most: 0}}
        "3": {title: Change, check: {limit: change, at_most: 0 %}}
        """,
        FACTS,
    )


def season(before: str, now: str, price: str = "1.00") -> str:
    return f"season: {{index_before: {before}, index_now: {now}}}\npart: {{price: {price} GBP}}"


@pytest.mark.parametrize(
    ("before", "now", "points", "percent"),
    [
        ("129.9", "136.0", "6.1", "4.7"),
        ("113.8", "118.5", "4.7", "4.1"),
        ("201.427", "205.916", "4.489", "2.2"),
        ("195.144", "201.427", "6.283", "3.2"),
    ],
)
def test_published_changes_of_an_index(before: str, now: str, points: str, percent: str) -> None:
    pack = rebased()
    by_points = outcome_of(pack, season(before, now), "2").assessment.value
    by_percent = outcome_of(pack, season(before, now), "3").assessment.value
    assert by_points is not None
    assert by_percent is not None
    assert by_points.value == Fraction(points)
    assert decimal_text(Fraction(round(1000 * by_percent.value), 10)) == percent  # to a tenth, as published


@pytest.mark.parametrize(
    ("before", "now", "cap", "with_rounded_percent"),
    [("129.9", "136.0", "1046.96", "1047.00"), ("201.427", "205.916", "1022.29", "1022.00")],
)
def test_a_cap_that_follows_the_index_is_rounded_once_at_the_end(
    before: str, now: str, cap: str, with_rounded_percent: str
) -> None:
    pack = rebased()
    on_it = outcome_of(pack, season(before, now, cap))
    assert (on_it.outcome, on_it.assessment.margin_value) == ("pass", Fraction(0))
    over = outcome_of(pack, season(before, now, decimal_text(Fraction(cap) + Fraction(1, 100))))
    assert (over.outcome, over.assessment.margin_value) == ("fail", Fraction(-1, 100))
    assert cap != with_rounded_percent
    rounded_first = outcome_of(pack, season(before, now, with_rounded_percent))
    assert (rounded_first.outcome == "pass") == (Fraction(with_rounded_percent) <= Fraction(cap))


def test_an_index_that_is_not_stated_leaves_the_cap_unknown() -> None:
    assert outcome_of(rebased(), "part: {price: 1.00 GBP}").outcome == "not_shown"
