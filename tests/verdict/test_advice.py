"""Every act that is told, done on the car as the paper says it, makes its clause pass; or it is told that none does."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.car import Car
from checker.kinds.judging.acts import Act, Acts, Advice, Do
from checker.kinds.judging.assessment import FAIL, PASS, TOO_CLOSE
from checker.pack.model import Pack
from checker.report.one_car.document import outcome_data
from checker.report.words.acts import act_words
from checker.report.words.units import showing
from checker.verdict.advice import advised
from checker.verdict.axes import (
    axis_of,
    done,
)
from checker.verdict.inspection import Inspection, inspect_car
from tests.building import DAY, car_of, pack_of
from tests.conftest import ROOT

KG_PER = {"kg": Fraction(1), "lb": Fraction("0.45359237")}
GEAR = """
instruments: {{pads: {{resolution: 0.5 kg, permissible_error: {error}}}}}
weighing:
  readings: [{{front_left: {fl} kg, front_right: {fr} kg, rear_left: {rl} kg, rear_right: {rr} kg}}]
  instrument: pads
  fuel: 10 L
  driver: out
  tyres: dry
fuel: {{capacity: {tank} L, density: 0.75 kg/L, unusable: 0 L,
  at: {{behind_front_axle: {along} mm, left_of_centre: {across} mm}}}}
tyres: {{dry: {{front: {{mass: 10 kg, section: 200 mm}}, rear: {{mass: 10 kg, section: 200 mm}}}}}}
dimensions: {{wheelbase_left: 2400 mm, wheelbase_right: 2400 mm, front_width_over_tyres: 1700 mm,
  rear_width_over_tyres: 1700 mm}}
