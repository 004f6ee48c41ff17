"""The fuel to finish with, clear of what the gear resolves."""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.kinds.judging.assessment import PASS, TOO_CLOSE
from checker.studies.one_car.condition_table import ConditionTable
from checker.studies.one_car.finish import Finish
from tests.examples import quick_first
from tests.studies.one_car.test_condition_table import CAR, LITRE, table_of

PADS = CAR.replace(
    "weighing: {", "instruments: {pads: {permissible_error: 0.5 kg}}\nweighing: {instrument: pads, "
)
TANK = "fuel: {capacity: 20 L, unusable: LEAST L, "


def finish_of(table: ConditionTable) -> Finish:
    (finish,) = table.finishes
    return finish


def outcome_with(least: Fraction) -> str:
    """What the minimum weight comes to where so much fuel always stays in the tank."""
    rest = CAR.partition("fuel: {capacity: 20 L, ")[2]
    car = PADS.replace(
        f"fuel: {{capacity: 20 L, {rest}", TANK.replace("LEAST", f"{float(least / LITRE):.9f}") + rest
    )
    return table_of("636", car).inspection.outcomes[0].outcome


def test_with_pads_that_may_err_more_has_to_stay_in_the_tank() -> None:
    finish = finish_of(table_of("636", PADS))
    assert finish.legal
    assert finish.guarded
    assert finish.legal[0].low == Fraction(10, 3) * LITRE
    assert finish.guarded[0].low > finish.legal[0].low
    assert outcome_with(finish.guarded[0].low) == PASS
    assert outcome_with(finish.guarded[0].low - LITRE // 100) == TOO_CLOSE


def test_without_gear_that_may_err_the_guarded_levels_are_the_legal_ones() -> None:
    finish = finish_of(table_of("636"))
    assert finish.guarded == finish.legal


@pytest.mark.parametrize("minimum", quick_first(["650.5", "651"], 1))
def test_where_no_level_is_clear_none_is_told(minimum: str) -> None:
    """Full and new it weighs 650.5 kg, worn 648.5 kg."""
    finish = finish_of(table_of(minimum, PADS))
    assert finish.legal == ()
    assert finish.guarded == ()
    assert finish_of(table_of("648.4", PADS)).guarded == ()
    assert finish_of(table_of("648.4", PADS)).legal
