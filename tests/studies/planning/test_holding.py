"""What holds a plan back, against finite differences; and where nothing works, why."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from typing import Any

import pytest

from checker.report.one_car.plan import plan_document
from checker.report.one_car.plan_text import plan_text
from checker.report.page import Page
from checker.studies.planning.aims import mass
from checker.studies.planning.highs import Clock, solve
from checker.studies.planning.holding import conflict, more_that_would_do, prices, unresolvable
from checker.studies.planning.model import Model
from checker.studies.planning.program import Program, Status
from checker.studies.planning.rows import Linear, Row
from tests.report.documents import valid
from tests.studies.planning.cars import at, car, planned, rules

TWO: dict[str, Any] = {
    "places": [{"name": "nose", "at": at(300)}, {"name": "tail", "at": at(2000), "most": "6 kg"}],
    "shelf": [{"label": "lead", "step": "0.5 kg", "most": "60 kg"}],
}
TOTAL = "{limit: weight.total, at_least: 660 kg, condition: as_weighed}"


def least(program: Program, model: Model) -> float:
    return solve(program.relaxed(), mass(model), Clock(10)).objective


@pytest.mark.parametrize("share", ["{limit: percentage.front, at_least: 48 %, condition: any}", TOTAL])
def test_what_a_kilogram_buys_is_the_slope_of_the_least_mass(share: str) -> None:
    model = planned(
        rules(share, "{limit: weight.front, at_least: 309 kg, condition: as_weighed}"), car(TWO)
    ).model
    told = {price.group: price.kg for price in prices(model, Clock(10))}
    assert told
    step = 1e-3
    for group in model.groups:
        wider = tuple(
            replace(one, low=one.low - step, high=one.high + step) if one.group == group else one
            for one in model.program.constraints
        )
        bought = least(model.program, model) - least(Program(model.program.columns, wider), model)
        assert bought / step == pytest.approx(told.get(group, 0.0), abs=1e-5), group


def test_clauses_that_cannot_hold_together_are_few_and_each_is_needed() -> None:
    pack = rules(
        TOTAL,
        "{limit: percentage.left, at_most: 60 %, condition: any}",
        "{limit: percentage.front, at_most: 46.6 %, condition: as_weighed}",
    )
    nose = {**TWO, "places": [TWO["places"][0]]}
    found = planned(pack, car(nose))
    assert found.status is Status.INFEASIBLE
    assert conflict(found.model, Clock(10)) == ("clause 1", "clause 3")
    more = more_that_would_do(found.model, Clock(10))
    assert more is not None
    assert more.places == ()
    assert more.kg == pytest.approx(
        307.625 / 0.466 - 651
    )  # with 11 kg in the nose, and it over the rear axle
    assert 0 <= more.along_mm <= 2400


def test_the_fewest_are_told_and_not_any_that_are_at_odds() -> None:
    """Trying everything: three of four clauses are at odds, and so are two that stand behind them."""
    pack = rules(
        "{limit: weight.total, at_least: 649 kg, condition: as_weighed}",
        "{limit: percentage.front, at_least: 47.5 %, condition: as_weighed}",
        "{limit: percentage.rear, at_least: 52.9 %, condition: as_weighed}",
        "{limit: weight.total, at_most: 645 kg, condition: as_weighed}",
        "{limit: percentage.left, at_least: 50.4 %, condition: as_weighed}",
    )
    things = {
        "places": [{"name": "nose", "at": at(300)}, {"name": "tail", "at": at(2300)}],
        "shelf": TWO["shelf"],
    }
    model = planned(pack, car(things)).model
    clauses = [group for group in model.groups if group.startswith("clause ")]

    def at_odds(kept: tuple[str, ...]) -> bool:
        program = model.without(*(group for group in clauses if group not in kept))
        return solve(program, {}, Clock(10)).status is Status.INFEASIBLE

    found = conflict(model, Clock(10))
    assert at_odds(found)
    assert not any(at_odds(fewer) for n in range(len(found)) for fewer in combinations(clauses, n))


def test_where_ballast_alone_cannot_do_what_would_have_to_come_off_is_told() -> None:
    light = rules("{limit: weight.total, at_most: 630 kg, condition: as_weighed}")
    found = planned(light, car(TWO))
    assert found.more is not None
    assert found.more.off is not None
    assert (found.more.kg, found.more.off.kg) == pytest.approx((0, 10))
    page = Page(80)
    plan_text(valid(plan_document(found)), page)
    assert "It would be enough to take 10 kg off" in " ".join(page.text().split())


def test_what_a_place_would_have_to_carry_more() -> None:
    tail = {**TWO, "places": [{"name": "tail", "at": at(2000), "most": "6 kg"}]}
    found = planned(rules(TOTAL), car(tail))
    more = more_that_would_do(found.model, Clock(10))
    assert more is not None
    assert dict(more.places) == {"tail": pytest.approx(14)}
    assert conflict(found.model, Clock(10)) == ("clause 1",)


def test_a_place_that_carries_too_much_already_is_named() -> None:
    ballast = [{"label": "B1", "mass": "9 kg", "at": at(2000)}]
    found = planned(rules(TOTAL), car(TWO, ballast=ballast))
    assert found.status is Status.INFEASIBLE
    assert conflict(found.model, Clock(10)) == ("place tail",)


def test_a_window_that_the_gear_cannot_resolve_is_named() -> None:
    def row(sign: int, guard: str) -> Row:
        value = Linear(Fraction(1), rear=Fraction(sign))
        return Row("1", None, 0, value, Linear(Fraction(1)), Fraction(guard))

    assert [one.clause for one in unresolvable([row(1, "1.2"), row(-1, "1.2")])] == ["1"]
    assert unresolvable([row(1, "0.9"), row(-1, "0.9")]) == ()


def test_a_place_that_takes_no_piece_is_still_told_of() -> None:
    small = {
        "places": [{"name": "nose", "at": at(300), "most": "0.2 kg"}],
        "shelf": TWO["shelf"],
        "may_come_off": ["B1"],
    }
    ballast = [{"label": "B1", "mass": "2 kg", "at": at(1000)}]
    found = planned(rules(TOTAL), car(small, ballast=ballast))
    assert found.more is not None
    assert dict(found.more.places) == {"nose": pytest.approx(20)}


def test_rules_without_weights_ask_for_nothing() -> None:
    found = planned(rules("{limit: dimensions.wheelbase_left, at_least: 2000 mm}"), car(TWO))
    page = Page(80)
    plan_text(plan_document(found), page)
    assert "Nothing: the car meets every clause on weights as it is." in " ".join(page.text().split())
