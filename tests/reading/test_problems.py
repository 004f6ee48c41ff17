from __future__ import annotations

import pytest

from checker.reading.problems import InputError, Problems, Span

PLACE = Span("car.yaml", 3, 5, 3, 9, "  abcd")


def test_a_place_is_written_as_editors_read_it() -> None:
    assert str(PLACE) == "car.yaml:3:5"


def test_problems_are_collected_and_raised_once() -> None:
    problems = Problems()
    problems.raise_if_any()
    problems.add("CD101", "one", PLACE, hint="cure", clause="3.1", related=(("here", PLACE),))
    problems.add("CD102", "two", warning=True)
    problems.add("CD103", "three")
    with pytest.raises(InputError) as caught:
        problems.raise_if_any()
    assert [problem.code for problem in caught.value.problems] == ["CD101", "CD102", "CD103"]
    assert str(caught.value) == "3 problem(s)"
    assert [problem.code for problem in problems.errors] == ["CD101", "CD103"]
    assert [problem.code for problem in problems.warnings] == ["CD102"]


def test_the_same_problem_is_noted_once() -> None:
    problems = Problems()
    for message in ("one", "one", "two"):
        problems.add("CD101", message, PLACE)
    assert [problem.message for problem in problems.found] == ["one", "two"]


def test_warnings_alone_stop_nothing() -> None:
    problems = Problems()
    problems.add("PK206", "never used", warning=True)
    problems.raise_if_any()
    assert len(problems.warnings) == 1
