"""A first own car: from nothing to its first verdict by following the link Next, in a real Chromium."""

from __future__ import annotations

from typing import Any

import pytest

from checker import inspect_files
from tests.conftest import ROOT
from tests.pages.form.test_in_browser import browsed, pytestmark, served

__all__ = ["pytestmark"]


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What a browser saw."""
    folder = tmp_path_factory.mktemp("first")
    fresh = folder / "first.yaml"
    with served(str(fresh), "--formula", "dunlin", "--on", "2026-05-03") as new:
        return {**browsed("first_car.mjs", folder, new), "file": fresh}


def test_next_leads_through_twenty_fields_to_a_verdict_on_weight(seen: dict[str, Any]) -> None:
    assert seen["asked"][0] == "weighing.readings"
    assert len(set(seen["asked"])) == len(seen["asked"]) == 16, "each thing is asked for once"
    assert seen["typed"] == 20, "the number, four wheels and fifteen more; the README says so"
    found = inspect_files(str(seen["file"]), pack=str(ROOT / "rulepacks" / "dunlin"), on="2026-05-03")
    outcomes = {one.clause.number: one.outcome for one in found.outcomes}
    assert (outcomes["3.1"], outcomes["3.2"]) == ("pass", "pass")


def test_everybody_can_read_the_page_at_any_width(seen: dict[str, Any]) -> None:
    assert (seen["console"], seen["axe"]) == ([], [])
    assert seen["cut"] == {"1280": [], "820": [], "320": []}
    assert seen["wide"] == {"1280": 1280, "820": 820, "320": 320}, seen["over"]
