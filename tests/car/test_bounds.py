"""Sizes are bounded on both sides, and work grows with the input, not faster."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import pytest

from checker.car.declaration.entries import MOST_ENTRIES
from checker.car.declaration.structure import MOST_TYRE_SETS
from checker.car.reading.single import LONGEST_TEXT
from checker.reading.problems import MOST_PROBLEMS, InputError
from checker.verdict.inspection import Inspection
from tests.building import inspection_of, pack_of
from tests.examples import quick_first
from tests.work import operations_of

PACK = pack_of(
    """
    "1": {title: T, text: W, check: {each: components, limit: thickness, at_least: 8 mm}}
    "2": {title: T, text: W, check: {limit: weight.total, at_least: 500 kg, condition: as_weighed}}
    "3": {title: T, text: W, check: {limit: sum(b.mass for b in ballast), at_most: 500 kg}}
    """,
    """
    lists: {components: {fields: {thickness: {unit: mm}}}}
    categories: [brakes/disc]
    materials: {steel: []}
    """,
)


def parts(number: int) -> str:
    part = "{category: brakes/disc, thickness: {value: 9 mm, uncertainty: 0.1 mm}}"
    return f"components: [{', '.join([part] * number)}]"


def ballast(number: int) -> str:
    return "ballast: [" + ", ".join(f"{{label: B{at}, mass: 10 g}}" for at in range(number)) + "]"


def tyres(number: int) -> str:
    return "tyres: {" + ", ".join(f"t{at}: {{front: {{mass: 8 kg}}}}" for at in range(number)) + "}"


def strange(number: int) -> str:
    return "".join(f"zork{at}: 1\n" for at in range(number))


def judged(sections: str) -> Inspection:
    return inspection_of(PACK, sections)


@pytest.mark.parametrize(
    ("sections", "most", "code"),
    quick_first(
        [(parts, MOST_ENTRIES, "CD117"), (ballast, MOST_ENTRIES, "CD117"), (tyres, MOST_TYRE_SETS, "CD117")],
        1,
    ),
)
def test_so_many_are_read_and_one_more_is_refused_with_the_number(
    sections: Callable[[int], str], most: int, code: str
) -> None:
    assert judged(sections(most)).outcomes
    with pytest.raises(InputError) as raised:
        judged(sections(most + 1))
    [problem] = raised.value.problems
    assert problem.code == code
    assert f"{most + 1}" in problem.message
    assert f"at most {most}" in problem.message


def test_a_text_has_its_bound_too() -> None:
    assert judged(f"ballast: [{{label: {'x' * LONGEST_TEXT}, mass: 1 kg}}]").outcomes
    with pytest.raises(InputError) as raised:
        judged(f"ballast: [{{label: {'x' * (LONGEST_TEXT + 1)}, mass: 1 kg}}]")
    assert [problem.code for problem in raised.value.problems] == ["CD117"]


def test_so_many_mistakes_are_told_at_once() -> None:
    with pytest.raises(InputError) as raised:
        judged(strange(MOST_PROBLEMS * 5))
    assert len(raised.value.problems) == MOST_PROBLEMS


@pytest.mark.parametrize("sections", quick_first([parts, ballast, strange], 1))
def test_twice_the_input_is_no_more_than_about_twice_the_work(sections: Callable[[int], str]) -> None:
    """Counted in calls, not in seconds; what is done once for any car is left out by the difference."""
    few, more, many = (operations_of(partial(judged, sections(number))) for number in (50, 100, 200))
    assert many - more < 2.05 * (more - few)
