"""How many cars fail at each value of a number: exact, and equal to an inspection at that value."""

from __future__ import annotations

import json
from datetime import date
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.pack.editions.loading import load_edition
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.strict_yaml import parse_document
from checker.reading.values import Plain
from checker.studies.fleet.sweep import RESOLUTION, Curve, Sweeper, Swept, curve
from checker.studies.fleet.swept_number import CannotVaryError, Varied, find_number
from checker.verdict.run import inspect_document
from tests.examples import examples, quick_first
from tests.fleet import cars
from tests.studies.packs import DAY, car_document, pack


def swept(rules: Pack, clause: str, low: str, high: str, at: str | None = None, **car: Any) -> Swept:
    number = find_number(rules, clause, at)
    sweeper = Sweeper(rules, number, number.read(low, "GBP"), number.read(high, "GBP"), on=DAY)
    return sweeper.sweep(
        car_document({key.replace("__", "."): value for key, value in car.items()}), "car.yaml"
    )


def turns(car: Swept) -> list[tuple[Fraction, bool, str, str, str]]:
    return [(t.value, t.exact, t.below, t.at, t.above) for t in car.turns]


def test_a_car_turns_exactly_where_it_stands_on_the_limit() -> None:
    found = swept(pack(), "1", "1300 mm", "1500 mm")
    assert found.first == "fail"
    assert turns(found) == [(Fraction(1390), True, "fail", "pass", "pass")]


def test_a_strict_limit_still_fails_where_the_car_stands_on_it() -> None:
    rules = pack({'clauses."1".check': {"limit": "frame.width", "below": "1400 mm"}})
    assert turns(swept(rules, "1", "1300 mm", "1500 mm")) == [(Fraction(1390), True, "fail", "fail", "pass")]


def test_a_tolerance_and_a_rounding_are_counted() -> None:
    check: Plain = {
        "limit": "frame.width",
        "at_most": "1400 mm",
        "tolerance": "1.5 mm",
        "rounded": {"to": "4 mm", "mode": "up"},
    }
    found = swept(pack({'clauses."1".check': check}), "1", "1300 mm", "1500 mm")
    assert turns(found) == [(Fraction(13905, 10), True, "fail", "pass", "pass")]  # 1390 is rounded to 1392


@pytest.mark.parametrize(("low", "high"), [("1390 mm", "1500 mm"), ("1300 mm", "1390 mm")])
def test_a_turn_at_an_end_of_the_sweep_is_found(low: str, high: str) -> None:
    found = swept(
        pack({'clauses."1".check.at_most': None, 'clauses."1".check.at_least': "1 mm"}), "1", low, high
    )
    assert [t.value for t in found.turns] == ([1390] if low == "1390 mm" else [])
    other = swept(pack(), "1", low, high)
    assert [t.value for t in other.turns] == ([1390] if high == "1390 mm" else [])


def test_a_band_is_left_on_both_sides() -> None:
    rules = pack({'clauses."1".check': {"limit": "frame.width", "nominal": "1400 mm", "plus_minus": "15 mm"}})
    found = swept(rules, "1", "1300 mm", "1500 mm", "check.nominal")
    assert turns(found) == [
        (Fraction(1375), True, "fail", "pass", "pass"),
        (Fraction(1405), True, "pass", "pass", "fail"),
    ]
    assert [t.value for t in swept(rules, "1", "0 mm", "20 mm", "check.plus_minus").turns] == [10]


def test_an_exact_number_is_met_at_one_value_only() -> None:
    rules = pack({'clauses."1".check': {"limit": "frame.width", "exactly": "1400 mm"}})
    assert turns(swept(rules, "1", "1300 mm", "1500 mm")) == [(Fraction(1390), True, "fail", "pass", "fail")]


def test_a_cell_of_a_table_is_swept() -> None:
    found = swept(pack(), "2", "1700 mm", "1900 mm", "tables.longest.rows[0].value")
    assert [t.value for t in found.turns] == [1790]
    assert not swept(pack(), "2", "1700 mm", "1900 mm", "tables.longest.rows[1].value").turns


def test_a_day_is_swept_by_days() -> None:
    rules = pack({'clauses."1".check': {"limit": "car.chassis_built", "at_least": "2020-01-01"}})
    found = swept(rules, "1", "2023-01-01", "2024-01-01")
    assert turns(found) == [(Fraction(date(2023, 4, 1).toordinal()), True, "pass", "pass", "fail")]


def test_one_branch_of_several_is_followed_though_another_speaks() -> None:
    check: Plain = {
        "any_of": [
            {"limit": "frame.width", "at_most": "1400 mm"},
            {"all_of": [{"limit": "frame.length", "at_most": "1780 mm"}, {"holds": "spare.size > 0 mm"}]},
        ]
    }
    rules = pack({'clauses."1".check': check})
    found = swept(rules, "1", "1300 mm", "1500 mm", "check.any_of[0].at_most")
    assert turns(found) == [(Fraction(1390), True, "fail", "pass", "pass")]
    other = swept(
        rules, "1", "1700 mm", "1900 mm", "check.any_of[1].all_of[0].at_most", frame__width="1450 mm"
    )
    assert turns(other) == [(Fraction(1790), True, "fail", "not_shown", "not_shown")]


