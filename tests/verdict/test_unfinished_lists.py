"""A list is the whole of it, unless the entrant says that it is not finished."""

from __future__ import annotations

import pytest

from checker.reading.problems import InputError
from tests.building import car_of, outcome_of, pack_of_check
from tests.examples import each_row

WORDS = """
categories: [safety/suit, safety/belts, brakes/disc]
materials: {steel: [], titanium: []}
"""
CAR = "components: [{name: belts, category: safety/belts, materials: [steel], price: 90 GBP, mass: 2 kg}]"
UNFINISHED = "\nunfinished: [components]"


@each_row(
    ("check", "whole", "unfinished"),
    [
        ("{required: [safety/suit]}", "fail", "not_shown"),
        ("{required: [safety/belts]}", "pass", "pass"),
        ("{banned: [titanium]}", "pass", "not_shown"),
        ("{banned: [steel]}", "fail", "fail"),
        ("{within: brakes, limit: mass, at_most: 9 kg, if_none: fail}", "fail", "not_shown"),
        ("{within: safety, limit: mass, at_most: 9 kg}", "pass", "not_shown"),
        ("{within: safety, limit: mass, at_most: 1 kg}", "fail", "fail"),
        ("{limit: sum(c.price for c in components), at_most: 100 GBP}", "pass", "not_shown"),
        ("{limit: count(c for c in components if c.category in 'brakes'), at_least: 1}", "fail", "not_shown"),
    ],
)
def test_what_is_missed_in_a_list_that_is_not_finished_is_not_shown(
    check: str, whole: str, unfinished: str
) -> None:
    pack = pack_of_check(check, WORDS)
    assert outcome_of(pack, CAR).outcome == whole
    assert outcome_of(pack, CAR + UNFINISHED).outcome == unfinished


def test_why_is_told() -> None:
    told = outcome_of(pack_of_check("{required: [safety/suit]}", WORDS), CAR + UNFINISHED)
    assert "what is still to be listed under components" in str(told)


def test_no_other_word_stands_there() -> None:
    with pytest.raises(InputError) as caught:
        car_of(pack_of_check("{required: [safety/suit]}", WORDS), CAR + "\nunfinished: [componets]")
    (problem,) = caught.value.problems
    assert (problem.code, problem.hint) == ("CD205", "Did you mean 'components'?")
