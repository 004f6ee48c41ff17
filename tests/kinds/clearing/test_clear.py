"""The floats that call a margin clear never say less than the exact figures, and near a limit they leave it to them."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import checker.kinds.limiting.spreads as limit
from checker.car.car import Car
from checker.car.scene import Scene
from checker.car.weights.weights import State
from checker.kinds.clearing.clear import guard_at_most, is_beyond
from checker.kinds.clearing.weight_scatter import levers_followed, weight_scatter
from checker.kinds.clearing.weights_in_floats import weight_in_floats
from checker.kinds.contract.check import Check
from checker.kinds.judging.spread import effective_degrees, relevant, sensitivities, total
from checker.kinds.limit import Limit
from checker.quantities.kind import Unknown
from checker.verdict.decision import Rule
from tests.building import inspection_of, pack_of
from tests.car.cars import loaded, made_up_cars, varied
from tests.car.errors.test_followed import AT_A_LEVEL, GEAR, uncertain
from tests.car.test_what_rests_on_what import CARS, states_of
from tests.examples import examples, quick_first

NAMES = ("weight.total", "weight.front", "weight.inside", "percentage.inside", "percentage.rear")
ACROSS = ("weight.cross", "percentage.cross")
"""Told as weighed alone."""
RULE = Rule("entrant")


def is_told_rightly(car: Car, state: State | None, name: str) -> bool:
    """Each slope in floats is the exact one, or one that is next to nothing in its place, and the band is no narrower;
    whether floats told it all.
    """
    scene = Scene(car, state)
    what, _, which = name.partition(".")

    def value(where: Scene) -> tuple[Fraction] | Unknown:
        found = where.weight(which) if what == "weight" else where.percentage(which)
        return found if isinstance(found, Unknown) else (found,)

    here = value(scene)
    assert not isinstance(here, Unknown)
    in_floats = weight_in_floats(name, scene)
    assert (in_floats is None) == (which == "cross")
    assert (
        in_floats is None
        or abs(Fraction(in_floats[0]) - here[0]) <= Fraction(in_floats[1]) <= abs(here[0]) / 10**13
    )
    sources, uses = relevant(scene, {name}), frozenset({name})
    found = sensitivities(value, scene, sources, uses, here)
    followed = levers_followed(name, scene)
    assert not isinstance(found, Unknown)
    assert followed is not None
    by_lever, slope_by = followed
    exact = {one.source.lever.key: abs(float(one.slope)) for one in found[0]}
    for source in sources:
        of, mine = by_lever.get(source.lever.key), exact.get(source.lever.key, 0.0)
        slope = 0.0 if of is None else slope_by(of)
        assert slope is None or (slope >= mine * (1 - 1e-6) and (not mine or slope <= mine * (1 + 1e-6)))
    scatter = weight_scatter(name, scene)
    if scatter is None:
        return False
    variance = total(one.variance for one in found[0])
    band = RULE.factor(effective_degrees(found[0], variance)) ** 2 * variance if variance else Fraction(0)
    bound = guard_at_most(scatter, RULE)
    assert band == 0 or bound > band
    assert not is_beyond(Fraction(math.sqrt(band)), bound), "on the edge of the band exact figures decide"
    return True


@pytest.mark.parametrize("declaration", quick_first([AT_A_LEVEL, *CARS.values()], 1))
def test_floats_tell_what_exact_figures_do(declaration: dict[str, Any]) -> None:
    car = uncertain(declaration)
    told = [is_told_rightly(car, state, name) for state in states_of(car) for name in NAMES]
    assert told.count(True) > len(told) / 2, "exact figures tell where slopes of two parts cancel"
    assert all(is_told_rightly(car, None, name) for name in ACROSS)
    assert {
        weight_scatter(name, Scene(car, state)) for state in states_of(car) if state for name in ACROSS
    } == {None}


@examples(60)
@given(declaration=made_up_cars(), name=st.sampled_from(NAMES), place=st.integers(0, 100))
def test_floats_tell_it_of_any_car(declaration: dict[str, Any], name: str, place: int) -> None:
    car = loaded(varied(GEAR, declaration))
    states = states_of(car)
    is_told_rightly(car, states[place % len(states)], name)
    for name in ACROSS if isinstance(Scene(car).weight("cross"), Fraction) else ():
        is_told_rightly(car, None, name)


CLAUSES = """
"1": {{title: T, text: W, check: {{limit: weight.total, at_least: {0} kg, condition: any}}}}
"2": {{title: T, text: W, check: {{limit: weight.total, at_most: 600 kg + 0.01 kg/mm * body.length, condition: any}}}}
"3": {{title: T, text: W, check: {{limit: percentage.inside, at_least: 40 %, at_most: {1} %, condition: any}}}}
"4": {{title: T, text: W, check: {{limit: body.length, at_most: {0} mm}}}}
"5": {{title: T, text: W, check: {{limit: body.panels, at_least: {1} mm, of_several: worst}}}}
"6": {{title: T, text: W, check: {{limit: count(p for p in body.panels), exactly: 3}}}}
"7": {{title: T, text: W, check: {{each: rods, limit: bore, at_most: 0.5 mm/kg * mass}}}}
"8": {{title: T, text: W, check: {{limit: mean(p for p in body.panels), at_most: {1} mm, at_least: 40 mm}}}}
"9": {{title: T, text: W, check: {{limit: sum(r.mass for r in rods), above: 2 * {1} kg + 97 kg}}}}
"10": {{title: T, text: W, check: {{limit: abs(body.length - 13 mm/kg * weight.front), at_most: 4400 mm,
  condition: any}}}}
