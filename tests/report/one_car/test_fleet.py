"""Several cars at a glance."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from checker.report.one_car.fleet import fleet_text
from checker.report.page import Page
from tests.examples import quick_first
from tests.report.documents import STORIES, document_of, sample

pytestmark = pytest.mark.usefixtures("at_root")


def printed(width: int, unusable: tuple[str, ...] = ()) -> str:
    page = Page(width)
    fleet_text([document_of(sample(name)) for name in STORIES], unusable, page)
    return page.text()


def test_a_table_reads_as_accepted(golden: Callable[[str, str], None]) -> None:
    golden("fleet.txt", printed(80, ("cars/absent.yaml",)))


def test_a_narrow_page_stacks_the_cars(golden: Callable[[str, str], None]) -> None:
    text = printed(40, ("cars/absent.yaml",))
    golden("fleet-narrow.txt", text)
    assert max(map(len, text.splitlines())) <= 40


@pytest.mark.parametrize("most", quick_first([1, 2, 3, len(STORIES)], 1))
def test_a_wider_page_loses_no_column_and_the_title_goes_first(most: int) -> None:
    documents = [document_of(sample(name)) for name in STORIES[:most]]
    before: set[str] = set()
    for width in range(50, 160):
        page = Page(width)
        fleet_text(documents, (), page)
        heads = next(
            (set(line.split()) for line in page.text().splitlines() if line.startswith("result")), set()
        )
        assert before <= heads
        assert "title" not in heads or "reading" in heads
        before = heads
    assert {"title", "reading", "limit", "margin"} <= before


@pytest.mark.deep
def test_columns_are_dropped_before_cars_are_stacked() -> None:
    assert "title" not in printed(60)
    assert "Redshank" in printed(60)


def test_cars_that_could_not_be_judged_are_named_and_counted() -> None:
    text = printed(100, ("cars/absent.yaml",))
    assert "not judged: cars/absent.yaml" in text
    assert "12 cars: 4 fail, 2 undecided, 5 comply, 1 not judged." in text


def test_none_at_all_still_names_the_files() -> None:
    page = Page(80)
    fleet_text([], ("a.yaml", "b.yaml"), page)
    assert "2 cars: 2 not judged." in page.text()


def test_days_in_hand_are_compared_with_other_margins_by_a_year() -> None:
    by_days = document_of(sample("belts-between-meetings"))
    by_days["most_pressing"] = ["9.1"]  # 7 days: 1.9 % of a year
    by_width = document_of(sample("price-rise"))
    by_width["most_pressing"] = ["3.3"]  # 1.35 % of 53 %: 2.5 % of the limit
    page = Page(80)
    fleet_text([by_width, by_days], (), page)
    assert page.text().index("Lapwing") < page.text().index("Whimbrel")
