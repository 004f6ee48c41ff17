"""A car judged by no more than it must be: what is told of a change is what judging it whole by both texts tells."""

from __future__ import annotations

import json
from datetime import date
from random import Random
from typing import Any

import pytest

from checker.cli.editions import edition_named
from checker.pack.editions.loading import build_pack
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.strict_yaml import parse_document
from checker.studies.change.affected import NO_CLAUSE, Comparator
from checker.studies.change.relevance import alike_unless_approved, may_differ
from checker.verdict.run import inspect_document
from tests import fleet
from tests.conftest import ROOT
from tests.examples import quick_first
from tests.studies.change.test_relevance import CHANGES
from tests.studies.packs import DAY, PACK, car_document, pack

DUNLIN = ROOT / "rulepacks" / "dunlin"
SUMMER = date(2026, 7, 5)
RENUMBERED = PACK.replace('"7": {title: Body,', '"10": {title: Body, formerly: "7",')


def told_of_both(old: Pack, new: Pack, car: Document, on: date, on_before: date | None = None) -> list[Any]:
    """By pair what is told, and what comes out where all is judged."""
    effects = Comparator(old, new, audience="entrant", on=on, on_before=on_before).judge(car, "").effects
    whole = [
        {one.clause.number: one for one in inspect_document(text, car, day, "entrant").outcomes}
        for text, day in ((old, on_before or on), (new, on))
    ]

    def judged(side: int, number: str | None) -> tuple[Any, Any]:
        found = whole[side].get(str(number))
        return (found.outcome, found.assessment.margin) if found else (NO_CLAUSE, None)

    return [
        (
            ((one.before, one.margin_before), (one.after, one.margin_after)),
            (judged(0, one.pair.old), judged(1, one.pair.new)),
        )
        for one in effects
    ]


@pytest.mark.deep
@pytest.mark.parametrize("changes", [changes for changes, _ in CHANGES])
@pytest.mark.parametrize("car", [{}, {"engine": None, "frame.width": "1395 mm", "body": None}])
def test_small_packs(changes: dict[str, Any], car: dict[str, Any]) -> None:
    for told, judged in told_of_both(pack(), pack(changes), car_document(car), DAY):
        assert told == judged


def test_a_clause_with_another_number_and_the_same_rules() -> None:
    later = RENUMBERED.replace('edition: "1"', 'edition: "2"').replace("2026-01-01", "2026-02-01")
    packs = [edition_of(text) for text in (PACK, later.replace("at_most: 1400 mm", "at_most: 1300 mm"))]
    found = told_of_both(packs[0], packs[1], car_document({}), DAY)
    assert all(told == judged for told, judged in found)
    assert len(found) == 2


def edition_of(text: str) -> Pack:
    return build_pack(parse_document(text.encode(), "pack.yaml", "PK"))


def dunlin_cars(number: int) -> list[Document]:
    """Of the fleet; every other one cites approvals of the register, its own or another car's."""
    register = edition_named(f"{DUNLIN}@{SUMMER}", SUMMER).approvals or ()
    found = []
    for place, car in enumerate(fleet.cars(number, seed=8)):
        if place % 2:
            chosen = Random(place).choice(register)
            car["approvals"] = [chosen.reference]
            car["car"]["number"] = (*chosen.cars, car["car"]["number"])[0]
        found.append(parse_document(json.dumps(car).encode(), "fleet.jsonl", "CD"))
    return found


@pytest.mark.parametrize(
    ("old", "new", "before"),
    quick_first(
        [
            (f"{DUNLIN}@2026-06-30", f"{DUNLIN}@2026-07-01", None),
            (f"{DUNLIN}/2025.1.yaml", f"{DUNLIN}/2026.1.yaml", None),
            (f"{DUNLIN}@2026-06-30", f"{DUNLIN}@2026-07-05", date(2026, 6, 30)),
        ],
        quick=0,  # the quick run tries small packs
    ),
)
def test_the_dunlin_formula(old: str, new: str, before: date | None) -> None:
    packs = [edition_named(place, SUMMER) for place in (old, new)]
    for car in dunlin_cars(4):
        for told, judged in told_of_both(packs[0], packs[1], car, SUMMER, before):
            if before is None or told[0][0] != told[1][0]:  # a margin that the days alone move is no change
                assert told == judged
            else:
                assert judged[0][0] == judged[1][0] == told[0][0]


def test_what_only_an_approval_may_change_is_alike_without_one() -> None:
    old, new = (edition_named(f"{DUNLIN}@{day}", SUMMER) for day in ("2026-06-30", "2026-07-01"))
    alike = alike_unless_approved(old, new)
    told = {pair.number: pair in alike for pair in may_differ(old, new)}
    assert told == {"1.1": True, "3.3": False, "5.7": True, "8.2": True}
