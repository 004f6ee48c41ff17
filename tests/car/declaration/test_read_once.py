"""What an edited copy of a declaration shares with it is read once, and is as if it had been read anew."""

from __future__ import annotations

from itertools import product
from pathlib import Path
from typing import Any

import pytest

import checker.car.declaration.entries as entries
from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.pack.editions.loading import load_edition
from checker.reading.document import Document, Edit
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document, read_document
from tests.conftest import ROOT
from tests.examples import quick_first

CARS = sorted((ROOT / "samples" / "cars").glob("*.yaml"))
VOCABULARY = load_edition(str(ROOT / "rulepacks/dunlin/2026.1.yaml")).vocabulary
EDITS = [
    [Edit(("event", "date"), "2026-04-01")],
    [Edit(("components", 0, "name"), "another"), Edit(("engine", "capacity"), "1498 cc")],
    [Edit(("ballast",), [{"label": "S9", "mass": "2 kg", "fixings": 2}])],
]


def told(car: Car) -> tuple[Any, ...]:
    lists = {
        name: [(entry.label, entry.path, entry.fields, entry.count, entry.span) for entry in every]
        for name, every in car.all_entries.items()
    }
    return car.facts, car.structure, lists, car.notes().premises, car.warnings, car.instruments


@pytest.mark.parametrize(("file", "audience"), quick_first(product(CARS, ["entrant", "official"]), 2))
def test_a_copy_is_read_as_if_nothing_had_been_read_before(file: Path, audience: str) -> None:
    kept = read_document(file, "CD")
    for other in ("official", "entrant"):
        load_car(kept, VOCABULARY, audience=other)
    for edits in ([], *EDITS):
        fresh = read_document(file, "CD").edited(edits, "CD199")
        again = load_car(kept.edited(edits, "CD199"), VOCABULARY, audience=audience)
        assert told(again) == told(load_car(fresh, VOCABULARY, audience=audience))


def test_only_what_is_another_is_read_again(monkeypatch: pytest.MonkeyPatch) -> None:
    kept = read_document(CARS[0], "CD")
    read: list[tuple[str | int, ...]] = []
    original = entries._read_entry

    def noted(reader: Any, its_list: Any, path: Any) -> Any:
        read.append(path)
        return original(reader, its_list, path)

    monkeypatch.setattr(entries, "_read_entry", noted)
    load_car(kept, VOCABULARY)
    read.clear()
    load_car(kept.edited([Edit(("components", 1, "name"), "another")], "CD199"), VOCABULARY)
    assert read == [("components", 1)]


def test_a_mistake_is_told_of_every_copy() -> None:
    text = "formula: dunlin\ncar: {number: '7'}\ncomponents: [{name: pedals, mass: 2 kgs}]\nengine: {capacity: 1}\n"
    kept = parse_document(text.encode(), "car.yaml", "CD")

    def mistakes(document: Document) -> list[str]:
        with pytest.raises(InputError) as found:
            load_car(document, VOCABULARY)
        return [f"{problem.code} {problem.span}" for problem in found.value.problems]

    first = mistakes(kept)
    assert len(first) == 2
    assert mistakes(kept) == first
    assert mistakes(kept.edited([Edit(("event", "date"), "2026-04-01")], "CD199")) == first
