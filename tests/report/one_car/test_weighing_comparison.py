"""The document and the text of two weighings."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from checker.report.one_car.weighing_comparison import comparison_document, comparison_text
from checker.report.page import Page
from tests.car.cars import ABSENT
from tests.car.gear.test_pads import reading
from tests.report.documents import valid
from tests.studies.one_car.test_weighing_comparison import ONE, OTHER, compared

Golden = Callable[[str, str], None]


def told(*arguments: Any, width: int = 80, **slip: Any) -> str:
    found = valid(comparison_document(compared(*arguments, **slip)))
    assert json.loads(json.dumps(found)) == found
    page = Page(width)
    comparison_text(found, page)
    return page.text()


def test_a_real_difference_reads_as_accepted(golden: Golden) -> None:
    golden("weighings-real.txt", told([reading("160", "140", "150", "136")], [ONE]))
    golden("weighings-corrected.txt", told([ONE], [ONE], fuel="10 L"))
    golden("weighings-narrow.txt", told([ONE], [ONE], width=40))


def test_where_both_agree_nothing_is_to_be_entered() -> None:
    text = told([ONE], [reading("158.2", "139.9", "150", "136")])
    assert "Enter no offset at home." in text
    assert "0.20 kg less" in text
    assert "the same" in text


def test_where_only_the_sides_differ_no_offset_is_given() -> None:
    """5 kg from side to side at the club, measured as sides: the floors, not the pads."""
    text = told([ONE], [{"left": "303 kg", "right": "281 kg"}])
    assert "no one offset sets it right: level both floors" in text


def test_what_cannot_be_told_says_why() -> None:
    text = told([ONE], [OTHER], {"weighing.instrument": ABSENT})
    assert "how far what was weighed with at home may be out is not stated" in " ".join(text.split())
    text = told([ONE], [ONE], {"weighing.fuel": ABSENT})
    assert "weighing.fuel is not stated" in text
    assert "The two weighings cannot be compared." in text


def test_what_lacks_a_figure_is_not_said_to_agree() -> None:
    text = " ".join(
        told([ONE], [{"total": "584 kg"}], {"weighing.fuel": "6 L", "fuel.at": ABSENT}, fuel="6.1 L").split()
    )
    assert "What can be compared agrees within measuring error." in text
    assert "The rest is not known to agree." in text


def test_equal_figures_and_a_car_set_down_differently_read_as_what_they_are() -> None:
    assert "They agree: every figure is the same." in told([ONE], [ONE], {"weighing.instrument": ABSENT})
    text = " ".join(told([reading("160", "138", "148", "138")], [ONE]).split())
    assert "the car was set down differently. No pad needs an offset." in text
    assert "offset:" not in text


def test_what_is_given_or_taken_says_how_often_it_covers() -> None:
    assert "covers the difference 19 times in 20." in told([ONE], [ONE])
