"""A legend says no more of the regions of set-ups than is known of them."""

from __future__ import annotations

from itertools import product
from typing import Any

from checker.report.figures.regions import region_notes, region_words
from checker.report.figures.window import window_figure
from tests.report.figures.test_figures import drawable

POINT = {"inside": 51.0, "rear": 49.0}
UNKNOWN: dict[str, Any] = {"clause": "3.4", "why": [], "not_shown": True}
NOT_FOLLOWED: dict[str, Any] = {"clause": "3.5", "why": [], "not_shown": False}
LEFT_OUT: dict[str, Any] = {"what": "B1", "why": []}


def reach(**otherwise: Any) -> dict[str, Any]:
    both = {"possible": [POINT], "legal": [POINT]}
    return {**both, "whole": True, "declined": [], "left_out": [], **otherwise}


def test_legal_is_said_without_reserve_only_where_every_clause_was_followed() -> None:
    legals: tuple[list[Any], ...] = ([], [POINT])
    declines: tuple[list[Any], ...] = ([], [UNKNOWN], [NOT_FOLLOWED], [UNKNOWN, NOT_FOLLOWED])
    lefts: tuple[list[Any], ...] = ([], [LEFT_OUT])
    for legal, declined, whole, left_out in product(legals, declines, (True, False), lefts):
        found = reach(legal=legal, declined=declined, whole=whole, left_out=left_out)
        told, notes = region_words(found)["legal"], " ".join(region_notes(found))
        assert ("not known" in told) == (UNKNOWN in declined)
        assert ("nothing of it" in told) == (not legal and whole and UNKNOWN not in declined)
        assert all(one["clause"] in notes for one in declined)
        assert ("B1" in notes, "time was up" in notes) == (bool(left_out), not whole)


def test_the_picture_of_an_inspection_says_so() -> None:
    layout = drawable("creeping-inside")["layout"]
    for regions in (reach(), reach(legal=[], declined=[UNKNOWN]), reach(declined=[NOT_FOLLOWED])):
        figure = window_figure({**layout, "reach": regions})
        assert figure is not None
        for words in (*region_words(regions).values(), *region_notes(regions)):
            assert words in figure.svg
