"""A race lap by lap."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.report.one_car.fuel import litres
from checker.studies.one_car.finish import finishes
from checker.studies.one_car.race import Plan, Race, race
from tests.building import inspection_of, pack_of
from tests.car.cars import known
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
    assert run.fitted.least_mm3 == Fraction(22, 3) * LITRE
    assert run.start_mm3 == Fraction("7.34") * LITRE  # as it is told and filled
    assert [lap.failing for lap in run.laps] == [()] * 11
    assert run.laps[-1].out.kg["total"] == Fraction("636.005")
    assert run.laps[-1].aboard.kg["total"] == Fraction("716.005")
    less = followed("0.4", 10, "7.33")
    assert less.laps[-1].failing == ("1",)
    assert less.fitted.least_mm3 == run.fitted.least_mm3


@given(st.integers(1, 60), st.integers(1, 100))
def test_the_run_starts_with_what_is_told_and_stays_legal(laps: int, hundredths: int) -> None:
    run = followed(f"{hundredths / 100}", laps)
    if run.fitted.legal and not run.over_capacity:
        assert run.legal
        assert litres(run.start_mm3, "up") == litres(run.start_mm3, "down")
        assert not any(lap.failing for lap in run.laps)


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
    total = known(run.laps[-1].out.kg["total"])
    assert 585 <= total < 585 + Fraction("0.0075")  # of a start rounded up to a hundredth of a litre


def test_a_start_too_full_is_not_legal_either() -> None:
    """640 kg with 6 L: at most 645 kg new means 12 2/3 L at the start, at least 636 kg worn 3 1/3 L at the flag."""
    clause = '"1": {title: B, text: W, check: {limit: weight.total, at_least: 636 kg, at_most: 645 kg, condition: any_without_driver}}'
    inspection = inspection_of(pack_of(clause), CAR.replace("READING", FOUR))
    runs = [race(inspection, Plan(Fraction(2, 5) * LITRE, 10, Fraction(n) * LITRE)) for n in (7, 8, 12, 13)]
    assert [run.legal for run in runs] == [False, True, True, False]
    (legal,) = runs[0].fitted.legal or ()
    assert (legal.low, legal.high) == (Fraction(22, 3) * LITRE, Fraction(38, 3) * LITRE)
    assert runs[3].laps[0].failing == ("1",)
    assert runs[0].laps[-1].failing == ("1",)


def test_a_run_through_a_valley_is_not_legal_though_its_start_and_flag_are() -> None:
    """The lower half of the tank lies left, the upper half right: half full the car leans most, new or worn."""
    tank = (
        "[{level: 10 L, behind_front_axle: 1100 mm, left_of_centre: 700 mm},"
        " {level: 20 L, behind_front_axle: 1100 mm, left_of_centre: 0 mm}]"
    )
    car = CAR.replace("{behind_front_axle: 1100 mm, right_of_centre: 300 mm}", tank).replace(
        "fuel: 6 L", "fuel: 0 L"
    )
    clause = '"1": {title: I, text: W, check: {limit: percentage.inside, at_most: 50.5 %, condition: any_without_driver}}'
    run = race(
        inspection_of(pack_of(clause), car.replace("READING", FOUR)),
        Plan(Fraction(20) * LITRE, 1, Fraction(20) * LITRE),
    )
    assert [lap.failing for lap in run.laps] == [(), ()]
    assert run.legal is False


def test_a_set_that_the_formula_runs_and_nobody_describes_has_no_least_fuel() -> None:
    """Neither to start with nor to finish with is a word said that holds of the set described alone."""
    pack = pack_of(CLAUSES.replace("MINIMUM", "636"), "tyre_sets: [dry, wet]")
    inspection = inspection_of(pack, CAR.replace("READING", FOUR))
    ends = finishes(inspection)
    assert [(end.tyres, end.legal is None) for end in ends] == [("dry", False), ("wet", True)]
    assert "tyres.wet.front.mass" in ends[1].unknown.absent
    run = race(inspection, Plan(Fraction("0.4") * LITRE, 10, None))
    assert [(start.tyres, start.legal is None) for start in run.starts] == [("dry", False), ("wet", True)]
