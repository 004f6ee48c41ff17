"""Plans of a car's weights: right by hand, by trying everything, and by another solver."""

from __future__ import annotations

import json
from collections.abc import Iterator
from fractions import Fraction
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.kinds.judging.assessment import NOT_APPLICABLE, PASS
from checker.pack.model import Pack
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.studies.planning import aims
from checker.studies.planning.aims import Aim, Costs, Ratio, aims_of, best, largest
from checker.studies.planning.highs import Clock, solve
from checker.studies.planning.options import Doing, Option
from checker.studies.planning.planner import WeightPlan
from checker.studies.planning.program import Constraint, Decided, Program, Solution, Status
from checker.studies.planning.written import written
from checker.verdict.inspection import inspect_car
from tests.building import DAY
from tests.car.cars import known
from tests.examples import examples
from tests.studies.planning.cars import at, car, done, planned, rules

FRONT = {"name": "nose", "at": at(200)}


def stock(step: str = "0.001 kg", most: str = "40 kg") -> list[dict[str, str]]:
    return [{"label": "lead", "step": step, "most": most}]


# --- outside cases ---------------------------------------------------------------------------------------------


def test_ballast_to_reach_a_share() -> None:
    """M12: 0.2 m behind the front axle, 21.068702 kg bring the front to 48 % exactly."""
    found = planned(
        rules("{limit: percentage.front, at_least: 48 %, condition: as_weighed}"),
        car({"places": [FRONT], "shelf": stock()}),
    )
    assert done(found) == [("add", "lead", "nose", 21069)]
    assert found.status is Status.OPTIMAL


def test_ballast_at_two_places_for_a_total_and_a_share() -> None:
    """M13: 17.176471 kg at 0.3 m and 2.823529 kg at 2.0 m make 660 kg with 47.5 % on the front."""
    pack = rules(
        "{limit: weight.total, at_least: 660 kg, condition: as_weighed}",
        "{limit: percentage.front, at_least: 47.5 %, at_most: 47.5 %, condition: as_weighed}",
    )
    things = {"places": [{"name": "a", "at": at(300)}, {"name": "b", "at": at(2000)}], "shelf": stock("1 kg")}
    document = car(things)
    model = planned(pack, document).model
    relaxed = solve(model.program.relaxed(), {0: 1, 1: 1}, Clock(10))
    assert relaxed.values[:2] == pytest.approx((17.176471, 2.823529), abs=1e-6)


# --- everything tried ------------------------------------------------------------------------------------------

RULES = rules(
    "{limit: weight.total, at_least: 640 kg, condition: any_without_driver}",
    "{limit: percentage.rear, at_least: 50 %, at_most: 53.9 %, condition: any_without_driver}",
    "{limit: percentage.left, at_most: 50.6 %, condition: any_without_driver}",
    "{limit: sum(b.mass for b in ballast), at_most: 24 kg}",
    "{each: ballast, limit: mass, at_most: 9 kg}",
)
KG = st.sampled_from(["1 kg", "2.5 kg", "4 kg", "7 kg", "9.5 kg"])
ALONG, LEFT = st.sampled_from([-200, 300, 1200, 2500]), st.sampled_from([-500, 0, 400])
PLACES = st.lists(st.tuples(ALONG, LEFT, st.sampled_from([None, "8 kg"])), min_size=1, max_size=2)
THINGS = st.fixed_dictionaries(
    {"places": PLACES, "shelf": st.lists(KG, min_size=1, max_size=2), "moves": st.booleans()}
)


def small_car(things: dict[str, Any]) -> Any:
    ballast = [
        {"label": "B1", "mass": "6 kg", "at": at(2100, 450)},
        {"label": "B2", "mass": "3 kg", "at": at(400, -300)},
    ]
    planning: dict[str, Any] = {
        "places": [
            {"name": f"p{n}", "at": at(x, y), **({} if most is None else {"most": most})}
            for n, (x, y, most) in enumerate(things["places"])
        ],
        "shelf": [
            {"label": f"S{n}", "mass": kg, "count": 3 - len(things["shelf"])}
            for n, kg in enumerate(things["shelf"])
        ],
    }
    if things["moves"]:
        planning |= {"movable": [{"what": "B1", "to": ["p0"]}], "may_come_off": ["B2"]}
    return car(planning, ballast=ballast)


