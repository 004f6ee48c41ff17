"""Small packs with cases, written into a folder."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent, indent

from checker.pack.editions.edition import newest
from checker.pack.editions.finding import open_folder
from checker.reading.problems import Problem
from checker.report.change.cases import as_problem
from checker.studies.cases.casebook import Casebook, read_cases
from checker.studies.cases.running import Run, run_cases

PACK = """\
pack: kart
edition: "1"
title: Kart rules
in_force: {from: 2026-01-01}
currency: GBP
facts:
  frame.width: {unit: mm, measured_with: tape}
  frame.length: {unit: mm}
  engine.kind: {one_of: [two stroke, four stroke]}
  engine.capacity: {unit: cc}
  seal.number: {type: text, stated_by: official}
instruments: {tape: {resolution: 1 mm, permissible_error: 1 mm}}
tables:
  longest:
    by: [capacity]
    rows:
      - {capacity: up to 100 cc, value: 1800 mm}
      - {capacity: above 100 cc, value: 1900 mm}
clauses:
  "1": {title: Width, check: {limit: frame.width, at_most: 1400 mm}}
  "2": {title: Length, check: {limit: frame.length, at_most: longest(engine.capacity)}}
  "3":
    title: Engine
    check:
      any_of:
        - {when: engine.kind == 'four stroke', limit: engine.capacity, at_least: 130 cc}
        - {when: engine.kind == 'two stroke', limit: engine.capacity, at_most: 125 cc}
cases:
"""
CAR = """\
formula: kart
car: {number: "5"}
event: {date: 2026-05-03}
frame: {width: 1300 mm, length: 1700 mm}
engine: {kind: two stroke, capacity: 100 cc}
"""


def book(folder: Path, cases: str, pack: str = PACK) -> Casebook:
    """The casebook of a pack with these cases (a YAML list), and a car `car.yaml` beside it."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "pack.yaml").write_text(pack + indent(dedent(cases).strip(), "  ") + "\n", encoding="utf-8")
    (folder / "car.yaml").write_text(CAR, encoding="utf-8")
    return read_cases(newest(open_folder(folder)))


def runs(folder: Path, cases: str, pack: str = PACK) -> list[Run]:
    """Such cases, judged."""
    return run_cases(book(folder, cases, pack))


def problems_of(run: Run) -> tuple[Problem, ...]:
    """Why a case could not be judged, and what came out otherwise."""
    return (*run.problems, *map(as_problem, run.differences))


def codes(found: list[Run]) -> list[str]:
    """The codes of all their problems."""
    return [problem.code for run in found for problem in problems_of(run)]
