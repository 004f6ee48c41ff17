"""Reading, limit and margin beside each other: as shown they never contradict each other, in any system of units."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from checker.kinds.judging.assessment import Amount, Bound
from checker.quantities.sense import Sense
from checker.quantities.units import parse_unit
from checker.report.amounts import amount_data, bound_data, margin_data
from checker.report.one_car.columns import figures
from checker.report.one_car.text import inspection_text
from checker.report.page import Page
from checker.report.words.units import SYSTEMS, showing
from tests.cli.running import run
from tests.examples import each_row, quick_first
from tests.report.documents import document_of, sample
from tests.report.words.test_units import number

LENGTHS = st.one_of(
    st.integers(0, 40_000).map(lambda tenths: Fraction(tenths, 10)),
    st.fractions(0, 4000, max_denominator=10**6),
)
UNITS = st.sampled_from([parse_unit(name, None) for name in ("mm", "in", "kg", "lb")])
SENSES = st.sampled_from([Sense.AT_LEAST, Sense.AT_MOST])


def told(
    reading: Fraction, limit: Fraction, sense: Sense, unit_name: str, system: str
) -> tuple[str, str, str]:
    unit = parse_unit(unit_name, None)
    margin = limit - reading if sense is Sense.AT_MOST else reading - limit
    value, bound, by = (Amount(one, unit.kind, unit) for one in (reading, limit, margin))
    with showing(system):
        return figures(
            {
                "value": amount_data(value),
                "bound": bound_data(Bound(sense, bound)),
                "margin": margin_data(by),
            }
        )


@each_row(
    ("reading", "limit", "sense", "shown"),
    [
        ("1765", "1775", Sense.AT_MOST, ("69.4882 in", "max 69.8819 in", "+3/8 in")),
        ("59.9", "25", Sense.AT_MOST, ("2.35827 in", "max 0.984252 in", "-1 3/8 in")),
        ("225", "254", Sense.AT_MOST, ("8.85827 in", "max 10 in", "+1 1/8 in")),
        ("228.1", "254", Sense.AT_MOST, ("8.98031 in", "max 10 in", "+1 in")),
        ("1752", "1775", Sense.AT_MOST, ("68.9764 in", "max 69.8819 in", "+7/8 in")),
        ("1747", "1775", Sense.AT_MOST, ("68.7795 in", "max 69.8819 in", "+1 1/16 in")),
    ],
)
def test_inches(reading: str, limit: str, sense: Sense, shown: tuple[str, str, str]) -> None:
    """By hand: millimetres by 25.4, margins in whole sixteenths against the car."""
    assert told(Fraction(reading), Fraction(limit), sense, "mm", "us") == shown


@given(LENGTHS, LENGTHS, SENSES, UNITS.map(lambda unit: unit.name), st.sampled_from(SYSTEMS))
@example(Fraction("584.9999"), Fraction(585), Sense.AT_LEAST, "kg", "us")
@example(Fraction("584.9"), Fraction(585), Sense.AT_LEAST, "kg", "us")
@example(Fraction(1765), Fraction(1775), Sense.AT_MOST, "mm", "us")
def test_reading_limit_and_margin_as_shown_agree(
    reading: Fraction, limit: Fraction, sense: Sense, unit_name: str, system: str
) -> None:
    """The reading is shown within one of its last digit (of a whole number: the margin's), and lies on that side of the limit that the margin tells."""
    value, bound, margin = told(reading, limit, sense, unit_name, system)
    shown, at, by = number(value), number(bound.split(" ", 1)[1]), number(margin)
    factor = parse_unit(value.split()[-1], None).factor
    places = next(filter(None, (len(text.split()[0].partition(".")[2]) for text in (value, margin))), 0)
    assert abs(shown - reading / factor) < Fraction(1, 10**places) if places else shown == reading / factor
    above = at - shown if sense is Sense.AT_MOST else shown - at
    assert above * by >= 0
    assert above == 0 or by != 0


@pytest.mark.deep
@pytest.mark.usefixtures("at_root")
def test_a_card_in_inches_tells_the_reading_as_an_explanation_does(
    capsys: pytest.CaptureFixture[str],
) -> None:
    card = run(capsys, "card", "samples/cars/creeping-inside.yaml", "--units", "us").out
    assert "69.4882 in  max 69.8819 in  +3/8 in" in card


@pytest.mark.parametrize("name", quick_first(["light-at-the-flag", "legal", "built-2025"], 1))
@pytest.mark.usefixtures("at_root")
def test_figures_stand_in_their_columns_or_in_a_sentence_at_every_width(name: str) -> None:
    document = document_of(sample(name))
    for width in range(40, 101):
        page = Page(width)
        inspection_text(document, page)
        lines = page.text().partition("CLOSEST TO THE LIMIT")[2].partition("ASSUMED")[0].splitlines()
        in_columns = lines[0].endswith("margin")
        for line in lines[1:]:
            if re.search(r"\d (kg|mm|%|rpm)$", line):
                assert (len(line) == width and ", " not in line) if in_columns else ", " in line, (
                    width,
                    line,
                )