def all_choices(plan: WeightPlan) -> Iterator[dict[Option, Fraction]]:
    """Every way of doing the options that the places, the shelf and the car itself allow."""
    options = plan.model.options
    for times in product(*(range(option.most + 1) for option in options)):
        chosen = {o: Fraction(n) for o, n in zip(options, times, strict=True) if n}
        if all(_possible(plan, chosen)):
            yield chosen


def _possible(plan: WeightPlan, chosen: dict[Option, Fraction]) -> Iterator[bool]:
    for piece in plan.model.planning.shelf:
        yield sum(n for o, n in chosen.items() if o.of is piece) <= piece.count
    for path in {o.path for o in chosen if o.path}:
        yield sum(1 for o in chosen if o.path == path) <= 1
    for place in plan.model.planning.places:
        kg = sum((o.kg * n for o, n in chosen.items() if o.place is place), Fraction(0))
        yield place.most_kg is None or kg <= place.most_kg


def mass_of(chosen: dict[Option, Fraction]) -> Fraction:
    signs = {Doing.ADD: 1, Doing.MOVE: 0, Doing.TAKE_OFF: -1}
    return sum((signs[o.doing] * o.kg * n for o, n in chosen.items()), Fraction(0))


@examples(15)
@given(things=THINGS, aim=st.sampled_from([Aim.LEAST, Aim.INSIDE, Aim.REAR]))
def test_no_placement_that_holds_is_better_and_none_is_missed(things: dict[str, Any], aim: Aim) -> None:
    document = small_car(things)
    found = planned(RULES, document, aim)
    loaded = load_car(document, RULES.vocabulary)
    legal = []
    for chosen in all_choices(found):
        text = written(document, loaded, chosen)
        judged = inspect_car(
            RULES, load_car(parse_document(text.encode(), "car.yaml", "CD"), RULES.vocabulary), DAY, "entrant"
        )
        if all(o.outcome in (PASS, NOT_APPLICABLE) for o in judged.outcomes):
            legal.append(sought(judged.car, chosen, aim))
    if not legal:
        assert found.status is Status.INFEASIBLE
    else:
        assert found.found is not None
        assert found.found.proven
        reached = sought(found.found.inspection.car, dict(found.found.chosen), aim)
        assert max(legal) - reached <= (0 if aim is Aim.LEAST else Fraction(2, 10**5))


def test_the_largest_share_is_found_where_every_choice_lowers_it() -> None:
    columns = (Decided("5 kg, 0.67 of them rear", 0, 1), Decided("60 kg, 30 of them rear", 0, 1))
    program = Program(columns, (Constraint("one of them", {0: 1.0, 1: 1.0}, low=1, high=1),))
    rear = Ratio({0: 0.67, 1: 30.0}, 342.0, {0: 5.0, 1: 60.0}, 640.0)
    assert largest(program, rear, Clock(10)).values == pytest.approx((0, 1))  # 372 of 700, not 342.67 of 645


def sought(car: Car, chosen: dict[Option, Fraction], aim: Aim) -> Fraction:
    """What the aim wants as much as may be of."""
    if aim is Aim.LEAST:
        return -mass_of(chosen)
    return known(car.weights().percentage(car.inside if aim is Aim.INSIDE else "rear"))


# --- another solver --------------------------------------------------------------------------------------------


def by_scipy(program: Program, costs: Costs, *_: object) -> Solution:
    import numpy as np
    import scipy.optimize
    import scipy.sparse

    columns = program.columns
    cost = np.array([costs.get(n, 0.0) for n in range(len(columns))])
    rows = scipy.sparse.lil_matrix((len(program.constraints), len(columns)))
    for at_row, one in enumerate(program.constraints):
        for n, factor in one.terms.items():
            rows[at_row, n] = factor
    held = scipy.optimize.LinearConstraint(
        rows.tocsr(), [c.low for c in program.constraints], [c.high for c in program.constraints]
    )
    bounds = scipy.optimize.Bounds([c.low for c in columns], [c.high for c in columns])
    found = scipy.optimize.milp(
        cost, integrality=[int(c.whole) for c in columns], bounds=bounds, constraints=[held]
    )
    if found.x is None:
        return Solution(Status.INFEASIBLE)
    return Solution(Status.OPTIMAL, tuple(found.x), float(found.fun))


