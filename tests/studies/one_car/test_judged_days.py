"""A car on one day after another is as if it were read and judged anew on each."""

from __future__ import annotations

import json
from datetime import date, timedelta
from itertools import product
from pathlib import Path

import pytest

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import Vocabulary
from checker.pack.editions.finding import PackFolder, open_folder
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.strict_yaml import parse_document, read_document
from checker.studies.one_car import judged_days
from checker.studies.one_car.judged_days import JudgedDays
from checker.verdict.clause_by_clause import ClauseByClause
from checker.verdict.run import inspect_document
from tests import fleet
from tests.conftest import ROOT
from tests.studies.packs import PACK, car_document

SAMPLES = sorted((ROOT / "samples" / "cars").glob("*.yaml"))
DAYS = [date.fromisoformat(f"2026-{day}") for day in ("03-20", "05-03", "06-30", "07-01", "07-02", "09-06")]
AFTER_PAPERS = date(2026, 6, 14)
"""No sample states a paper of a later day."""


def _agrees(folder: PackFolder, document: Document, audience: str, days: list[date]) -> None:
    through = JudgedDays(folder, document, audience)
    for on in days:
        day = through.on(on)
        anew = inspect_document(through.rules.on(on), document, on, audience)
        assert day.outcomes == {o.clause.number: o.outcome for o in anew.outcomes}
        assert list(day.outcomes) == [o.clause.number for o in anew.outcomes]
        assert day.complies == anew.complies
        for outcome in anew.outcomes:
            found, wanted = day.judged(outcome.clause.number).assessment, outcome.assessment
            assert (found.outcome, found.margin, found.finding) == (
                wanted.outcome,
                wanted.margin,
                wanted.finding,
            )


@pytest.mark.deep
@pytest.mark.parametrize(("file", "audience"), list(product(SAMPLES, ["entrant", "official"])))
def test_every_day_is_as_judged_anew(file: Path, audience: str) -> None:
    _agrees(open_folder("rulepacks/dunlin"), read_document(file, "CD"), audience, DAYS)


@pytest.mark.deep
def test_so_it_is_of_a_fleet_in_any_order_of_days() -> None:
    folder = open_folder("rulepacks/dunlin")
    for place, car in enumerate(fleet.cars(12, seed=41)):
        days = [*DAYS[place % len(DAYS) :], *DAYS[: place % len(DAYS)]]
        _agrees(folder, parse_document(json.dumps(car).encode(), "f", "CD"), "entrant", days)


def test_what_turns_on_a_day_turns(tmp_path: Path) -> None:
    text = PACK.replace('"1": {', '"1": {until: 2026-05-02, ').replace('"2": {', '"2": {since: 2026-05-03, ')
    (tmp_path / "edition.yaml").write_text(text)
    days = [date(2026, 5, 1) + timedelta(days=n) for n in range(4)]
    _agrees(open_folder(tmp_path), car_document(), "entrant", days)


def test_what_rests_on_no_day_is_judged_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []
    read: list[Document] = []

    class Counted(ClauseByClause):
        def __init__(self, pack: Pack, car: Car, on: date, audience: str, *, only: list[str]) -> None:
            asked.append(len(only))
            super().__init__(pack, car, on, audience, only=only)

    def noted(document: Document, vocabulary: Vocabulary, *, audience: str) -> Car:
        read.append(document)
        return load_car(document, vocabulary, audience=audience)

    monkeypatch.setattr(judged_days, "ClauseByClause", Counted)
    monkeypatch.setattr(judged_days, "load_car", noted)
    document = read_document(ROOT / "samples/cars/legal.yaml", "CD")
    days = JudgedDays(open_folder("rulepacks/dunlin"), document, "entrant")
    for weeks in range(4):
        assert len(days.on(AFTER_PAPERS + timedelta(weeks=weeks)).outcomes) > 50
    assert len(read) == 1
    first, *later = asked
    assert first > 50
    assert later
    assert max(later) < 25
