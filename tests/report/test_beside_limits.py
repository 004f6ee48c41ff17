"""A weight or percentage that a report shows is never shown within a limit that it is beyond."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.sense import Sense
from checker.report.amounts import beside_limits
from checker.report.figures.window import window_figure
from checker.report.one_car.condition_table import conditions_document
from checker.report.one_car.condition_text import conditions_text
from checker.report.page import Page
from tests.report.figures.test_figures import drawable
from tests.studies.one_car.test_condition_table import CAR, table_of

pytestmark = pytest.mark.usefixtures("at_root")
BOUNDS = st.fractions(0, 100, max_denominator=20)
READINGS = st.builds(lambda bound, near: bound + near, BOUNDS, st.fractions(-1, 1, max_denominator=30_000))


def limit(sense: Sense, value: Fraction) -> dict[str, Any]:
    return {"kind": sense.value, "exact": str(value)}


@given(
    st.lists(st.tuples(st.sampled_from((Sense.AT_LEAST, Sense.ABOVE)), BOUNDS), max_size=2), BOUNDS, READINGS
)
def test_what_is_beyond_a_limit_is_shown_beyond_it(
    lower: list[tuple[Sense, Fraction]], upper: Fraction, reading: Fraction
) -> None:
    shown = Fraction(beside_limits(reading, 2, [limit(*one) for one in lower]))
    assert all(shown < low for _, low in lower if reading < low)
    shown = Fraction(beside_limits(reading, 2, [limit(Sense.AT_MOST, upper)]))
    assert shown > upper or reading <= upper
    both = [limit(Sense.AT_LEAST, upper - 5), limit(Sense.BELOW, upper)]
    shown = Fraction(beside_limits(reading, 2, both))
    assert shown < upper - 5 or reading >= upper - 5
    assert shown > upper or reading <= upper
    assert abs(shown - reading) < Fraction(1, 100)
    around = Fraction(beside_limits(reading, 2, [limit(Sense.NOMINAL, upper)]))
    assert abs(around - upper) >= abs(reading - upper)


def test_without_a_limit_it_is_rounded_to_the_nearest() -> None:
    assert beside_limits(Fraction("50.016"), 2, ()) == "50.02"
    assert beside_limits(Fraction("50.014"), 2, [{"kind": "at_most", "exact": None}]) == "50.01"


def test_corners_keep_to_it() -> None:
    table = table_of("633.5", CAR.replace("fuel: 6 L", "fuel: 6.0044 L"))
    document, page = conditions_document(table), Page(80)
    conditions_text(document, page, every_corner=True)
    assert min(float(Fraction(one["kg"]["total"]["exact"])) for one in document["corners"]) == 633.4967
    assert "633.49 kg" in page.text()


def test_rows_of_pictures_keep_to_it() -> None:
    layout = drawable("creeping-inside")["layout"]
    layout["paths"][0]["points"][0]["inside"]["exact"] = "530004/10000"
    figure = window_figure(layout)
    assert figure is not None
    assert figure.rows[0][1] == "53.01 %"
