"""The rulebook as a page: its links lead somewhere, and what rules say is text."""

from __future__ import annotations

from datetime import date

import pytest

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.report.html.book import markdown_page
from checker.report.rulebook.whole import rulebook
from tests.building import pack_of
from tests.report.html.reading import Reading
from tests.report.html.test_one_car import HOSTILE

FACTS = "facts: {body.front: {unit: mm}}"


@pytest.mark.usefixtures("at_root")
def test_every_link_of_the_book_leads_to_a_heading() -> None:
    pack = load_pack(open_folder("rulepacks/dunlin"), date(2026, 5, 24))
    read = Reading(markdown_page(rulebook(pack, None)))
    links = [value for tag, name, value in read.attributes if (tag, name) == ("a", "href")]
    ids = [value for _, name, value in read.attributes if name == "id"]
    assert len(links) > 60
    assert {link[0] for link in links} == {"#"}
    assert {link[1:] for link in links} <= set(ids)
    assert len(ids) == len(set(ids))
    assert [a for a in read.attributes if a[1] == "style"] == []


@pytest.mark.parametrize("words", [one for one in HOSTILE if one.isprintable()][:4], ids=range(4))
def test_whatever_the_rules_say_is_text(words: str) -> None:
    def book(title: str) -> Reading:
        quoted = title.replace("'", "''")
        pack = pack_of(f"\"1\": {{title: '{quoted}', check: {{limit: body.front, at_most: 100 mm}}}}", FACTS)
        return Reading(markdown_page(rulebook(pack, None)))

    plain, read = book("plain"), book(words)
    assert read.elements == plain.elements
    assert words in read.text
