from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.meeting.record.lots import in_drawn_order, lot
from checker.meeting.taking.draw import draw
from checker.meeting.taking.entering import withdraw
from checker.reading.problems import InputError
from tests.meeting.days import a_meeting, car_text, refused

CARS = {str(number): car_text(str(number), f"Bird {number}") for number in (7, 8, 9, 10)}


def test_a_lot_is_the_sha256_of_seed_and_number_as_any_tool_works_it_out() -> None:
    assert lot("page 14", "27") == hashlib.sha256(b"page 14:27").hexdigest()


@given(st.text(max_size=20), st.lists(st.text(min_size=1, max_size=3), unique=True, max_size=12))
def test_the_order_follows_from_the_seed_alone_whatever_order_the_cars_come_in(
    seed: str, cars: list[str]
) -> None:
    try:
        drawn = in_drawn_order(seed, cars)
    except UnicodeEncodeError:
        return  # half a surrogate pair
    assert sorted(drawn) == sorted(cars)
    assert in_drawn_order(seed, reversed(cars)) == drawn


def test_every_car_is_as_likely_to_be_drawn() -> None:
    cars = [str(number) for number in range(30)]
    counts = dict.fromkeys(cars, 0)
    for seed in range(3000):
        for car in in_drawn_order(f"seed {seed}", cars)[:5]:
            counts[car] += 1
    assert all(400 < count < 600 for count in counts.values())


def test_a_draw_is_recorded_with_its_seed_and_all_it_was_made_from(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        withdraw(meeting, "10", "engine", "KV")
        found = draw(meeting, "KV", purpose="fuel", sample=2, seed="page  14")
        assert found.among == ["7", "8", "9"] or sorted(found.among) == ["7", "8", "9"]
        assert found.drawn == in_drawn_order("page 14", found.among)[:2]
        assert meeting.day.draws[0].content == found
        order = draw(meeting, "KV")
        assert sorted(order.drawn) == sorted(order.among)
        assert order.seed != draw(meeting, "KV").seed
        assert draw(meeting, "KV", among=["9", "7", "9"]).among == ["9", "7"]


@pytest.mark.parametrize(
    ("sample", "among", "code"),
    [(0, (), "MT214"), (5, (), "MT214"), (2, ("7",), "MT214"), (None, ("77",), "MT203")],
)
def test_what_cannot_be_drawn_is_told(
    tmp_path: Path, sample: int | None, among: tuple[str, ...], code: str
) -> None:
    with a_meeting(tmp_path, CARS) as meeting, pytest.raises(InputError) as error:
        draw(meeting, "KV", sample=sample, among=among)
    assert refused(error) == code


def test_no_car_is_no_draw(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {}) as meeting, pytest.raises(InputError) as error:
        draw(meeting, "KV")
    assert refused(error) == "MT214"
