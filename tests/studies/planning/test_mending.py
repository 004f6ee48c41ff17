"""What ballast alone does for a car that a change of the rules hurts."""

from __future__ import annotations

from typing import Any

import pytest

from checker.car.declaration.loading import load_car
from checker.reading.document import Document
from checker.report.change.affected import car_data
from checker.report.change.affected_text import todo_text
from checker.report.change.mending import mending_words
from checker.report.page import Page
from checker.studies.change.affected import Comparator
from checker.studies.planning.mending import Mending, mending
from tests.building import DAY
from tests.report.documents import valid
from tests.studies.planning.cars import at, car, rules

TOTAL = "{{limit: weight.total, at_least: {} kg, condition: as_weighed}}"
CAP = "{limit: sum(b.mass for b in ballast), at_most: 15 kg}"
BALLAST = [{"label": "B1", "mass": "4 kg", "at": at(1000)}]
OWN: dict[str, Any] = {
    "places": [{"name": "nose", "at": at(200)}],
    "shelf": [{"label": "S", "mass": "3 kg", "count": 2}],
}


def mended(document: Document, *checks: str) -> Mending | None:
    pack = rules(*checks)
    return mending(pack, document, load_car(document, pack.vocabulary), DAY)


def test_of_its_own_pieces_if_its_file_names_them() -> None:
    assert mended(car(OWN), TOTAL.format(644)) == Mending(6.0, 2)


def test_else_as_if_it_could_sit_anywhere_between_the_wheels() -> None:
    found = mended(
        car({}), TOTAL.format(644), "{limit: percentage.front, at_least: 46.7 %, condition: as_weighed}"
    )
    assert found is not None
    assert found.pieces is None
    assert found.kg == pytest.approx(4)
    too_little = mended(car(OWN), TOTAL.format(650))
    assert too_little == Mending(pytest.approx(10))  # type: ignore[arg-type]  # six of its own are not enough


def test_no_ballast_is_more_than_the_rules_let_it_carry() -> None:
    document = car({}, ballast=BALLAST)
    assert mended(document, TOTAL.format(650), CAP) == Mending(pytest.approx(10))  # type: ignore[arg-type]
    assert mended(document, TOTAL.format(655), CAP) == Mending(None)


def test_a_change_of_the_rules_is_told_with_what_it_costs() -> None:
    old, new = rules(TOTAL.format(640)), rules(TOTAL.format(644))
    for plan, told in ((True, {"kg": 6.0, "pieces": 2}), (False, None)):
        comparator = Comparator(old, new, audience="entrant", on=DAY, plan=plan)
        document = valid(car_data(comparator.judge(car(OWN), "car.yaml"), old, new))
        assert document["mending"] == told
        words = "6 kg of ballast mend it, in 2 of its pieces" if plan else ""
        assert mending_words(document["mending"]) == words


def test_a_car_that_fails_from_a_later_day_on_is_planned_for_by_the_rules_of_that_day() -> None:
    later = "{{limit: weight.total, at_least: {} kg, condition: as_weighed, since: {}}}"
    old, new = rules(TOTAL.format(640)), rules(TOTAL.format(640), later.format(644, "2026-07-01"))
    for plan, told in ((True, {"kg": 6.0, "pieces": 2}), (False, None)):
        comparator = Comparator(old, new, audience="entrant", on=DAY, plan=plan)
        document = valid(car_data(comparator.judge(car(OWN), "car.yaml"), old, new))
        (effect,) = (one for one in document["effects"] if one["later"])
        assert (document["mending"], effect["later"]["until"]) == (None, "2026-06-30")
        assert effect["later"]["mending"] == told
        page = Page(80)
        todo_text(document, page)
        assert ("6 kg of ballast mend it, in 2 of its pieces" in page.text()) == plan


def test_each_later_day_is_planned_for_by_itself() -> None:
    later = "{{limit: weight.total, at_least: {} kg, condition: as_weighed, since: {}}}"
    steps = [(641, "2026-07-01"), (643, "2027-07-01"), (646, "2028-07-01")]
    old, new = rules(TOTAL.format(640)), rules(*(later.format(*step) for step in steps))
    comparator = Comparator(old, new, audience="entrant", on=DAY, plan=True)
    document = valid(car_data(comparator.judge(car(OWN), "car.yaml"), old, new))
    found = [one["later"]["mending"] for one in document["effects"] if one["later"]]
    assert found == [{"kg": 3.0, "pieces": 1}, {"kg": 3.0, "pieces": 1}, {"kg": 6.0, "pieces": 2}]


@pytest.mark.parametrize(("kg", "told"), [(4.7512, "4.8 kg"), (6.0, "6 kg"), (0.04, "0.04 kg")])
def test_what_is_told_is_enough(kg: float, told: str) -> None:
    assert mending_words({"kg": kg, "pieces": None}) == f"{told} of ballast in the right place would mend it"
