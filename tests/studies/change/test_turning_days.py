"""What changes by itself, day by day, held against judging a car on every day: no day is missed that turns a verdict."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from checker.car.declaration.loading import load_car
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.reading.strict_yaml import parse_document
from checker.studies.change.affected import Comparator
from checker.studies.change.turning_days import turning_days
from checker.verdict.inspection import inspect_car
from checker.verdict.run import dated

PACK = """\
pack: dated
edition: "1"
title: A formula with days of its own
in_force: {from: 2026-01-01, until: 2027-12-31}
course: clockwise
facts: {frame.mass: {unit: kg}, frame.width: {unit: mm}}
tables:
  widest:
    by: [day]
    rows:
      - {day: before 2027-05-01, value: 1800 mm}
      - {day: from 2027-05-01, value: 1700 mm}
  heavier:
    by: [built, year]
    rows:
      - {built: before 2020-01-01, year: any, value: 100 kg}
      - {built: any, year: [2026], value: 165 kg}
      - {built: any, year: any, value: 171 kg}
derived: {winter: {formula: month(event.date) >= 11}}
clauses:
  "1": {title: Weight, check: {limit: frame.mass, at_least: "168 kg if event.date < 2027-01-01 else 172 kg"}}
  "2": {title: Width, check: {limit: frame.width, at_most: widest(event.date)}}
  "3": {title: Late, since: 2026-07-01, check: {limit: frame.width, at_most: 1750 mm}}
  "4": {title: Early, until: 2026-06-30, check: {limit: frame.width, at_most: 1750 mm}}
  "5":
    title: Grace
    check: {limit: frame.mass, at_least: 175 kg}
    earlier: [{before: 2025-01-01, until: 2026-10-31, check: {limit: frame.mass, at_least: 160 kg}}]
  "6":
    title: Heavier
    check: {all_of: [{limit: frame.mass, at_least: 168 kg, until: 2027-02-28}, {limit: frame.mass, at_least: 172 kg, since: 2027-03-01}]}
  "7": {title: Relief, check: {any_of: [{limit: frame.mass, at_least: 165 kg, until: 2026-09-30}, {limit: frame.mass, at_least: 172 kg}]}}
  "8": {title: General, check: {limit: frame.mass, at_least: 172 kg}}
  "8a": {title: In its place, until: 2026-08-31, instead_of: ["8"], check: {limit: frame.mass, at_least: 165 kg}}
  "9": {title: A year, check: {limit: frame.mass, at_least: 165 kg if year(event.date) < 2027 else 172 kg}}
  "10": {title: A month later, check: {unless: event.date + 1 months <= 2026-12-15, limit: frame.mass, at_least: 172 kg}}
  "11": {title: The other way round, check: {unless: 2026-05-05 > event.date, limit: frame.mass, at_least: 172 kg}}
  "12": {title: In winter, check: {when: winter, limit: frame.mass, at_least: 172 kg}}
  "13": {title: Two keys, check: {limit: frame.mass, at_least: "heavier(car.chassis_built, year(event.date))"}}
  "14": {title: A last day, check: {valid: end_of_month(2026-04-10)}}
  "15": {title: A first day, check: {limit: event.date, above: 2026-03-03}}
  "16": {title: Named, check: {let: {late: event.date >= 2027-07-07}, when: late, limit: frame.mass, at_least: 172 kg}}
"""

CAR = """\
formula: dated
car: {number: "1", chassis_built: 2024-06-01}
frame: {mass: 170 kg, width: 1760 mm}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "dated").mkdir()
    (tmp_path / "dated" / "1.yaml").write_text(PACK)
    return tmp_path / "dated"


def outcomes(folder: Path, on: date) -> dict[str, str]:
    pack = load_pack(open_folder(str(folder)), on)
    document = dated(parse_document(CAR.encode(), "car.yaml", "CD"), on)
    judged = inspect_car(pack, load_car(document, pack.vocabulary), on, "entrant")
    return {o.clause.number: str(o.outcome) for o in judged.outcomes}


@pytest.mark.deep
def test_every_day_that_turns_a_verdict_is_told_and_no_other_is_invented(folder: Path) -> None:
    first, last = date(2026, 1, 1), date(2027, 12, 31)
    told = turning_days(open_folder(str(folder)), first + timedelta(days=1), last)
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    turned = set()
    before = outcomes(folder, days[0])
    for day in days[1:]:
        now = outcomes(folder, day)
        turned |= {(day, number) for number in now if now[number] != before[number]}
        before = now
    assert {(one.day, one.clause) for one in told} == turned
    assert len(told) == len(turned) + 1  # of clause 6 one bound ends on the day on which the other begins
    assert {number for _, number in turned} == {*map(str, range(1, 17)), "8a"}


def test_the_pack_s_own_days_are_told_too(folder: Path) -> None:
    told = turning_days(open_folder(str(folder)), date(2025, 1, 1), date.max)
    assert [(one.day.isoformat(), one.words) for one in told if not one.clause] == [
        ("2026-01-01", "edition 1 comes into force"),
        ("2028-01-01", "edition 1 is no longer in force"),
    ]


def test_a_car_is_judged_by_each_side_on_its_own_day(folder: Path) -> None:
    old, new = date(2026, 12, 31), date(2027, 1, 1)
    packs = [load_pack(open_folder(str(folder)), on) for on in (old, new)]
    car = parse_document(CAR.encode(), "car.yaml", "CD")
    both = Comparator(*packs, audience="entrant", on=new, on_before=old).judge(car, "car.yaml")
    changed = [e.pair.number for e in both.effects if e.before != e.after and e.newly_fails]
    assert changed == ["1", "9", "13"]
    same = Comparator(*packs, audience="entrant", on=new).judge(car, "car.yaml")
    assert all(e.before == e.after for e in same.effects)
