"""Judging a car that has been read against the same clauses written by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from statistics import median
from time import perf_counter

from checker.car.declaration.loading import load_car
from checker.pack.editions.loading import load_edition
from checker.reading.strict_yaml import read_document
from checker.verdict.inspection import inspect_car
from tests.benchmarks.by_hand import judge, values_of
from tests.conftest import ROOT

DAY = date(2026, 5, 3)
ROUNDS = 15


def timed(action: Callable[[], object], times: int) -> float:
    began = perf_counter()
    for _ in range(times):
        action()
    return (perf_counter() - began) / times


def measure(rounds: int = ROUNDS) -> tuple[float, float, int]:
    """Median seconds of the engine and of the function, and how many clauses both judge.

    Raises:
        AssertionError: They do not agree.
    """
    whole = load_edition(str(ROOT / "rulepacks/dunlin/2026.1.yaml"))
    document = read_document(ROOT / "samples/cars/legal.yaml", "CD")
    by_hand = judge(values_of(load_car(document, whole.vocabulary)))
    pack = replace(whole, clauses={number: whole.clauses[number] for number in by_hand})

    def engine() -> dict[str, bool]:
        judged = inspect_car(pack, car, DAY, "entrant")
        return {outcome.clause.number: outcome.outcome == "pass" for outcome in judged.outcomes}

    pairs = []
    for _ in range(rounds):
        car = load_car(document, whole.vocabulary)  # anew: a car keeps the weights that it has worked out
        first = timed(engine, 1)
        values = values_of(car)
        pairs.append((first, timed(lambda v=values: judge(v), 20)))  # type: ignore[misc]
    assert engine() == by_hand
    return median(a for a, _ in pairs), median(b for _, b in pairs), len(by_hand)
