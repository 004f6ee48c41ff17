"""A clause followed back through bulletins, editions and its earlier numbers."""

from __future__ import annotations

import pytest

from checker.pack.editions.finding import open_folder
from checker.studies.change.history import history

pytestmark = pytest.mark.usefixtures("at_root")


def test_each_version_has_its_day_its_edition_what_was_new_and_why() -> None:
    versions = history(open_folder("rulepacks/dunlin"), "3.3")
    assert [(v.first_day.isoformat(), v.pack.edition, v.pack.bulletins) for v in versions] == [
        ("2026-07-01", "2026.1", ("2026-B1",)),
        ("2026-03-01", "2026.1", ()),
        ("2025-03-01", "2025.1", ()),
    ]
    assert [[change.by for change in v.changes] for v in versions] == [["0.6 %"], ["1.2 %"], []]
    assert "52.4 %" in versions[0].rule
    assert versions[0].reasons[0].startswith("2026-B1: Tyre wear")


def test_a_clause_is_followed_through_its_earlier_numbers() -> None:
    versions = history(open_folder("rulepacks/dunlin"), "4.4")
    assert [v.number for v in versions] == ["4.4", "4.3"]


def test_a_number_that_no_text_has_is_no_history() -> None:
    with pytest.raises(KeyError):
        history(open_folder("rulepacks/dunlin"), "99.9")