def test_a_number_behind_a_formula_turns_exactly_too() -> None:
    rules = pack({'clauses."2".check.at_most': "2 * longest(engine.capacity) - 1 mm"})
    found = swept(rules, "2", "800 mm", "1000 mm", "tables.longest.rows[0].value")
    assert turns(found) == [(Fraction(1791, 2), True, "fail", "pass", "pass")]


def test_what_no_margin_leads_to_is_closed_in_on_and_said_to_be() -> None:
    square = "longest(engine.capacity) * longest(engine.capacity) / (1000 mm)"
    [turn] = swept(
        pack({'clauses."2".check.at_most': square}), "2", "1000 mm", "2000 mm", "tables.longest.rows[0].value"
    ).turns
    assert not turn.exact
    assert (turn.value - RESOLUTION) ** 2 < 1_790_000 <= turn.value**2


def test_a_value_that_the_pack_cannot_stand_is_told() -> None:
    rules = pack({'clauses."1".check.at_least': "1200 mm"})
    with pytest.raises(CannotVaryError, match="with 1500 mm the pack cannot be used"):
        swept(rules, "1", "1100 mm", "1500 mm", "check.at_least")


def test_gear_that_is_counted_gives_a_band_in_which_it_is_too_close() -> None:
    rules = pack({'facts."frame.width".uncertainty': "1 mm"})
    number = find_number(rules, "1")
    sweeper = Sweeper(rules, number, Fraction(1300), Fraction(1500), audience="entrant", on=DAY)
    found = sweeper.sweep(car_document(), "x")
    assert [(t.below, t.above, t.exact) for t in found.turns] == [
        ("fail", "too_close", False),
        ("too_close", "pass", False),
    ]
    band = Fraction(1644854, 10**6)  # one-sided 95 %
    for turn, value in zip(found.turns, (1390 - band, 1390 + band), strict=True):
        assert abs(turn.value - value) <= RESOLUTION


# --- the law ------------------------------------------------------------------------------------------------

SWEPT = {
    "3.3": ("50 %", "54 %", None),
    "3.1": ("570 kg", "620 kg", "tables.minimum_weight.rows[1].value"),
    "5.1": ("270 GBP", "350 GBP", None),
}


@cache
def fleet() -> tuple[Document, ...]:
    return tuple(parse_document(json.dumps(made).encode(), "fleet.jsonl", "CD") for made in cars(4))


@cache
def of_fleet(clause: str) -> tuple[Varied, Curve, Fraction, Fraction]:
    dunlin = load_edition("rulepacks/dunlin/2026.1.yaml")
    low, high, at = SWEPT[clause]
    number = find_number(dunlin, clause, at)
    ends = number.read(low, "GBP"), number.read(high, "GBP")
    sweeper = Sweeper(dunlin, number, *ends, on=DAY)
    return Varied(dunlin, number), curve(sweeper.sweep(d, str(n)) for n, d in enumerate(fleet())), *ends


def inspected(rules: Pack, clause: str) -> dict[str, int]:
    found: dict[str, int] = {}
    for document in fleet():
        (judged,) = inspect_document(rules, document, DAY, "entrant", exact=True, only=[clause]).outcomes
        found[judged.outcome] = found.get(judged.outcome, 0) + 1
    return found


@pytest.mark.deep
@examples(12)
@given(
    part=st.fractions(min_value=0, max_value=1, max_denominator=997),
    clause=st.sampled_from(sorted(SWEPT)),
)
def test_the_curve_at_a_value_equals_an_inspection_at_that_value(part: Fraction, clause: str) -> None:
    varied, found, low, high = of_fleet(clause)
    value = low + part * (high - low)
    assert dict(found.at(value)) == inspected(varied.at(value), clause)


@pytest.mark.parametrize("clause", quick_first(SWEPT, 0))
def test_the_curve_on_its_points_and_beside_them_equals_an_inspection(clause: str) -> None:
    varied, found, _, _ = of_fleet(clause)
    assert found.points
    assert all(point.exact for point in found.points)
    for point in found.points:
        for aside in (-1, 0, 1):
            value = point.value + aside * varied.number.step / 10**8
            assert dict(found.at(value)) == inspected(varied.at(value), clause)


@pytest.mark.parametrize("clause", quick_first(SWEPT, 1))
def test_raising_a_maximum_or_lowering_a_minimum_never_makes_more_cars_fail(clause: str) -> None:
    _, found, _, _ = of_fleet(clause)
    failing = [found.first["fail"], *(n for p in found.points for n in (p.at["fail"], p.above["fail"]))]
    assert failing == sorted(failing, reverse=clause != "3.1")
