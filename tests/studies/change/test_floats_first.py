"""Whom a change affects is byte for byte the same where floats tell nothing and the exact engine judges all."""

from __future__ import annotations

import json
from datetime import date
from random import Random
from typing import Any

import pytest

from checker.cli.editions import edition_named
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.report.change.affected import affected_document, car_data
from checker.report.json_text import json_text
from checker.studies.change.affected import Comparator
from checker.studies.change.tally import Fleet, counting
from tests import fleet
from tests.conftest import ROOT
from tests.examples import quick_first
from tests.unfiltered import filter_closed

DUNLIN, DAY = ROOT / "rulepacks/dunlin", date(2026, 7, 5)
BULLETIN = (f"{DUNLIN}@2026-06-30", f"{DUNLIN}@2026-07-01")
EDITION = (f"{DUNLIN}/2025.1.yaml", f"{DUNLIN}/2026.1.yaml")


def spoilt(car: Any, chance: Random) -> Any:
    """The same with things left out and truths turned round."""
    if isinstance(car, dict):
        kept = {key: one for key, one in car.items() if chance.random() > 0.01}
        return {key: spoilt(one, chance) for key, one in kept.items()}
    if isinstance(car, list):
        return [spoilt(one, chance) for one in car]
    if isinstance(car, bool) and chance.random() < 0.05:
        return not car
    return car


def documents(number: int, seed: int) -> list[Document]:
    """Cars of the fleet, every other one spoilt."""
    found = []
    for place, car in enumerate(fleet.cars(number, seed)):
        made = spoilt(car, Random(f"{seed} {place}")) if place % 2 else car
        found.append(parse_document(json.dumps(made).encode(), "fleet.jsonl", "CD"))
    return found


def told(packs: tuple[Pack, Pack], cars: list[Document], **how: Any) -> list[str]:
    """The line of each car, and the document; without `every_change` the document alone."""
    comparator = Comparator(*packs, on=DAY, **how)
    whole, real = Fleet(comparator.pairs), counting(*packs, comparator.pairs)
    lines: list[str] = []
    for car in cars:
        try:
            one = comparator.judge(car, "fleet.jsonl")
        except InputError as error:
            lines.append(str(error))
            continue
        whole.add(one, real)
        lines.append(json_text(car_data(one, *packs)))
    return [
        *(lines if how.get("every_change", True) else []),
        json_text(affected_document(comparator, whole, 0)),
    ]


@pytest.mark.parametrize(
    ("names", "audience", "seed"),
    quick_first(
        [
            (names, audience, seed)
            for seed in range(3)
            for names in (BULLETIN, EDITION)
            for audience in ("entrant", "official")
        ],
        quick=1,
    ),
)
def test_the_exact_engine_alone_tells_the_same(names: tuple[str, str], audience: str, seed: int) -> None:
    packs = (edition_named(names[0], DAY), edition_named(names[1], DAY))
    cars = documents(4 if seed == 0 else 12, seed)
    by_floats = told(packs, cars, audience=audience)
    with filter_closed():
        assert told(packs, cars, audience=audience) == by_floats
    assert told(packs, cars, audience=audience, every_change=False) == by_floats[-1:]
