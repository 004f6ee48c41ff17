"""What floats clear of a fleet, and what that takes beside the exact engine: `python -m tests.benchmarks.clearing`."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from time import process_time

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.cli.editions import edition_named
from checker.reading.strict_yaml import parse_document
from checker.verdict.filtered import cleared
from checker.verdict.inspection import inspect_car
from checker.verdict.run import dated
from tests import fleet
from tests.conftest import ROOT

DAY = date(2026, 7, 5)
CARS, ROUNDS = 20, 5


def measure() -> dict[str, float]:
    """Seconds of processor time a car, and how many clauses were cleared of how many.

    Raises:
        AssertionError: Floats tell another outcome than the engine.
    """
    pack = edition_named(str(ROOT / "rulepacks/dunlin/2026.1.yaml"), DAY)
    documents = [
        dated(parse_document(json.dumps(one).encode(), "f", "CD"), DAY) for one in fleet.cars(CARS, 3)
    ]
    found: dict[str, float] = {}

    def timed(name: str, work: Callable[[Car], object], cars: list[Car]) -> None:
        began = process_time()
        for car in cars:
            work(car)
        taken = (process_time() - began) / CARS
        found[name] = min(taken, found.get(name, taken))

    for _ in range(ROUNDS):
        began = process_time()
        cars = [load_car(one, pack.vocabulary) for one in documents]
        found["read"] = min((process_time() - began) / CARS, found.get("read", 1e9))
        timed("cleared", lambda car: cleared(pack, car, DAY, "entrant"), cars)
        timed("cleared, its numbers in floats already", lambda car: cleared(pack, car, DAY, "entrant"), cars)
        cars = [load_car(one, pack.vocabulary) for one in documents]
        timed("cleared, every value exact", lambda car: cleared(pack, car, DAY, "entrant", exact=True), cars)
        cars = [load_car(one, pack.vocabulary) for one in documents]
        timed("by the exact engine", lambda car: inspect_car(pack, car, DAY, "entrant"), cars)
    told = clauses = 0
    for car in cars:
        outcomes = cleared(pack, car, DAY, "entrant")
        for one in inspect_car(pack, car, DAY, "entrant").outcomes:
            number = one.clause.number
            assert outcomes.get(number, one.outcome) == one.outcome, number
            told, clauses = told + (number in outcomes), clauses + 1
    return {**found, "clauses cleared": told, "of": clauses}


if __name__ == "__main__":
    for what, spent in measure().items():
        print(f"{what:40} {spent if spent >= 1 else f'{1000 * spent:.2f} ms'}")