"""
CONDITIONS = "conditions: {run: {fuel: unusable to full, driver: out}}"


@dataclass(frozen=True)
class Judged:
    pack: Pack
    car: Car
    inspection: Inspection


def judged(check: str, error: str = "0.5 kg", /, **wheels: object) -> Judged:
    """One clause on a car of 600 kg, 52 % of it left, which is inside; its tank of 40 L ahead and to the left."""
    values: dict[str, object] = {
        "fl": 160,
        "fr": 140,
        "rl": 152,
        "rr": 148,
        "tank": 40,
        "along": 1900,
        "across": 300,
    }
    pack = pack_of(f'"1": {{title: T, text: Words, check: {check}}}', CONDITIONS)
    car = car_of(pack, GEAR.format(error=error, **{**values, **wheels}))
    return Judged(pack, car, advised(inspect_car(pack, car, DAY, "entrant")))


def leaves(advice: Advice | None) -> Iterator[Act]:
    if isinstance(advice, Acts):
        for one in advice.acts:
            yield from leaves(one)
    elif advice is not None:
        yield advice


def as_told(words: str) -> Fraction:
    """The amount on the paper, in kg."""
    told = re.search(r"([0-9.]+) (kg|lb)\b", words)
    assert told, words
    return Fraction(told[1]) * KG_PER[told[2]]


def outcome_after(it: Judged, act: Act, amount: Fraction) -> str:
    axis = axis_of(act, it.car)
    assert axis is not None
    rises = act.do in (Do.ADD, Do.RAISE) or (act.do is Do.MOVE and act.end in ("left", "inside", "front"))
    car = done(it.car, {axis: amount if rises else -amount})
    return inspect_car(it.pack, car, DAY, "entrant").outcomes[0].outcome


loads = st.integers(120, 180)


@given(
    st.fixed_dictionaries({"fl": loads, "fr": loads, "rl": loads, "rr": loads}),
    st.sampled_from(["0.1 kg", "0.5 kg", "2 kg"]),
    st.sampled_from(["percentage.inside", "percentage.left", "percentage.front", "percentage.rear"]),
    st.sampled_from(["at_most: 52 %", "at_least: 50 %", "above: 50 %", "nominal: 51 %, plus_minus: 1.5 %"]),
    st.sampled_from(["run", "as_weighed"]),
    st.sampled_from([None, "us"]),
)
def test_every_move_that_is_told_is_enough(
    wheels: dict[str, int], error: str, share: str, bound: str, condition: str, units: str | None
) -> None:
    it = judged(f"{{limit: {share}, {bound}, condition: {condition}}}", error, **wheels)
    _holds(it, units)


@given(
    st.fixed_dictionaries({"fl": loads, "fr": loads, "rl": loads, "rr": loads}),
    st.sampled_from(["0.1 kg", "0.5 kg", "2 kg"]),
    st.sampled_from(["weight.total", "weight.front", "weight.inside"]),
    st.sampled_from(
        ["at_least: {} kg", "at_most: {} kg", "below: {} kg", "at_least: {} kg, at_most: 640 kg"]
    ),
    st.sampled_from(["run", "as_weighed"]),
    st.sampled_from([None, "us"]),
)
def test_every_weight_that_is_told_to_be_added_or_removed_is_enough(
    wheels: dict[str, int], error: str, weight: str, bound: str, condition: str, units: str | None
) -> None:
    limit = bound.format(600 if weight == "weight.total" else 300)
    it = judged(f"{{limit: {weight}, {limit}, condition: {condition}}}", error, **wheels)
    _holds(it, units)


def _holds(it: Judged, units: str | None) -> None:
    (outcome,) = it.inspection.outcomes
    acts = list(leaves(outcome.assessment.act))
    assert bool(acts) == (outcome.outcome in (FAIL, TOO_CLOSE))
    for act in acts:
        assert act.enough is not None
        with showing(units):
            words = act_words(act)
        amount = as_told(words)
        if act.enough:
            more = Fraction(1, 10**6) if act.more else 0
            assert outcome_after(it, act, amount + more) == PASS
            assert (
                outcome_after(it, act, act.amount.value * Fraction(999, 1000)) != PASS
                if act.amount
                else False
            )
        else:
            assert act.do is Do.NOTHING_HELPS
            assert all(
                outcome_after(it, _either_way(act, way), Fraction(kg)) != PASS
                for way in "+-"
                for kg in (1, 3, 9)
            )


def _either_way(act: Act, way: str) -> Act:
    if act.start:
        ends = (act.start, act.end) if way == "+" else (act.end, act.start)
        return Act(Do.MOVE, amount=act.amount, start=ends[0], end=ends[1])
    return Act(Do.ADD if way == "+" else Do.REMOVE, amount=act.amount, end=act.end)


def test_another_state_than_the_worst_may_need_more() -> None:
    """Fuel a little to the left: the empty car is further out in percent, the full one, which is heavier, in kilograms."""
    it = judged("{limit: percentage.inside, at_most: 51 %, condition: run}", across=22)
    (act,) = leaves(it.inspection.outcomes[0].assessment.act)
    assert (act.do, act.start, act.end, act.enough) == (Do.MOVE, "inside", "outside", True)
    (raw,) = leaves(inspect_car(it.pack, it.car, DAY, "entrant").outcomes[0].assessment.act)
    assert raw.amount is not None
    assert act.amount is not None
    assert raw.amount.value < act.amount.value
    assert outcome_after(it, raw, raw.amount.value) != PASS


def test_no_move_helps_where_the_tank_moves_the_car_further_than_the_band_is_wide() -> None:
    it = judged("{limit: percentage.inside, nominal: 52 %, plus_minus: 0.1 %, condition: run}", "0.1 kg")
    (act,) = leaves(it.inspection.outcomes[0].assessment.act)
    assert (act.do, act.enough) == (Do.NOTHING_HELPS, False)
    words = act_words(act)
    assert re.fullmatch(
        r"no move between \w+ and \w+ helps: over its states the car varies by [0-9.]+ kg more than the limits allow, "
        r"with measuring error",
        words,
    )


@pytest.mark.parametrize(
    ("check", "words"),
    [
        ("{limit: body.width, at_most: 3 mm}", "lower width by 1.3 mm"),
        ("{limit: body.width, nominal: 4 mm, plus_minus: 0.05 mm}", "lower width by 0.25 mm"),
        ("{limit: body.width, below: 4 mm}", "lower width by more than 0.3 mm"),
    ],
)
def test_a_fact_is_moved_as_told(check: str, words: str) -> None:
    """A band narrower than a report's rounding has the amount told more finely, so that it still lies within."""
    pack = pack_of(f'"1": {{title: T, text: Words, check: {check}}}', "facts: {body.width: {unit: mm}}")
    inspection = advised(inspect_car(pack, car_of(pack, "body: {width: 4.3 mm}"), DAY, "entrant"))
    (act,) = leaves(inspection.outcomes[0].assessment.act)
    assert act.enough
    assert act_words(act) == words


def test_each_of_several_ways_is_tried_alone() -> None:
    check = "{any_of: [{limit: body.width, at_most: 3 mm}, {limit: body.height, at_least: 9 mm}]}"
    facts = "facts: {body.width: {unit: mm}, body.height: {unit: mm}}"
    pack = pack_of(f'"1": {{title: T, text: Words, check: {check}}}', facts)
    inspection = advised(inspect_car(pack, car_of(pack, "body: {width: 4 mm, height: 7 mm}"), DAY, "entrant"))
    act = inspection.outcomes[0].assessment.act
    assert act_words(act) == "lower width by 1 mm, or raise height by 2 mm"
    assert [one.enough for one in leaves(act)] == [True, True]


