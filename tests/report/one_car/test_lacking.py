"""What many parts lack is told once, and each part refers to it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from checker.report.one_car.lacking import Lacking
from checker.report.page import Page

WEAR = [f"wear.{wheel}" for wheel in ("front_left", "front_right", "rear_left", "rear_right")]


def absent(*names: str) -> list[str]:
    return [f"{name} is not stated" for name in names]


def told(lacking: Lacking) -> list[str]:
    page = Page(80)
    lacking.put(page)
    return page.text().split("\n")


TOTAL, INSIDE = absent("fuel.density", *WEAR), absent(*WEAR, "fuel.at.left_of_centre", "fuel.density")


def test_each_thing_stands_once_and_parts_name_its_number() -> None:
    lacking = Lacking([TOTAL, INSIDE, [], [*absent("fuel.density"), "too many drivers"]])
    lines = [line.strip() for line in told(lacking) if line.strip()]
    assert lines == [
        "NOT STATED, WEIGHTS FIRST",
        "1  fuel.density",
        "2  wear, each wheel",
        "3  fuel.at.left_of_centre",
    ]
    assert lacking.words(TOTAL) == "needs 1 and 2 of what is not stated"
    assert lacking.words(INSIDE) == "needs 1, 2 and 3 of what is not stated"
    assert lacking.words([*absent("fuel.density"), "too many drivers"]) == (
        "needs 1 of what is not stated; too many drivers"
    )
    assert lacking.words([]) == ""


def test_where_little_is_lacking_each_part_tells_it_itself() -> None:
    lacking = Lacking([TOTAL, [], absent("fuel.density")])
    assert told(lacking) == [""]
    assert lacking.words(absent("fuel.density")) == "fuel.density is not stated"


NAMES = st.sampled_from(
    [*WEAR, "fuel.density", "fuel.at.left_of_centre", "driver.mass", "dimensions.wheelbase_left"]
)


@given(st.lists(st.lists(NAMES, max_size=4, unique=True), min_size=3, max_size=6))
def test_every_part_needs_just_the_numbers_of_what_it_lacks(parts: list[list[str]]) -> None:
    lacking = Lacking(absent(*part) for part in parts)
    every = [name for group in lacking.groups for name in group]
    assert len(every) == len(set(every))
    for part in parts:
        if lacking.groups and part:
            numbers = [
                int(word.strip(","))
                for word in lacking.words(absent(*part)).split()
                if word.strip(",").isdigit()
            ]
            assert {name for number in numbers for name in lacking.groups[number - 1]} == set(part)
