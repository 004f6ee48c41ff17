"""A comparison as a document, as text and as Markdown."""

from __future__ import annotations

import pytest

from checker.pack.editions.loading import load_edition
from checker.report.amounts import Data
from checker.report.change.comparison import comparison_document, comparison_markdown, comparison_text
from checker.report.page import Page
from checker.studies.change.comparison import compare
from tests.building import pack_of
from tests.report.documents import validator

pytestmark = pytest.mark.usefixtures("at_root")


def dunlin() -> Data:
    old, new = (load_edition(f"rulepacks/dunlin/{edition}.yaml") for edition in ("2025.1", "2026.1"))
    return comparison_document(old, new, compare(old, new))


def test_the_document_is_told_by_its_schema_and_says_what_changed() -> None:
    document = dunlin()
    validator("comparison").validate(document)
    by_clause = {(c["clause"], c["change"]): c for c in document["changes"]}
    inside = by_clause[("3.3", "tightened")]
    assert inside["by"] == "1.2 %"
    assert inside["words"] == "at most 54.2 % becomes 53.0 %"
    assert "at most 54.2 %" in inside["old"]
    assert by_clause[("3.4", "added")]["old"] is None
    assert by_clause[("3.10", "withdrawn")]["new"] is None
    assert sum(document["counts"].values()) == len(document["changes"])


@pytest.mark.parametrize("width", [40, 80, 100])
def test_every_change_stands_on_the_page(width: int) -> None:
    document = dunlin()
    page = Page(width)
    comparison_text(document, page)
    text = page.text()
    assert all(len(line) <= width for line in text.splitlines())
    for change in document["changes"]:
        assert f"{change['clause']} {change['title']}".strip()[:30] in text
    assert "3.3 Inside weight: tightened by 1.2 %" in text
    assert "4.4 Ride height: renumbered\n  was 4.3" in text


def test_nothing_is_said_to_be_nothing() -> None:
    pack = pack_of('"1": {check: {holds: body.sound}}', "facts: {body.sound: {type: truth}}")
    document = comparison_document(pack, pack, compare(pack, pack))
    page = Page(80)
    comparison_text(document, page)
    assert "Nothing that bears on a car or a reader is different." in page.text()
    assert "Nothing that bears on a car or a reader is different." in comparison_markdown(document)


def test_markdown_shows_what_files_say_as_text() -> None:
    packs = [
        pack_of(
            f'"1": {{title: "{title}", check: {{holds: body.sound}}}}', "facts: {body.sound: {type: truth}}"
        )
        for title in ("<b>*T*</b>", "[a](b) | `c`")
    ]
    text = comparison_markdown(comparison_document(*packs, compare(*packs)))  # type: ignore[call-arg,arg-type]
    assert "- **1 \\[a\\](b) \\| \\`c\\`: reworded only**" in text
    assert "  - before: \\<b\\>\\*T\\*\\</b\\>" in text
