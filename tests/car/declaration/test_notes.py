"""What is told beside a verdict is worked out when it is told, once, and of the car that was read."""

from __future__ import annotations

from datetime import date

import pytest

import checker.car.declaration.loading as loading
from checker.car.car import Car
from checker.car.declaration.gear_findings import gear_findings
from checker.car.declaration.loading import load_car
from checker.pack.editions.loading import load_edition
from checker.reading.strict_yaml import read_document
from checker.verdict.inspection import inspect_car
from tests.conftest import ROOT


def test_a_car_is_judged_without_what_nobody_reads(monkeypatch: pytest.MonkeyPatch) -> None:
    times: list[object] = []

    def noted(car: Car) -> object:
        times.append(car)
        return gear_findings(car)

    monkeypatch.setattr(loading, "gear_findings", noted)
    pack = load_edition(str(ROOT / "rulepacks/dunlin/2026.1.yaml"))
    car = load_car(read_document(ROOT / "samples/cars/pads-that-disagree.yaml", "CD"), pack.vocabulary)
    assert len(inspect_car(pack, car, date(2026, 5, 3), "entrant").outcomes) == len(pack.clauses)
    assert times == []
    later = car.on_day(date(2026, 5, 4))
    assert car.notes().remarks
    assert car.notes().premises
    assert later.notes().remarks is car.notes().remarks
    assert times == [car]