def test_the_weights_together_are_cured_by_what_cures_every_clause() -> None:
    clauses = """
    "1": {title: Light, text: Words, check: {limit: weight.total, at_least: 620 kg, condition: run}}
    "2": {title: Left, text: Words, check: {limit: percentage.inside, at_most: 51 %, condition: run}}
    "3": {title: Rear, text: Words, check: {limit: percentage.rear, at_least: 49 %, condition: run}}
    """
    pack = pack_of(clauses, CONDITIONS)
    text = GEAR.format(error="0.5 kg", fl=160, fr=140, rl=152, rr=148, tank=40, along=1900, across=300)
    car = car_of(pack, text)
    together = advised(inspect_car(pack, car, DAY, "entrant")).together
    assert together is not None
    assert together.enough
    amounts = {}
    for act in together.acts:
        axis = axis_of(act, car)
        assert axis is not None
        assert act.amount is not None
        amounts[axis] = act.amount.value * (1 if act.do is Do.ADD or act.end in ("left", "front") else -1)
    assert set(amounts) >= {("add", "total"), ("move", "left")}
    after = inspect_car(pack, done(car, amounts), DAY, "entrant")
    assert [outcome.outcome for outcome in after.outcomes] == [PASS] * 3


def test_what_is_not_shown_then_is_named_beside_what_cures_the_rest() -> None:
    clauses = """
    "1": {title: Light, text: Words, check: {limit: weight.total, at_least: 620 kg, condition: run}}
    "2": {title: Left, text: Words, check: {limit: percentage.inside, at_most: 51 %, condition: run}}
    "3": {title: Driver, text: Words,
      check: {limit: weight.total, at_least: 600 kg, condition: aboard}}
    """
    aboard = CONDITIONS.removesuffix("}") + ", aboard: {fuel: unusable to full, driver: aboard}}"
    pack = pack_of(clauses, aboard)
    text = GEAR.format(error="0.5 kg", fl=160, fr=140, rl=152, rr=148, tank=40, along=1900, across=300)
    together = advised(inspect_car(pack, car_of(pack, text), DAY, "entrant")).together
    assert together is not None
    assert (together.enough, together.clauses) == (True, ("1", "2"))
    assert together.not_shown == ("3",)  # what the driver weighs is not stated
    assert together.acts


def test_it_is_said_where_nothing_makes_all_weights_pass() -> None:
    clauses = """
    "1": {title: Light, text: Words, check: {limit: weight.total, at_least: 620 kg, condition: run}}
    "2": {title: Heavy, text: Words, check: {limit: weight.total, at_most: 610 kg, condition: run}}
    """
    pack = pack_of(clauses, CONDITIONS)
    text = GEAR.format(error="0.5 kg", fl=160, fr=140, rl=152, rr=148, tank=40, along=1900, across=300)
    together = advised(inspect_car(pack, car_of(pack, text), DAY, "entrant")).together
    assert together is not None
    assert (together.enough, together.acts, together.clauses) == (False, (), ("1", "2"))


def test_an_act_knows_of_a_cap_that_leaves_less_room() -> None:
    clauses = """
    "1": {title: Light, text: Words, check: {limit: weight.total, at_least: 640 kg, condition: as_weighed}}
    "2": {title: Cap, text: Words, check: {limit: sum(b.mass for b in ballast), at_most: 20 kg}}
    """
    pack = pack_of(clauses, CONDITIONS)
    text = GEAR.format(error="0.5 kg", fl=160, fr=140, rl=152, rr=148, tank=40, along=1900, across=300)
    car = car_of(pack, f"{text}\nballast: [{{label: B1, mass: 7.2 kg}}]")
    act = advised(inspect_car(pack, car, DAY, "entrant")).outcomes[0].assessment.act
    assert re.fullmatch(
        r"add 4[0-9]\.[0-9] kg to be clear of measuring error; clause 2 leaves room for 12\.8 kg of ballast only",
        act_words(act),
    )


