"""Propagation of uncertainty through the checks of a pack, against brute force and by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

import checker.kinds.limiting.spreads as limit
from checker.car.described.asking import MEAN, single
from checker.car.errors.sources import ErrorSource, Perturbation
from checker.car.scene import Scene
from checker.kinds.judging import spread
from checker.kinds.judging.assessment import NOT_SHOWN, Spread
from checker.report.words.acts import act_words
from tests.building import inspection_of, outcome_of, pack_of, pack_of_check
from tests.car.errors.one_by_one import every_source
from tests.examples import each_row

FACTS = """
facts:
  engine.bore: {unit: mm, measured_with: caliper}
  engine.stroke: {unit: mm, measured_with: caliper}
  body.panel: {unit: mm, several: true, uncertainty: 0.1 mm}
lists:
  joints: {known_by: name, fields: {name: {type: text}, washer: {unit: mm, measured_with: caliper},
    bore: {unit: mm, measured_with: caliper}, overlap: {formula: washer - bore, unit: mm}}}
instruments: {caliper: {resolution: 0.02 mm, permissible_error: 0.05 mm}}
"""
CALIPER = Fraction("0.02") ** 2 / 12 + Fraction("0.05") ** 2 / 3
CAR = """
engine: {bore: 80 mm, stroke: 70 mm}
body: {panel: [2.2 mm, 2.4 mm, 2.3 mm]}
joints:
  - {name: upper, washer: 18 mm, bore: 15 mm}
  - {name: lower, washer: 20 mm, bore: 16 mm}
weighing:
  instrument: pads
  fuel: 6 L
  driver: out
  tyres: dry
  readings:
    - {front_left: 150 kg, front_right: 148 kg, rear_left: 172 kg, rear_right: 170 kg}
    - {front_left: 151 kg, front_right: 147 kg, rear_left: 171 kg, rear_right: 170 kg, pads: swapped side to side}
instruments: {pads: {resolution: 0.5 kg, permissible_error: 0.5 kg}}
dimensions:
  wheelbase_left: {value: 2200 mm, uncertainty: 2 mm}
  wheelbase_right: {value: 2204 mm, uncertainty: 2 mm}
  front_width_over_tyres: {value: 1715 mm, uncertainty: 3 mm}
  rear_width_over_tyres: {value: 1725 mm, uncertainty: 3 mm}
tyres: {dry: {front: {mass: 14 kg, section: 215 mm}, rear: {mass: 15 kg, section: 225 mm}}}
fuel:
  capacity: 22 L
  density: {value: 0.75 kg/L, uncertainty: 0.01 kg/L}
  at: {behind_front_axle: 1760 mm, right_of_centre: 60 mm}
driver: {mass: {value: 82 kg, uncertainty: 0.3 kg}, at: {behind_front_axle: 1210 mm, right_of_centre: 30 mm}}
wear: {front_left: 0.4 kg, front_right: 0.6 kg, rear_left: 0.4 kg, rear_right: 0.6 kg}
"""
CLAUSES = """
"1": {title: T, text: W, check: {limit: engine.bore * engine.stroke, at_most: 6000 mm2}}
"2": {title: T, text: W, check: {each: joints, limit: overlap, at_least: 3 mm}}
"3": {title: T, text: W, check: {each: joints, limit: washer / sum(j.washer for j in joints), at_least: 0.2}}
"4": {title: T, text: W, check: {limit: body.panel, at_least: 2.2 mm, of_several: worst}}
"5": {title: T, text: W, check: {limit: body.panel, at_least: 2.2 mm, of_several: mean}}
"6": {title: T, text: W, check: {limit: percentage.inside, at_least: 40 %, at_most: 53 %, condition: any}}
"7": {title: T, text: W, check: {limit: weight.total, at_least: 600 kg, condition: any_without_driver}}
"8": {title: T, text: W, check: {limit: 'min(engine.bore / 8, engine.stroke / 7)', at_least: 9 mm}}
"9": {title: T, text: W, check: {limit: percentage.rear, at_most: 54 %, condition: any, of_several: worst}}
"10": {title: T, text: W, check: {pairs: joints, limit: abs(a.washer - b.washer), at_most: 3 mm}}
"""


def every_spread(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """The contributions to every margin that is judged, in every state of the car."""
    found: list[Any] = []

    def recorded(sensitivities: Any, margins: Any, rule: Any) -> Spread | None:
        made = spread.spread_of(sensitivities, margins, rule)
        found.append(made and (made.variance, [(c.name, c.variance) for c in made.contributions]))
        return made

    with monkeypatch.context() as patched:
        patched.setattr(limit, "spread_of", recorded)
        patched.setattr(limit, "is_beyond", lambda *_: False)  # else few are asked for
        inspection_of(pack_of(CLAUSES, FACTS), CAR)
    return found


def test_leaving_out_what_cannot_matter_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every source of the car asked in every check gives the same as those that can matter."""
    quick = every_spread(monkeypatch)
    assert sum(one is not None for one in quick) > 40

    def all_of_them(scene: Scene, _: Any) -> tuple[ErrorSource, ...]:
        counts = MEAN if scene.weighing is None else single(scene.weighing)
        other = {MEAN, *(single(n) for n in range(scene.car.weighings))} - {counts}
        return tuple(source for source in every_source(scene.car) if source.moves not in other)

    monkeypatch.setattr(limit, "relevant", all_of_them)
    monkeypatch.setattr(spread, "_moves_any", lambda *_: True)
    assert every_spread(monkeypatch) == quick


