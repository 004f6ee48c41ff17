"""What a club adds over the years, and a car over a season, costs no more than its share: calls, at n and at 4 n."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from checker.meeting.session.procedure import read_procedure
from checker.pack.editions.bulletins import read_bulletin
from checker.pack.editions.consolidation import consolidate
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.reading.strict_yaml import parse_document
from checker.studies.one_car.lapses import season
from checker.studies.one_car.season import read_meetings
from checker.verdict.run import inspect_document
from tests.examples import quick_first
from tests.pack.folders import EDITION, bulletin, write
from tests.studies.casebooks import runs
from tests.studies.packs import CAR, PACK
from tests.work import operations_of

DAY = date(2026, 7, 1)
SLACK = 1.1
"""What is looked up in order takes a step more where there is four times as much."""
READING = "{front_left: 130 kg, front_right: 125 kg, rear_left: 135 kg, rear_right: 130 kg}"


def loading_bulletins(folder: Path, n: int) -> Callable[[], object]:
    """Each bulletin changes a clause of its own."""
    clauses = "".join(
        f'  "{100 + i}": {{title: Width, check: {{limit: frame.width, at_most: {1400 + i} mm}}}}\n'
        for i in range(n)
    )
    texts = {
        f"b{i:04}.yaml": bulletin(
            f'{{change: "{100 + i}", at: check.at_most, for: {1400 + i} mm, read: {1500 + i} mm}}', f"B{i}"
        )
        for i in range(n)
    }
    place = write(folder, {"edition.yaml": EDITION.replace("clauses:\n", f"clauses:\n{clauses}"), **texts})
    assert len(load_pack(open_folder(place), DAY).bulletins) == n
    return lambda: load_pack(open_folder(place), DAY)


CHANGED = '{change: "{i}", at: check.at_most, for: 1 m, read: 2 m}'
WITHDRAWN = '{withdraw: "{i}"}'
ADDED = '{add: "{i}.1", read: {title: T}}'


def bulletins_of_one_day(change: str) -> Callable[[Path, int], Callable[[], object]]:
    """Each says one thing of a clause of its own."""

    def consolidating(_folder: Path, n: int) -> Callable[[], object]:
        clauses = "".join(f'  "{100 + i}": {{title: T, check: {{at_most: 1 m}}}}\n' for i in range(n))
        edition = parse_document(f"clauses:\n{clauses}".encode(), "edition.yaml", "PK")
        bulletins = [
            read_bulletin(
                parse_document(bulletin(change.replace("{i}", str(100 + i)), f"B{i}").encode(), "b", "BU")
            )
            for i in range(n)
        ]
        return lambda: consolidate(edition, bulletins)

    return consolidating


def judging(folder: Path, car: str) -> Callable[[], object]:
    """A car that no other test judges."""
    pack = load_pack(open_folder(write(folder, {"edition.yaml": PACK})), DAY)
    document = parse_document(car.encode(), "car.yaml", "CD")
    return lambda: inspect_document(pack, document, DAY, "entrant")


def judging_components(folder: Path, n: int) -> Callable[[], object]:
    more = "".join(f"  - {{name: c{i}, category: safety/belts, made: 2025-05}}\n" for i in range(n))
    return judging(folder, CAR.replace("components:\n", f"components:\n{more}"))


def judging_entries(folder: Path, n: int) -> Callable[[], object]:
    joints = ", ".join(f"{{name: j{i}, washer: 18 mm, bore: 15.5 mm}}" for i in range(n))
    return judging(folder, re.sub(r"joints: .*\n", f"joints: [{joints}]\n", CAR))


def judging_readings(folder: Path, n: int) -> Callable[[], object]:
    return judging(folder, CAR.replace("readings: [", "readings: [" + f"{READING}, " * n))


def following_a_season(folder: Path, n: int) -> Callable[[], object]:
    place = open_folder(write(folder, {"edition.yaml": PACK}))
    document = parse_document(CAR.replace("Knot", f"Knot {n}").encode(), "car.yaml", "CD")
    days = "".join(
        f"- {{name: M{i}, date: 2026-{7 + i // 28:02}-{1 + i % 28:02}}}\n" for i in range(n)
    ).encode()
    meetings = read_meetings(parse_document(days, "season.yaml", "SN"))
    return lambda: season(document, place, meetings, DAY)


def running_cases(folder: Path, n: int) -> Callable[[], object]:
    folder.mkdir()
    cases = "".join(
        f'- {{name: n{i}, from: car.yaml, set: {{frame.width: {1000 + i} mm}}, expect: {{"1": pass}}}}\n'
        for i in range(n)
    )
    return lambda: runs(folder, cases)


def reading_steps(folder: Path, n: int) -> Callable[[], object]:
    text = EDITION + "".join(
        f'  "{100 + i}": {{title: T, check: {{limit: frame.width, at_most: 1 m}}}}\n' for i in range(n)
    )
    pack = load_pack(open_folder(write(folder, {"edition.yaml": text})), DAY)
    steps = "".join(f'  - {{name: s{i}, clauses: ["{100 + i}"]}}\n' for i in range(n))
    document = parse_document(f"procedure: kart\nweighings: 1\nsteps:\n{steps}".encode(), "p.yaml", "MT")
    assert len(read_procedure(document, pack).steps) == n
    return lambda: read_procedure(document, pack)


@pytest.mark.parametrize(
    ("growing", "n"),
    quick_first(
        [
            (bulletins_of_one_day(CHANGED), 40),
            (judging_components, 40),
            (bulletins_of_one_day(WITHDRAWN), 40),
            (bulletins_of_one_day(ADDED), 40),
            (judging_entries, 30),
            (judging_readings, 12),
            (running_cases, 10),
            (reading_steps, 40),
            (loading_bulletins, 30),
            (following_a_season, 16),
        ]
    ),
)
def test_four_times_as_much_takes_about_four_times_the_work(
    growing: Callable[[Path, int], Callable[[], object]], n: int, tmp_path: Path
) -> None:
    growing(tmp_path / "first", n + 1)()  # what is made once is not counted
    some, four_times = growing(tmp_path / "some", n), growing(tmp_path / "more", 4 * n)
    assert operations_of(four_times) <= 4 * SLACK * operations_of(some)