@pytest.mark.deep
@examples(25)
@given(things=THINGS, aim=st.sampled_from([Aim.LEAST, Aim.INSIDE, Aim.REAR, Aim.FEWEST_MOVES]))
def test_another_solver_finds_the_same(things: dict[str, Any], aim: Aim) -> None:
    model = planned(RULES, small_car(things)).model
    ours = best(model, aim, Clock(10))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(aims, "solve", by_scipy)
        theirs = best(model, aim, Clock(10))
    assert bool(ours.values) == bool(theirs.values)
    if ours.values:
        for one in list(aims_of(aim, model))[:1]:
            mine, other = (value_of(one, found.values) for found in (ours, theirs))
            assert mine == pytest.approx(other, abs=2e-5)


def value_of(aim: Costs | Ratio, values: tuple[float, ...]) -> float:
    return aim.at(values) if isinstance(aim, Ratio) else sum(by * values[at] for at, by in aim.items())


# --- what is told ----------------------------------------------------------------------------------------------


def test_the_written_car_is_judged_as_the_plan_says() -> None:
    found = planned(RULES, small_car({"places": [(1200, 0, None)], "shelf": ["4 kg", "7 kg"], "moves": True}))
    assert found.found is not None
    text = found.found.text
    judged = inspect_car(
        RULES, load_car(parse_document(text.encode(), "car.yaml", "CD"), RULES.vocabulary), DAY, "entrant"
    )
    told = [(o.clause.number, o.outcome, o.assessment.margin) for o in found.found.inspection.outcomes]
    assert told == [(o.clause.number, o.outcome, o.assessment.margin) for o in judged.outcomes]
    assert judged.complies


def test_a_clause_on_pieces_bars_what_it_forbids() -> None:
    things = {
        "places": [FRONT],
        "shelf": [{"label": "S", "mass": "9.5 kg", "count": 3}, *stock("1 kg", "20 kg")],
    }
    pack = rules(
        "{limit: weight.total, at_least: 648 kg, condition: as_weighed}",
        "{each: ballast, limit: mass, at_most: 9 kg}",
    )
    found = planned(pack, car(things))
    assert done(found) == [("add", "lead", "nose", 8)]
    assert {(bar.option.what, bar.clause, bar.most) for bar in found.barred} == {
        ("S", "2", 0),
        ("lead", "2", 9),
    }


def test_what_slides_goes_as_far_as_is_needed() -> None:
    ends = [at(1200), at(1400)]
    pack = rules("{limit: percentage.rear, at_least: 53 %, condition: any}")
    found = planned(pack, car({"movable": [{"what": "driver", "between": ends}]}))
    assert done(found)[0][:2] == ("move", "driver")
    assert found.found is not None
    assert 1200 < found.found.inspection.car.value("driver.at.behind_front_axle") < 1400
    aside = planned(pack, car({"movable": [{"what": "driver", "between": [at(1300), at(1400)]}]}))
    assert [one.what for one in aside.left_out] == ["driver"]


def test_the_tank_weighs_what_is_in_it() -> None:
    pack = rules("{limit: percentage.front, at_least: 46.7 %, condition: any_without_driver}")
    found = planned(pack, car({"movable": [{"what": "fuel tank", "to": [{"name": "front", "at": at(300)}]}]}))
    assert (
        done(found) == [("move", "fuel tank", "front", 1)]
        if found.found
        else found.status is Status.INFEASIBLE
    )


def test_what_cannot_be_followed_declines() -> None:
    pack = rules(
        "{limit: weight.total, at_least: 645 kg, condition: as_weighed}",
        "{limit: percentage.cross, at_most: 60 %, condition: as_weighed}",
        "{limit: weight.front * weight.rear / 1 kg, at_least: 1 kg, condition: as_weighed}",
    )
    found = planned(pack, car({"places": [FRONT], "shelf": stock("1 kg")}))
    assert [one.clause for one in found.declined] == ["2", "3"]
    assert done(found) == [("add", "lead", "nose", 5)]