def spread_in(check: str, car: str = CAR) -> Spread:
    found = outcome_of(pack_of_check(check, FACTS), car).assessment.spread
    assert found is not None
    return found


def test_a_product_follows_each_factor() -> None:
    found = spread_in("{limit: engine.bore * engine.stroke, at_most: 6000 mm2}")
    assert found.variance == pytest.approx((80**2 + 70**2) * CALIPER, rel=1e-9)


def test_a_share_knows_that_its_part_is_in_the_whole() -> None:
    check = (
        "{each: joints, where: name == 'upper', limit: washer / sum(j.washer for j in joints), at_least: 0.2}"
    )
    a, b = Fraction(18), Fraction(20)
    assert spread_in(check).variance == pytest.approx((b**2 + a**2) / (a + b) ** 4 * CALIPER, rel=1e-9)


def test_the_worst_of_several_values_has_its_own_spread_and_their_mean_that_of_all() -> None:
    worst = spread_in("{limit: body.panel, at_least: 2 mm, of_several: worst}")
    mean = spread_in("{limit: body.panel, at_least: 2 mm, of_several: mean}")
    assert worst.variance == Fraction(1, 100)
    assert mean.variance == Fraction(1, 300)


def test_where_two_values_are_equally_least_either_may_go_lower() -> None:
    car = CAR.replace("bore: 80 mm, stroke: 70 mm", "bore: 80 mm, stroke: 80 mm")
    found = spread_in("{limit: 'min(engine.bore, engine.stroke)', at_least: 79 mm}", car)
    assert found.variance == 2 * CALIPER


def test_at_the_edge_of_a_table_the_side_that_has_a_row_serves() -> None:
    table = """
tables: {most: {by: [bore], rows: [{bore: up to 70 mm, value: 90 mm}, {bore: above 70 mm up to 80 mm, value: 75 mm}]}}
"""
    pack = pack_of_check("{limit: engine.stroke, at_most: most(engine.bore)}", FACTS + "\n" + table)
    found = outcome_of(pack, CAR).assessment
    assert found.spread is not None
    assert found.spread.variance == CALIPER


def test_a_spread_that_cannot_be_told_is_no_pass() -> None:
    """The tank's place is uncertain, and with the track unknown nobody knows what that comes to."""
    car = CAR.replace("right_of_centre: 60 mm", "right_of_centre: {value: 0 mm, uncertainty: 20 mm}")
    pack = pack_of_check("{limit: percentage.inside, at_most: 60 %, condition: any_without_driver}", FACTS)
    assert outcome_of(pack, car).outcome == "pass"
    blind = car.replace("  front_width_over_tyres: {value: 1715 mm, uncertainty: 3 mm}\n", "")
    found = outcome_of(pack, blind).assessment
    assert found.outcome == NOT_SHOWN
    assert "dimensions.front_width_over_tyres is not stated" in found.unknown.told()


# -- what would settle it ----------------------------------------------------------------------------

HEAVY = "{limit: weight.total, at_least: MINIMUM kg, condition: as_weighed}"


