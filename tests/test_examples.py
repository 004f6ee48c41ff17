"""Rows that one test tries: each is tried, and each that fails is named."""

from __future__ import annotations

from inspect import signature

import pytest

from tests.examples import each_row


def halves(number: int, half: int) -> None:
    assert number == 2 * half, f"{number} is not twice {half}"


def test_every_row_is_tried() -> None:
    seen: list[tuple[int, int]] = []
    each_row("number, half", [(2, 1), (4, 2)])(lambda number, half: seen.append((number, half)))()
    each_row(("number", "half"), iter([(6, 3)]))(halves)()
    assert seen == [(2, 1), (4, 2)]


def test_the_row_that_fails_is_named_in_the_tests_own_failure() -> None:
    with pytest.raises(AssertionError, match="5 is not twice 2") as failed:
        each_row("number, half", [(2, 1), (5, 2), (6, 3)])(halves)()
    assert failed.value.__notes__ == ["in row 1: (5, 2)"]


def test_all_that_fail_are_named_those_too_that_should_have_raised() -> None:
    def refused(text: str) -> None:
        with pytest.raises(ValueError):
            int(text)

    with pytest.raises(BaseExceptionGroup, match="2 of 3 rows fail") as failed:
        each_row("text", ["1", "one", "2"], ids=["a digit", "a word", "another"])(refused)()
    assert [one.__notes__ for one in failed.value.exceptions] == [
        ["in row 0: a digit"],
        ["in row 2: another"],
    ]


def test_what_else_it_takes_stays_asked_for() -> None:
    def test(text: str, folder: str, more: str) -> None:
        assert text + folder + more == "abc"

    inner = each_row("more", ["c"], ids=str.upper)(test)
    outer = each_row("text", ["a"])(inner)
    assert list(signature(outer).parameters) == ["folder"]
    outer(folder="b")
    with pytest.raises(AssertionError) as failed:
        outer(folder="x")
    assert failed.value.__notes__ == ["in row 0: C", "in row 0: ('a',)"]


def test_no_rows_are_refused() -> None:
    with pytest.raises(AssertionError, match="always pass"):
        each_row("text", [])
