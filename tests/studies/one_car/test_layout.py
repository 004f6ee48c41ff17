"""Where a car carries its weight: places, centres of gravity, limits and the doubt of both percentages."""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.car.weights.geometry import Spot
from checker.car.weights.states import state_of
from checker.quantities.sense import Sense
from checker.studies.one_car.layout import Layout, layout
from tests.building import inspection_of, pack_of
from tests.examples import each_row
from tests.report.documents import STORIES, sample

pytestmark = pytest.mark.usefixtures("at_root")


def layout_of(name: str) -> Layout:
    found = layout(sample(name))
    assert found is not None
    return found


@each_row("name", STORIES)
def test_one_mass_at_the_centre_of_gravity_would_show_the_same_weights(name: str) -> None:
    """The lever rules, turned round."""
    car = sample(name).car
    for centre in layout_of(name).centres:
        assert car.geometry.shares(Spot(centre.along, centre.across)) == (centre.rear, centre.inside)


def test_where_the_weight_acts_is_told_as_weighed_and_where_clauses_are_decided() -> None:
    centres = layout_of("creeping-inside").centres
    assert [(centre.state and centre.state.words, centre.clauses) for centre in centres] == [
        (None, ()),
        ("0 L on board, driver out, dry tyres, worn", ("3.1", "3.3", "3.4")),
        ("0 L on board, driver aboard, dry tyres, worn", ("3.2",)),
    ]
    assert centres[0].total == 600
    assert centres[0].inside == Fraction(5275, 10000)


def test_the_limits_are_those_on_a_percentage_by_itself() -> None:
    limits = layout_of("legal").limits
    assert {
        (one.clause.number, one.of, one.bound.sense, one.bound.amount and one.bound.amount.value)
        for one in limits
    } == {
        ("3.3", "inside", Sense.AT_MOST, Fraction(53, 100)),
        ("3.4", "rear", Sense.AT_LEAST, Fraction(475, 1000)),
        ("3.4", "rear", Sense.AT_MOST, Fraction(505, 1000)),
    }


def test_the_doubt_of_the_inside_percentage_is_that_of_its_clause() -> None:
    """JCGM 100, 5.2.2: the same sources by the same sensitivities, once alone and once with the rear percentage."""
    inspection, doubt = sample("creeping-inside"), layout_of("creeping-inside").doubt
    spread = next(o.assessment.spread for o in inspection.outcomes if o.clause.number == "3.3")
    assert doubt is not None
    assert spread is not None
    assert doubt.inside == pytest.approx(float(spread.variance) ** 0.5, rel=1e-12)
    assert -1 <= doubt.correlation <= 1
    assert doubt.factor == pytest.approx(
        2.4477, abs=1e-4
    )  # the root of chi-squared for 2 degrees, 95 %: 5.9915


def test_the_percentages_move_straight_as_fuel_is_burnt() -> None:
    """So that a path may be drawn from its ends."""
    car = sample("light-at-the-flag").car

    def at(litres: int) -> tuple[Fraction, Fraction]:
        weights = car.weights(state_of(Fraction(litres * 10**6), "out", "dry", Fraction(1)))
        inside, rear = weights.percentage("inside"), weights.percentage("rear")
        assert isinstance(inside, Fraction)
        assert isinstance(rear, Fraction)
        return inside, rear

    (x1, y1), (x2, y2), (x3, y3) = at(0), at(7), at(22)
    assert (x2 - x1) * (y3 - y1) == (x3 - x1) * (y2 - y1)


def test_pieces_stand_at_their_places() -> None:
    pieces = {piece.label: piece for piece in layout_of("legal").pieces}
    assert {"fuel", "driver", "B1"} <= set(pieces)
    assert pieces["B1"].kind == "ballast"
    assert pieces["driver"].kind == "driver"


def test_a_car_that_was_not_weighed_has_no_layout() -> None:
    pack = pack_of(
        '"1": {title: Width, check: {limit: body.front, at_most: 100 mm}}', "facts: {body.front: {unit: mm}}"
    )
    assert layout(inspection_of(pack, "body: {front: 90 mm}")) is None