def act_of(minimum: str, gear: str, readings: int = 1) -> str:
    """The act for a car of 640 kg that is too close to a minimum."""
    one = "{front_left: 150 kg, front_right: 148 kg, rear_left: 172 kg, rear_right: 170 kg}"
    weighing = f"weighing: {{instrument: pads, readings: [{', '.join([one] * readings)}]}}"
    pack = pack_of_check(HEAVY.replace("MINIMUM", minimum))
    found = outcome_of(pack, f"{weighing}\ninstruments: {{pads: {gear}}}").assessment
    return act_words(found.act) if found.outcome == "too_close" else found.outcome


def test_more_readings_settle_what_the_display_leaves_open() -> None:
    """u = 1/sqrt(3) kg from four pads that show whole kilograms: 0.95 kg at 95 %."""
    assert act_of("639.3", "{resolution: 1 kg}") == (
        "add 0.3 kg to be clear of the errors that are stated; or weigh again once more and take the mean of all"
        " (most of the doubt is pads, resolution)"
    )
    assert act_of("639.3", "{resolution: 1 kg}", readings=2) == "pass"
    assert "10 times" not in act_of("639.99", "{resolution: 1 kg}")
    assert act_of("639.99", "{resolution: 1 kg}").endswith(
        "(mostly pads, resolution: weigh again and take the mean, or use pads that show finer)"
    )


def test_better_pads_settle_what_their_error_leaves_open() -> None:
    act = act_of("639.5", "{permissible_error: 0.5 kg}")
    assert act.endswith("or use pads good to 0.2 kg (most of the doubt is pads, permissible error)")
    assert act_of("639.5", "{permissible_error: 0.2 kg}") == "pass"


def test_where_no_one_cure_is_enough_the_largest_source_is_named() -> None:
    act = act_of("639.9", "{permissible_error: 0.5 kg, resolution: 1 kg}")
    assert act.endswith(
        "(mostly pads, resolution: weigh again and take the mean, or use pads that show finer)"
    )


def test_several_values_of_one_instrument_are_out_together() -> None:
    """JCGM 100, F.1.2.3: the mean of five readings with one caliper is no better than its calibration."""
    facts = FACTS.replace("uncertainty: 0.1 mm}", "measured_with: caliper}")
    found = outcome_of(
        pack_of_check("{limit: body.panel, at_least: 2.2 mm, of_several: mean}", facts), CAR
    ).assessment.spread
    assert found is not None
    assert found.variance == Fraction("0.05") ** 2 / 3 + Fraction("0.02") ** 2 / 12 / 3


# -- degrees of freedom ------------------------------------------------------------------------------


def found(variance: int, degrees: int | None = None, group: str = "") -> spread.Sensitivity:
    """A source whose part in the variance, as it enters a margin, is `variance`."""
    lever = Perturbation("of nothing", lambda car, _: car)
    known = None if degrees is None else Fraction(degrees)
    source = ErrorSource("s", Fraction(variance), "m", lever, degrees_of_freedom=known, group=group)
    return spread.Sensitivity(source, Fraction(1), Fraction(variance))


@each_row(
    ("parts", "degrees"),
    [
        ([found(3)], None),
        ([found(1, 2)], 2),
        ([found(1, 2), found(1)], 8),  # (1 + 1)^2 / (1^2 / 2)
        ([found(1, 2), found(1, 2)], 4),  # (1 + 1)^2 / (1^2 / 2 + 1^2 / 2)
        ([found(1, 2, "repeats"), found(1, 2, "repeats")], 2),  # one group: (1 + 1)^2 / ((1 + 1)^2 / 2)
        ([found(1, 2, "repeats"), found(1, 4, "repeats")], Fraction(16, 3)),  # 2^2 / (1 / 2 + 1 / 4)
        ([found(4, 2), found(1, 10), found(3)], Fraction(64) / (8 + Fraction(1, 10))),
    ],
)
def test_degrees_of_freedom_are_effective_by_welch_and_satterthwaite(
    parts: list[spread.Sensitivity], degrees: Fraction | int | None
) -> None:
    """JCGM 100, G.4.1; worked by hand."""
    variance = sum((part.variance for part in parts), Fraction(0))
    assert spread.effective_degrees(parts, variance) == degrees
