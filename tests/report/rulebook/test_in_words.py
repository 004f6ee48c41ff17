"""A pack in words, without a car."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from checker.pack.editions.finding import PackFolder
from checker.pack.editions.loading import load_edition
from checker.report.page import Page
from checker.report.rulebook.in_words import pack_text, packs_text
from tests.building import pack_of

pytestmark = pytest.mark.usefixtures("at_root")

DUNLIN = "rulepacks/dunlin/2026.1.yaml"


def test_one_clause_reads_as_accepted(golden: Callable[[str, str], None]) -> None:
    pack, page = load_edition(DUNLIN), Page(80)
    pack_text(pack, page, [pack.clauses["3.1"], pack.clauses["7.3"]])
    golden("book-clauses.txt", page.text())


def test_the_whole_book_says_every_clause_fact_list_and_table() -> None:
    pack, page = load_edition(DUNLIN), Page(80)
    pack_text(pack, page)
    text = " ".join(page.text().split())
    for clause in pack.clauses.values():
        assert f"{clause.number} {clause.title}" in text
        assert " ".join(clause.check.sentence().split()) in text
    for name in (*pack.vocabulary.facts, *pack.derived, *pack.vocabulary.conditions):
        assert name in text
    for name in pack.vocabulary.lists:
        assert f"List {name}" in text
    assert "capacity value up to 1300 cc 560 kg up to 1600 cc 585 kg" in text
    assert "mild steel (in ferrous metal and steel)" in text


def test_a_narrow_book_keeps_to_its_width() -> None:
    """Only a path, which is never broken, may be longer."""
    page = Page(40)
    pack_text(load_edition(DUNLIN), page)
    assert all("/" in line.split()[-1] for line in page.text().splitlines() if len(line) > 40)


def test_everything_that_a_clause_may_say_is_there() -> None:
    pack = pack_of(
        """
        "1": {title: General, check: {limit: body.width, at_most: 10 mm}}
        "2":
          title: Special
          text: Words of the book.
          check: {limit: body.width, at_most: 8 mm}
          severity: advisory
          interpretation: At the hubs.
          act: Make it narrower.
          consequence: Out.
          penalty: {amount: "round_up(excess / 1 mm, 1)", unit: laps}
          instead_of: ["1"]
          since: 2026-01-01
          until: 2026-12-31
          earlier:
            - {before: 2020-01-01, until: 2026-06-30, check: {limit: body.width, at_most: 12 mm}}
            - {before: 2021-01-01, check: none}
        """,
        "facts: {body.width: {unit: mm}}",
    )
    page = Page(100)
    pack_text(pack, page, [pack.clauses["2"]])
    text = page.text()
    for told in (
        "Special (advice only)",
        "Words of the book.",
        "body.width at most 8 mm",
        "At the hubs.",
        "Make it narrower.",
        "Out.",
        "round_up(excess / 1 mm, 1) laps",
        "of 1",
        "from 2026-01-01 until 2026-12-31",
        "car.chassis_built before 2020-01-01, until 2026-06-30: body.width at most 12 mm",
        "car.chassis_built before 2021-01-01: does not bind them",
    ):
        assert told in " ".join(text.split())


def test_packs_that_were_found_are_listed() -> None:
    page = Page(80)
    packs_text(
        [PackFolder("dunlin", "rulepacks/dunlin", (DUNLIN,)), PackFolder("one", "one.yaml", ("one.yaml",))],
        page,
    )
    assert page.text().splitlines()[:6] == [
        "2 RULE PACKS FOUND",
        "  dunlin",
        "    rulepacks/dunlin",
        "      2026.1.yaml",
        "  one",
        "    one.yaml",
    ]
