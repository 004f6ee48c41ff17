"""A breach of a limit as an act: which verb, how much at least, from where and to where."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from checker.kinds.judging.acts import Act, Acts, Do, about, all_of, any_of
from checker.report.words.acts import act_words
from tests.examples import each_row
from tests.kinds.workbench import judge

FACTS = (
    "{frame.mass: {unit: kg}, frame.width: {unit: mm}, frame.price: {unit: GBP}, frame.bolts: {type: count}, "
    "frame.ratio: {type: number}, frame.angle: {unit: deg}, frame.grade: {grades: [A, B, C]}}"
)
WHEELS = {"front_left": 160, "front_right": 140, "rear_left": 170, "rear_right": 130}
WEIGHED = {"weighing": {"readings": [{wheel: f"{kg} kg" for wheel, kg in WHEELS.items()}]}}
"""600 kg: 300 front, 300 rear; 330 left, which on an anticlockwise course is inside: 55 %."""
MORE = "{course: anticlockwise}"


def act(check: str, car: dict[str, Any], more: str = "{}") -> Act:
    found = judge(check, car, FACTS, more).act
    assert isinstance(found, Act)
    return found


@each_row(
    ("check", "frame", "do", "amount", "words"),
    [
        ("at_least: 20 kg", "mass", Do.ADD, 5, "add 5 kg"),
        ("at_most: 9 kg", "mass", Do.TAKE_OFF, 6, "take off 6 kg"),
        ("at_least: 16 mm", "width", Do.RAISE, 1, "raise width by 1 mm"),
        ("at_most: 14.5 mm", "width", Do.LOWER, Fraction(1, 2), "lower width by 0.5 mm"),
        ("at_least: 20 GBP", "price", Do.SPEND_MORE, 5, "spend 5.00 GBP more"),
        ("at_most: 12.5 GBP", "price", Do.SPEND_LESS, Fraction(5, 2), "spend 2.50 GBP less"),
        ("at_least: 16", "bolts", Do.RAISE, 1, "raise bolts by 1"),
        ("at_most: 11", "bolts", Do.LOWER, 4, "lower bolts by 4"),
    ],
)
def test_what_to_do_goes_the_way_that_the_bound_asks(
    check: str, frame: str, do: Do, amount: Fraction, words: str
) -> None:
    unit = {"mass": " kg", "width": " mm", "price": " GBP"}.get(frame, "")
    value: Any = f"15{unit}" if unit else 15
    found = act(f"{{limit: frame.{frame}, {check}}}", {"frame": {frame: value}})
    assert found.amount is not None
    assert (found.do, found.amount.value) == (do, amount)
    assert act_words(found) == words


@each_row(
    ("bound", "words"),
    [
        ("at_most: 11.2", "lower ratio by 0.3"),
        ("at_most: 11.4999", "lower ratio by 0.0001"),
        ("at_most: 34 / 3", "lower ratio by 0.167"),
        ("at_least: 11.55", "raise ratio by 0.05"),
        ("below: 11.2", "lower ratio by more than 0.3"),
        ("below: 11.5", "lower ratio: on the limit is not enough"),
    ],
)
def test_an_amount_without_a_unit_is_rounded_no_further_than_it_must(bound: str, words: str) -> None:
    """Compression ratio 11.5 over 11.2 is to be lowered by 0.3, not by 1."""
    assert act_words(act(f"{{limit: frame.ratio, {bound}}}", {"frame": {"ratio": 11.5}})) == words


@pytest.mark.parametrize(
    ("bound", "do", "words"),
    [
        ("at_least: 4", Do.FIT, "fit 2 more"),
        ("above: 4", Do.FIT, "fit 3 more"),
        ("at_least: 2.5", Do.FIT, "fit 1 more"),
        ("at_most: 1", Do.TAKE_OFF, "take off 1"),
        ("below: 2", Do.TAKE_OFF, "take off 1"),
    ],
)
def test_what_is_counted_is_fitted_or_taken_off_in_whole_pieces(bound: str, do: Do, words: str) -> None:
    more = "{categories: [lamp]}"
    lamps = {"components": [{"name": name, "category": "lamp"} for name in ("one", "two")]}
    found = act(f"{{limit: count(c for c in components), {bound}}}", lamps, more)
    assert found.do is do
    assert act_words(found) == words


@each_row(
    ("check", "start", "end", "kg"),
    [
        ("limit: percentage.inside, at_most: 53 %", "inside", "outside", 12),
        ("limit: percentage.outside, at_least: 46 %", "inside", "outside", 6),
        ("limit: percentage.left, at_most: 54 %", "left", "right", 6),
        ("limit: percentage.front, at_least: 51 %", "rear", "front", 6),
        ("limit: percentage.rear, at_least: 52 %", "front", "rear", 12),
        ("limit: percentage.inside, at_least: 56 %", "outside", "inside", 6),
    ],
)
def test_a_share_is_moved_from_where_it_is_too_much_to_where_it_lacks(
    check: str, start: str, end: str, kg: int
) -> None:
    found = act(f"{{{check}, condition: as_weighed}}", WEIGHED, MORE)
    assert found.amount is not None
    assert (found.do, found.start, found.end, found.amount.value) == (Do.MOVE, start, end, kg)
    assert act_words(found) == f"move {kg} kg from {start} to {end}"


@pytest.mark.parametrize(
    ("check", "words"),
    [
        ("limit: weight.total, at_least: 603.42 kg", "add 3.5 kg"),
        ("limit: weight.total, above: 603 kg", "add more than 3 kg"),
        ("limit: weight.total, at_most: 590 kg", "remove 10 kg"),
        ("limit: weight.rear, at_least: 310 kg", "add 10 kg at the rear"),
        ("limit: weight.front_left, at_most: 155 kg", "remove 5 kg at the front left"),
    ],
)
def test_weight_is_added_or_removed_where_it_is_asked_for(check: str, words: str) -> None:
    assert act_words(act(f"{{{check}, condition: as_weighed}}", WEIGHED, MORE)) == words


@pytest.mark.parametrize(
    ("check", "words"),
    [
        ("limit: frame.width * 2, at_most: 29 mm", "bring it down by 1 mm"),
        ("limit: frame.width * 2, at_least: 31 mm", "bring it up by 1 mm"),
        (
            "limit: abs(frame.width - frame.depth), at_most: 3 mm",
            "bring width and depth nearer together by 2 mm",
        ),
        ("limit: count(frame.noise), exactly: 3", "take 1 more reading of frame.noise"),
    ],
)
def test_no_formula_stands_in_what_to_do(check: str, words: str) -> None:
    facts = "{frame.width: {unit: mm}, frame.depth: {unit: mm}, frame.noise: {unit: dBA, several: true}}"
    car = {"frame": {"width": "15 mm", "depth": "20 mm", "noise": ["90 dBA", "91 dBA"]}}
    assert act_words(judge(f"{{{check}}}", car, facts).act) == words


def test_cross_weight_is_load_shifted_between_the_diagonals() -> None:
    found = act("{limit: percentage.cross, at_least: 52 %, condition: as_weighed}", WEIGHED, MORE)
    assert found.do is Do.SHIFT_LOAD
    assert act_words(found) == (
        "shift 2 kg of load from the front inside and rear outside wheels to the front outside and rear inside, "
        "by the springs"
    )


def test_what_must_be_something_else_is_named_with_the_way_beyond_it() -> None:
    check = "{limit: frame.grade, at_least: B}"
    assert act_words(act(check, {"frame": {"grade": "A"}})) == "grade: B or better"
    assert (
        act_words(act("{limit: frame.grade, at_most: B}", {"frame": {"grade": "C"}})) == "grade: B or lower"
    )


def test_acts_are_joined_each_once() -> None:
    one, two = Act(Do.RAISE, "one"), Act(Do.LOWER, "two")
    assert all_of([None, one, None]) == one
    assert all_of([one, two, one]) == Acts((one, two))
    assert all_of([]) is None
    assert any_of([one, all_of([one, two])]) == Acts((one, Acts((one, two))), any_one=True)
    assert about(about(one, "inner"), "outer") == Acts((Act(Do.RAISE, "one", item="inner"),), item="outer")
