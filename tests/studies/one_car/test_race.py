"""A race lap by lap."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from checker.studies.one_car.race import Plan, Race, race
from tests.building import inspection_of, pack_of
from tests.report.documents import sample
from tests.studies.one_car.test_condition_table import CAR, CLAUSES, FOUR, LITRE

pytestmark = pytest.mark.usefixtures("at_root")


def followed(per_lap: str, laps: int, start: str | None = None, minimum: str = "636", car: str = CAR) -> Race:
    inspection = inspection_of(pack_of(CLAUSES.replace("MINIMUM", minimum)), car.replace("READING", FOUR))
    litres = None if start is None else Fraction(start) * LITRE
    return race(inspection, Plan(Fraction(per_lap) * LITRE, laps, litres))


def test_the_least_start_leaves_the_car_legal_at_the_flag_to_the_drop() -> None:
    """3 1/3 L have to be left, 10 laps burn 4 L."""
    run = followed("0.4", 10)
    assert run.fitted.least_mm3 == run.start_mm3 == Fraction(22, 3) * LITRE
    assert [lap.failing for lap in run.laps] == [()] * 11
    assert run.laps[-1].out.kg["total"] == 636
    assert run.laps[-1].aboard.kg["total"] == 716
    less = followed("0.4", 10, "7.33")
    assert less.laps[-1].failing == ("1",)
    assert less.fitted.least_mm3 == run.fitted.least_mm3


def test_wear_and_fuel_run_evenly() -> None:
    run = followed("0.4", 10, "10")
    totals = [lap.out.kg["total"] for lap in run.laps]
    assert totals[0] == 640 + Fraction("0.75") * 4
    assert {a - b for a, b in pairwise(totals)} == {  # type: ignore[operator]
        Fraction("0.75") * Fraction("0.4") + Fraction(2, 10)
    }


def test_fuel_that_does_not_last_is_told_and_never_goes_below_nothing() -> None:
    run = followed("0.4", 10, "1")
    assert run.dry_after == 3
    assert run.laps[-1].fuel_mm3 == 0
    assert followed("0.4", 10).dry_after is None


def test_a_tank_that_is_too_small_is_filled() -> None:
    run = followed("1", 20)
    assert run.start_mm3 == 20 * LITRE
    assert run.over_capacity
    assert run.laps[-1].failing == ("1",)


def test_where_no_fuel_is_enough_the_run_is_shown_all_the_same() -> None:
    run = followed("0.4", 10, minimum="651")
    assert run.fitted.least_mm3 is None
    assert run.start_mm3 == 4 * LITRE
    assert run.laps[0].failing == ("1",)


def test_the_run_is_on_the_tyres_that_the_car_was_weighed_on() -> None:
    run = race(sample("light-at-the-flag"), Plan(Fraction(35, 100) * LITRE, 40))
    assert run.tyres == "dry"
    assert [clause.number for clause in run.fitted.clauses] == ["3.1"]
    assert [starts.tyres for starts in run.starts] == ["dry", "wet"]
    assert run.legal
    assert run.laps[-1].out.kg["total"] == 585
