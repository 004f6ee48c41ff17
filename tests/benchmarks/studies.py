"""Processor time of the questions that judge many times: whom a change affects, a number swept, a pack's own cases, a
season's calendar, a meeting verified."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from time import process_time

from checker.cli.editions import edition_named, edition_with_cases
from checker.meeting.standing.verifying import verify
from checker.pack.editions.finding import open_folder
from checker.pack.editions.loading import load_edition
from checker.reading.document import Document
from checker.reading.strict_yaml import parse_quickly, read_document
from checker.report.one_car.lapses import calendar_document
from checker.studies.cases.casebook import read_cases
from checker.studies.cases.running import run_cases
from checker.studies.cases.strength import strength_of
from checker.studies.change.affected import Comparator
from checker.studies.fleet.sweep import Sweeper
from checker.studies.fleet.swept_number import find_number
from checker.studies.one_car.lapses import season
from checker.studies.one_car.season import read_meetings
from tests import fleet
from tests.conftest import ROOT

PACKS = ROOT / "rulepacks" / "dunlin"
DAY = date(2026, 7, 5)
CARS = 40
"""How many cars are judged to tell what one takes."""


def measure(cars: int = CARS) -> dict[str, float]:
    """Seconds of processor time for so many cars as the names say, reading them included."""
    lines = [json.dumps(car).encode() for car in fleet.cars(cars, seed=3)]

    def per_car(work: Callable[[Document], object]) -> float:
        began = process_time()
        for line in lines:
            work(parse_quickly(line, "fleet.jsonl", "CD"))
        return (process_time() - began) / cars

    days = [edition_named(f"{PACKS}@{day}", DAY) for day in ("2026-06-30", "2026-07-01")]
    editions = [edition_named(str(PACKS / f"{name}.yaml"), DAY) for name in ("2025.1", "2026.1")]
    compare = partial(Comparator, audience="entrant", on=DAY)
    bulletin, edition = (compare(old, new, every_change=False) for old, new in (days, editions))
    lines_too = compare(*editions)
    pack = load_edition(str(PACKS / "2026.1.yaml"))
    number = find_number(pack, "3.2")
    low, high = (number.read(kg, None) for kg in ("640 kg", "690 kg"))
    sweeper = Sweeper(pack, number, low, high, on=DAY)
    return {
        "affected by a bulletin, 500 cars": 500 * per_car(lambda car: bulletin.judge(car, "")),
        "affected by an edition, 500 cars": 500 * per_car(lambda car: edition.judge(car, "")),
        "the same with a line of each car": 500 * per_car(lambda car: lines_too.judge(car, "")),
        "a weight swept, 120 cars": 120 * per_car(lambda car: sweeper.sweep(car, "")),
        "cases with strength": _cases(),
        "calendar of a car, eight meetings": per_car(_calendar),
        "verify, a meeting of thirty cars": _verify(),
    }


def _cases() -> float:
    began = process_time()
    book = read_cases(edition_with_cases(str(PACKS / "2026.1.yaml")))
    strength_of(book.edition, run_cases(book))
    return process_time() - began


def _calendar(document: Document) -> None:
    meetings = read_meetings(read_document(ROOT / "samples/season/meetings.yaml", "SN"))
    calendar_document(season(document, open_folder(str(PACKS)), meetings, date(2026, 3, 20)))


def _verify() -> float:
    """The sample meeting, which is played first."""
    sys.path.insert(0, str(ROOT / "samples" / "meeting"))
    from replay import replay

    with TemporaryDirectory() as folder:
        file = Path(folder) / "day.meeting"
        replay(file).store.close()
        began = process_time()
        assert verify(file).sound
        return process_time() - began
