from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.meeting.session.stating import GO, NO_GO, gauge_words, near_and_far, plain_value, target_of
from checker.pack.editions.loading import build_pack
from checker.quantities.literal import parse_quantity
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from tests.examples import each_row
from tests.meeting.days import PACK

VOCABULARY = build_pack(parse_document(PACK.encode(), "1.yaml", "PK")).vocabulary


@each_row(
    ("fact", "text", "value"),
    [
        ("body.sound", "Yes", True),
        ("body.sound", "false", False),
        ("body.sound", "perhaps", "perhaps"),
        ("seals.sump", "4418", "4418"),
        ("dimensions.ride_height", "90 mm", "90 mm"),
        ("components.x.count", "4", "MT208"),
        ("components.x.standards", "A 1, B 2", ["A 1", "B 2"]),
        ("components.x.standards", "[A 1]", ["A 1"]),
        ("components.x.standards", "", []),
        ("ballast.x.fixings", "3", 3),
        ("ballast.x.fixings", "2.5", Fraction(5, 2)),
        ("ballast.x.fixings", "three", "three"),
    ],
)
def test_a_text_becomes_what_would_stand_in_a_file(fact: str, text: str, value: Any) -> None:
    if value == "MT208":
        with pytest.raises(InputError):
            target_of(fact, VOCABULARY, new_entry=True)
        return
    assert plain_value(target_of(fact, VOCABULARY, new_entry=True).fact, text) == value


def test_an_entry_may_have_a_point_in_its_name() -> None:
    target = target_of("components.no. 4 disc.thickness", VOCABULARY, new_entry=True)
    assert (target.list_name, target.entry, target.name) == (
        "components",
        "no. 4 disc",
        "components.no. 4 disc.thickness",
    )


@given(tenths=st.integers(200, 3000), result=st.sampled_from([GO, NO_GO]))
def test_a_gauge_tells_a_stretch_beyond_its_size_up_to_the_end_of_the_range(tenths: int, result: str) -> None:
    target = target_of("dimensions.ride_height", VOCABULARY)
    size = Fraction(tenths, 10)
    near, far = near_and_far(target, f"{tenths // 10}.{tenths % 10} mm", result, "GBP")
    values = [parse_quantity(end["value"], target.fact.kind, "GBP").value for end in (near, far)]
    low, high = Fraction(20), Fraction(300)
    assert values[1] == (high if result == GO else low)
    assert low <= values[0] <= high  # type: ignore[operator]
    if result == GO:
        assert size < values[0] <= size + Fraction(1, 1000) or values[0] == high  # type: ignore[operator]
    else:
        assert size - Fraction(1, 1000) <= values[0] < size or values[0] == low  # type: ignore[operator]
    assert near["uncertainty"] == "0 mm"


def test_a_fact_without_a_range_is_gauged_from_nothing_to_far_beyond() -> None:
    target = target_of("components.disc.thickness", VOCABULARY, new_entry=True)
    assert near_and_far(target, "8 mm", GO, "GBP")[1]["value"] == "800 mm"
    assert near_and_far(target, "8 mm", NO_GO, "GBP")[1]["value"] == "0 mm"


def test_what_a_gauge_told_in_words() -> None:
    assert gauge_words("36.0 mm", GO) == "above 36.0 mm (gauge went)"
    assert gauge_words("36.0 mm", NO_GO) == "below 36.0 mm (gauge did not go)"
