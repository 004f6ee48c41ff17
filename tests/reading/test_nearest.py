from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from checker.reading.nearest import did_you_mean, nearest
from tests.reading.strategies import texts

UNITS = ("kg", "g", "lb", "mm", "kWh")


def test_the_nearest_word() -> None:
    assert nearest("kgs", UNITS) == "kg"
    assert nearest("front_lefft", ["front_right", "front_left"]) == "front_left"


def test_letter_case_is_put_aside() -> None:
    assert nearest("KWH", UNITS) == "kWh"
    assert nearest("MM", UNITS) == "mm"


def test_nothing_is_near() -> None:
    assert nearest("furlong", UNITS) is None
    assert nearest("kg", []) is None
    assert nearest("k" * 1000, ["k" * 1001]) is None


def test_the_hint() -> None:
    assert did_you_mean("kgs", UNITS) == "Did you mean 'kg'?"
    assert did_you_mean("furlong", UNITS) == ""


@given(st.lists(texts, min_size=1, max_size=5))
def test_no_cure_repeats_what_was_refused(choices: list[str]) -> None:
    for word in choices:
        assert did_you_mean(word, choices) != f"Did you mean '{word}'?"


def test_a_path_is_meant_by_its_last_part() -> None:
    assert nearest("damper", ["brakes/disc", "suspension/damper"]) == "suspension/damper"
    assert nearest("dampr", ["brakes/disc", "suspension/damper"]) == "suspension/damper"
    assert nearest("disc", ["brakes/disc", "disc"]) == "disc"


@given(texts, st.lists(texts, max_size=5))
def test_what_is_named_is_one_of_the_choices(word: str, choices: list[str]) -> None:
    assert nearest(word, choices) in (None, *choices)


@given(st.lists(texts, min_size=1, max_size=5))
def test_a_choice_is_nearest_to_itself_but_for_its_case(choices: list[str]) -> None:
    found = nearest(choices[0], choices)
    assert found is not None
    assert found.casefold() == choices[0].casefold()
