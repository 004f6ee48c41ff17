"""What runs out in the next days is what a calendar of every one of these days finds."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from checker.pack.editions import in_force
from checker.reading.strict_yaml import read_document
from checker.studies.one_car.lapses import season
from checker.studies.one_car.running_out import running_out
from checker.studies.one_car.season import SeasonMeeting
from checker.verdict.run import Request, folder_of_request, inspect_request
from tests.examples import quick_first

pytestmark = pytest.mark.usefixtures("at_root")
CARS = sorted(str(file) for file in Path("samples/cars").glob("*.yaml"))


@pytest.mark.parametrize("car", quick_first(sorted(CARS, key=lambda car: "price-rise" not in car), 0))
@pytest.mark.parametrize("days", [90])
def test_it_agrees_with_a_calendar_of_every_day(car: str, days: int) -> None:
    request = Request(car)
    inspection = inspect_request(request)
    ahead = running_out(request, inspection, days)
    each = [
        SeasonMeeting("", inspection.on + timedelta(n)) for n in range((ahead.until - inspection.on).days + 2)
    ]
    found = season(read_document(car, "CD"), folder_of_request(request), each, inspection.on)
    expected = {(one.clause.number, one.item, one.last_day) for one in found.lapses}
    assert {(o.clause.number, o.item, o.day) for o in ahead.last_days if o.days >= 0} == expected


@pytest.mark.deep
def test_it_looks_no_further_than_there_are_rules() -> None:
    request = Request("samples/cars/built-2025.yaml", pack="rulepacks/dunlin/2025.1.yaml", on="2026-02-01")
    ahead = running_out(request, inspect_request(request), 90)
    assert (ahead.until, ahead.is_short) == (date(2026, 2, 28), True)
    assert not running_out(request, inspect_request(request), 27).is_short


@pytest.mark.deep
def test_the_last_day_of_the_calendar_has_none_after_it() -> None:
    request = Request("samples/cars/legal.yaml", on="2199-12-31")
    ahead = running_out(request, inspect_request(request), 90)
    assert ahead.until == date(2199, 12, 31)
    assert all(one.days < 0 for one in ahead.last_days)


def test_no_text_of_the_rules_is_compiled_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    request = Request("samples/cars/creeping-inside.yaml")
    inspection = inspect_request(request)
    first = running_out(request, inspection, 90)
    monkeypatch.setattr(in_force, "build_pack", lambda *_: pytest.fail("compiled anew"))
    assert running_out(request, inspection, 90) == first
