"""Many cars on several cores: the same results in the same order, and errors with their places."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest

from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.studies.fleet.reading import QueuedDeclaration, records
from checker.studies.fleet.workers import WORTH_IT, Work, cores, judge_all


def number_in(document: Document, place: str) -> tuple[str, int]:
    """The car's number, after a while that is longer for earlier cars."""
    number = document.get(("n",))
    if not isinstance(number, int):
        raise InputError([Problem("CD999", "no number", document.span(("n",)))])
    time.sleep((number % 3) / 500)
    return place.rpartition("/")[2], number


def make() -> Work[tuple[str, int]]:
    return number_in


def broken() -> Work[tuple[str, int]]:
    def work(document: Document, place: str) -> tuple[str, int]:  # noqa: ARG001
        raise ZeroDivisionError(place)

    return work


@pytest.fixture
def fleet(tmp_path: Path) -> str:
    file = tmp_path / "fleet.jsonl"
    lines = [f'{{"n": {n}}}' if n != 50 else '{"n": "fifty"}' for n in range(70)]
    file.write_text("\n".join(lines))
    return str(file)


@pytest.mark.deep
@pytest.mark.parametrize("jobs", [1, 2, 3])
def test_results_come_in_the_order_of_the_cars_however_many_helpers_there_are(fleet: str, jobs: int) -> None:
    found = list(judge_all(records([fleet]), number_in, make, jobs))
    told = [one for one in found if not isinstance(one, InputError)]
    assert told == [(f"fleet.jsonl:{n + 1}", n) for n in range(70) if n != 50]
    error = found[50]
    assert isinstance(error, InputError)
    [problem] = error.problems
    assert problem.span is not None
    assert (problem.code, problem.span.line) == ("CD999", 51)


def test_a_handful_of_cars_starts_no_helpers(fleet: str) -> None:
    def never() -> Work[tuple[str, int]]:
        raise AssertionError("a helper was started")

    few = list(records([fleet]))[: WORTH_IT - 1]
    assert len(list(judge_all(few, number_in, never, 8))) == WORTH_IT - 1


def test_no_more_declarations_are_read_than_are_under_way(fleet: str) -> None:
    read: list[QueuedDeclaration] = []

    def watched() -> Iterator[QueuedDeclaration]:
        for record in records([fleet] * 10):
            read.append(record)
            yield record

    found = judge_all(watched(), number_in, make, 2)
    next(found)
    assert len(read) < WORTH_IT + 40
    found.close()  # type: ignore[attr-defined]


def test_our_own_mistake_in_a_helper_is_told_as_one(fleet: str) -> None:
    with pytest.raises(ZeroDivisionError):
        list(judge_all(records([fleet]), number_in, partial(broken), 2))


def dying() -> Work[tuple[str, int]]:
    def work(document: Document, place: str) -> tuple[str, int]:
        if document.get(("n",)) in (3, 45):
            os.kill(os.getpid(), signal.SIGKILL)  # as a system does that lacks memory
        return number_in(document, place)

    return work


def test_what_a_helper_leaves_that_is_ended_from_outside_is_judged_here(fleet: str) -> None:
    alone, left = (list(judge_all(records([fleet]), number_in, *how)) for how in ((make, 1), (dying, 2)))
    assert [repr(one) for one in left] == [repr(one) for one in alone]


def test_there_is_at_least_one_core() -> None:
    assert cores() >= 1
