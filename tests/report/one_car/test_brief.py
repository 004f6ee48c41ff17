"""Text is printed from a document that holds no more than it shows, and reads as it would from the whole one."""

from __future__ import annotations

import pytest

from checker.report.one_car.brief import brief_document
from checker.report.one_car.document import inspection_document
from checker.report.one_car.text import inspection_text
from checker.report.page import Page
from checker.verdict.inspection import Inspection
from tests.examples import each_row, quick_first
from tests.judged.cases import Case, cases
from tests.report.documents import STORIES, sample
from tests.studies.one_car.test_missing import bare

pytestmark = pytest.mark.usefixtures("at_root")


def hold(inspection: Inspection) -> None:
    told = []
    for document in (brief_document(inspection), inspection_document(inspection)):
        page = Page(80)
        inspection_text(document, page)
        told.append(page.text())
    assert told[0] == told[1]


@pytest.mark.parametrize("story", quick_first(STORIES, 3))
@pytest.mark.parametrize("audience", quick_first(["entrant", "official"], 1))
def test_of_sample_cars(story: str, audience: str) -> None:
    hold(sample(story, audience=audience))


@pytest.mark.parametrize("case", quick_first(list(cases()), 5), ids=lambda case: f"{case.pack}-{case.name}")
def test_of_every_pack_that_is_judged(case: Case) -> None:
    hold(case.inspect())


@each_row("sections", ["", "weighing: {fuel: 3 L}"])
def test_of_a_car_of_which_little_is_known(sections: str) -> None:
    hold(bare(sections) if sections else bare())


def test_what_is_met_is_not_written_out() -> None:
    outcomes = brief_document(sample("legal"))["outcomes"]
    assert sum("margin" in one for one in outcomes) == 5
    assert all("uncertainty" not in one for one in outcomes)