"11": {{title: T, text: W, check: {{let: {{half: body.length / 2}}, limit: 'max(half, 315 mm)', nominal: 317 mm,
  plus_minus: 2 mm}}}}
"12": {{title: T, text: W, check: {{limit: count(p for p in body.panels if p > {1} mm), at_most: 2}}}}
"13": {{title: T, text: W, check: {{limit: by_length(body.length), at_most: 2}}}}
"""
FACTS = """
facts:
  body.length: {unit: mm, uncertainty: 2 mm}
  body.panels: {unit: mm, several: true, uncertainty: 0.1 mm}
tables:
  by_length: {by: [length], rows: [{length: up to 635 mm, value: 2}, {length: above 635 mm, value: 3}]}
lists:
  rods: {known_by: name, fields: {name: {type: text}, bore: {unit: mm, uncertainty: 0.1 mm},
    mass: {unit: kg, uncertainty: 0.2 kg}}}
"""
DECLARED = """
body: {{length: {0} mm, panels: [{1} mm, {2} mm, 55 mm]}}
rods: [{{name: a, bore: {1} mm, mass: 100 kg}}, {{name: b, bore: 50 mm, mass: {2} kg}}]
weighing:
  instrument: pads
  fuel: 6 L
  driver: out
  tyres: dry
  wear: new
  readings: [{{front_left: 150 kg, front_right: 148 kg, rear_left: 172 kg, rear_right: 170 kg}}]
instruments: {{pads: {{resolution: 0.5 kg, permissible_error: 0.5 kg, common_error: 0.05 %}}}}
dimensions: {{wheelbase_left: 2200 mm, wheelbase_right: 2204 mm, front_width_over_tyres: 1715 mm,
  rear_width_over_tyres: 1715 mm}}
tyres: {{dry: {{front: {{mass: 14 kg, section: 215 mm}}, rear: {{mass: 15 kg, section: 215 mm}}}}}}
fuel:
  capacity: 22 L
  unusable: 0 L
  density: {{value: 0.75 kg/L, uncertainty: 0.01 kg/L}}
  at: {{behind_front_axle: 1760 mm, right_of_centre: 60 mm}}
driver: {{mass: {{value: 82 kg, uncertainty: 0.3 kg}}, at: {{behind_front_axle: 1210 mm, right_of_centre: 30 mm}}}}
wear: {{front_left: 0.4 kg, front_right: 0.6 kg, rear_left: 0.4 kg, rear_right: 0.6 kg}}
"""


def tenths(low: int, high: int) -> st.SearchStrategy[str]:
    return st.integers(10 * low, 10 * high).map(lambda n: f"{n / 10:.1f}")


@examples(40)
@given(
    kg=tenths(630, 640),
    share=tenths(49, 53),
    values=st.tuples(tenths(628, 642), tenths(48, 54), tenths(95, 105)),
    audience=st.sampled_from(["entrant", "official"]),
    official=st.sampled_from(["as_displayed", "benefit_to_entrant", "strict"]),
)
def test_an_outcome_is_the_same_with_and_without_them(
    kg: str, share: str, values: tuple[str, str, str], audience: str, official: str
) -> None:
    pack = pack_of(CLAUSES.format(kg, share), f"decision: {{official: {official}}}\n{FACTS}")
    car = DECLARED.format(*values)

    def outcomes() -> list[Any]:
        found = inspection_of(pack, car, audience=audience).outcomes
        return [(o.outcome, o.assessment.margin, o.assessment.state, o.assessment.spread) for o in found]

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(limit, "is_beyond", lambda *_: False)
        patched.setattr(limit.Spreads, "_is_stated", lambda *_: False)
        patched.setattr(limit, "scatter_of", lambda *_: None)
        patched.setattr(Limit, "clear_margin", Check.clear_margin)
        slow = outcomes()
    assert outcomes() == slow
