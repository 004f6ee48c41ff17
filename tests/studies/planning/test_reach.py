"""What a car can reach is the hull of everything that can be done to it, and the legal part of that."""

from __future__ import annotations

from checker.report.one_car.reach import reach_document, reach_figure
from checker.studies.planning.options import Loads
from checker.studies.planning.reach import Reached, _turn, reach
from tests.car.cars import known
from tests.report.documents import valid
from tests.studies.planning.cars import planned, rules
from tests.studies.planning.test_planner import RULES, all_choices, small_car

CAR = small_car(
    {"places": [(-200, 400, None), (1200, -500, "8 kg")], "shelf": ["4 kg", "7 kg"], "moves": True}
)


def test_every_set_up_lies_within_the_corners_and_every_corner_is_a_set_up() -> None:
    plan = planned(RULES, CAR)
    found = reach(plan, 60)
    assert found.whole
    weights = plan.model.car.weights()
    now = {name: float(known(weights.weight(name))) for name in ("left", "rear", "total")}
    every = set()
    for chosen in all_choices(plan):
        moved = dict(now)
        for option, times in chosen.items():
            loads = option.loads(None)
            assert isinstance(loads, Loads)
            for name in now:
                moved[name] += float(loads[name] * times)
        left, rear, total = moved.values()
        every.add((round(left / total, 7), round(rear / total, 7)))
    corners = found.possible
    assert {(round(one.inside, 7), round(one.rear, 7)) for one in corners} <= every
    for inside, rear in every:
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
            assert _turn(a, b, Reached(inside, rear)) > -2e-5 * 0.01


def test_the_plan_lies_in_what_is_legal() -> None:
    found = reach(planned(RULES, CAR), 60)
    assert found.planned is not None
    assert found.legal
    for a, b in zip(found.legal, (*found.legal[1:], found.legal[0]), strict=True):
        assert _turn(a, b, found.planned) > -1e-7


def test_where_nothing_is_legal_there_is_no_legal_corner() -> None:
    found = reach(planned(rules("{limit: weight.total, at_least: 900 kg, condition: as_weighed}"), CAR), 60)
    assert (found.planned, found.legal) == (None, ())
    document = valid(reach_document(found))
    figure = reach_figure(document)
    assert figure.svg.count("<path") == 2  # the region, and the cross where the car is
    assert "nothing of it is legal by weight" in figure.svg