def told_of_ballast(clause: str, ballast: str) -> str:
    """What is told of a car that is 40 kg too light, by the side of a clause on ballast."""
    light = '"1": {title: Light, text: Words, check: {limit: weight.total, at_least: 640 kg, condition: as_weighed}}'
    pack = pack_of(f'{light}\n"2": {{title: Ballast, text: Words, check: {clause}}}', CONDITIONS)
    text = GEAR.format(error="0.5 kg", fl=160, fr=140, rl=152, rr=148, tank=40, along=1900, across=300)
    inspection = inspect_car(pack, car_of(pack, f"{text}\nballast: {ballast}"), DAY, "entrant")
    return act_words(advised(inspection).outcomes[0].assessment.act)


@pytest.mark.parametrize(
    "clause",
    [
        "{each: ballast, limit: mass, at_most: 9.5 kg}",
        "{each: ballast, all_of: [{limit: mass, at_most: 9.5 kg}, {limit: mass, at_least: 1 kg}]}",
        "{limit: max(b.mass for b in ballast), at_most: 9.5 kg}",
    ],
)
@pytest.mark.parametrize(
    "ballast", ["[{label: B1, mass: 5.5 kg}]", "[{label: B1, mass: 7 kg}, {label: B2, mass: 3 kg}]"]
)
def test_a_limit_on_each_piece_leaves_no_room_that_can_be_told(clause: str, ballast: str) -> None:
    assert "room" not in told_of_ballast(clause, ballast)


@pytest.mark.parametrize(
    ("clause", "left"),
    [
        ("{limit: sum(b.mass for b in ballast), at_most: 20 kg}", "12.8"),
        ("{limit: sum(b.mass for b in ballast) + 2 kg, at_most: 20 kg}", "10.8"),
        (
            "{all_of: [{limit: sum(b.mass for b in ballast), at_most: 8 kg}, "
            "{each: ballast, limit: mass, at_most: 9.5 kg}]}",
            "0.8",
        ),
    ],
)
def test_a_limit_on_the_sum_leaves_room(clause: str, left: str) -> None:
    told = told_of_ballast(clause, "[{label: B1, mass: 3.2 kg}, {label: B2, mass: 4 kg}]")
    assert told.endswith(f"; clause 2 leaves room for {left} kg of ballast only")


@given(st.fixed_dictionaries({"fl": loads, "fr": loads, "rl": loads, "rr": loads}))
def test_every_shift_of_load_between_the_diagonals_is_enough(wheels: dict[str, int]) -> None:
    it = judged("{limit: percentage.cross, nominal: 50 %, plus_minus: 1 %, condition: as_weighed}", **wheels)
    for act in leaves(it.inspection.outcomes[0].assessment.act):
        assert act.enough
        way = 1 if act.end.startswith("front outside") else -1
        amount = as_told(act_words(act)) * way
        assert (
            inspect_car(it.pack, done(it.car, {("cross",): amount}), DAY, "entrant").outcomes[0].outcome
            == PASS
        )


def test_the_schema_knows_everything_that_there_is_to_do() -> None:
    schema = json.loads((ROOT / "checker/report/schemas/inspection.schema.json").read_text("utf-8"))
    assert set(schema["$defs"]["act"]["properties"]["do"]["enum"]) == {*map(str, Do), "one_of"}


def test_what_each_entry_is_told_is_tried_for_the_whole_clause() -> None:
    check = "{each: ballast, limit: mass, at_most: 5 kg}"
    pack = pack_of(f'"1": {{title: T, text: Words, check: {check}}}')
    car = car_of(pack, "ballast: [{label: B1, mass: 7 kg}, {label: B2, mass: 6 kg}, {label: B3, mass: 1 kg}]")
    found = advised(inspect_car(pack, car, DAY, "entrant"))
    data = outcome_data(found.outcomes[0])
    assert [(item["item"], [one["enough"] for one in item["acts"]]) for item in data["items"]] == [
        ("B1", [True]),
        ("B2", [True]),
    ]


def test_clauses_are_tried_alone_where_that_is_asked() -> None:
    clauses = """
    "1": {title: A, text: Words, check: {limit: body.width, at_most: 3 mm}}
    "2": {title: B, text: Words, check: {limit: body.height, at_most: 3 mm}}
    """
    pack = pack_of(clauses, "facts: {body.width: {unit: mm}, body.height: {unit: mm}}")
    found = advised(
        inspect_car(pack, car_of(pack, "body: {width: 4 mm, height: 5 mm}"), DAY, "entrant"), ["2"]
    )
    assert [[act.enough for act in leaves(o.assessment.act)] for o in found.outcomes] == [[None], [True]]
    assert found.together is None


def test_an_act_that_is_not_enough_says_so() -> None:
    act = Act(Do.LOWER, "width", None, target=("body.width",), enough=False)
    assert act_words(act).endswith("which is not enough in every state")