@pytest.mark.parametrize(
    ("limit", "pieces"),
    [
        ("limit: weight.total, exactly: 650 kg", 10),
        ("limit: weight.total, exactly: 650 kg, tolerance: 2.5 kg", 8),
        ("limit: weight.total, nominal: 650 kg, plus: 1 kg, minus: 1.5 kg", 9),
        ("limit: weight.total, above: 645 kg", 6),
        ("limit: weight.total, at_least: 650.3 kg, rounded: {to: 1 kg, mode: half_up}", 11),
        ("limit: percentage.front, exactly: 47 %, tolerance: 0.1 %", 5),
    ],
)
def test_what_is_to_be_exactly_so_is_met_from_either_side(limit: str, pieces: int) -> None:
    tail = {"name": "tail", "at": at(2100)}
    heavy = [{"label": "B1", "mass": "12 kg", "at": at(1200)}]
    for ballast, off in (([], []), (heavy, ["B1"])):  # from below; and from above, where 12 kg may come off
        things = {"places": [FRONT, tail], "shelf": stock("1 kg"), "may_come_off": off}
        found = planned(rules(f"{{{limit}, condition: as_weighed}}"), car(things, ballast=ballast))
        assert found.declined == ()
        assert found.found is not None
        assert found.found.inspection.complies
        if not off:
            assert sum(times for *_, times in done(found)) == pieces


def test_what_has_no_mass_is_left_out() -> None:
    components = [{"name": "battery", "at": at(500)}]
    things = {"movable": [{"what": "battery", "to": [FRONT]}], "places": [FRONT], "shelf": stock("1 kg")}
    found = planned(
        rules("{limit: weight.total, at_least: 641 kg, condition: as_weighed}"),
        car(things, components=components),
    )
    assert [one.what for one in found.left_out] == ["battery"]


def test_without_anything_to_do_it_says_what_to_write() -> None:
    with pytest.raises(InputError) as told:
        planned(rules("{limit: weight.total, at_least: 641 kg, condition: as_weighed}"), car({}))
    assert [problem.code for problem in told.value.problems] == ["PL305"]


@pytest.mark.parametrize("aim", Aim)
def test_every_run_is_alike(aim: Aim) -> None:
    places = [
        {"name": f"p{n}", "at": at(x, 0, above_ground="200 mm")} for n, x in enumerate((200, 900, 2300))
    ]
    document = car({"places": places, "shelf": [{"label": "S", "mass": "2 kg", "count": 9}]})
    pack = rules(
        "{limit: weight.total, at_least: 650 kg, condition: as_weighed}",
        "{limit: sum(b.mass for b in ballast), at_most: 14 kg}",
    )
    first, again = planned(pack, document, aim), planned(pack, document, aim)
    assert done(first) == done(again)
    assert json.dumps(done(first))


def test_the_aims_differ() -> None:
    places = [
        {"name": "low", "at": at(1200, 500, above_ground="100 mm")},
        {"name": "rear", "at": at(2400, 0, above_ground="900 mm")},
    ]
    document = car({"places": places, "shelf": [{"label": "S", "mass": "3 kg", "count": 4}]})
    pack = rules("{limit: weight.total, at_least: 645 kg, condition: as_weighed}")

    def of(aim: Aim) -> list[tuple[str, str, str, float]]:
        return done(planned(pack, document, aim))

    assert sum(times for *_, times in of(Aim.LEAST)) == 2
    assert of(Aim.REAR) == [("add", "S", "rear", 4)]
    assert of(Aim.INSIDE) == [("add", "S", "low", 4)]
    assert of(Aim.LOW) == [("add", "S", "low", 4)]
    bare = car({"places": [FRONT], "shelf": stock("1 kg")})
    with pytest.raises(InputError) as told:
        planned(pack, bare, Aim.LOW)
    assert [problem.code for problem in told.value.problems] == ["PL303"]


def test_guards_widen_what_is_asked() -> None:
    pads = {"home pads": {"resolution": "1 kg"}}
    from tests.studies.planning.cars import M11

    document = car(
        {"places": [FRONT], "shelf": stock("0.1 kg")},
        instruments=pads,
        weighing={**M11["weighing"], "instrument": "home pads"},
    )
    pack: Pack = rules("{limit: weight.total, at_least: 645 kg, condition: as_weighed}")
    usual = done(planned(pack, document))[0][3]
    surer = done(planned(pack, document, confidence=Fraction(999, 1000)))[0][3]
    assert 50 < usual < surer
