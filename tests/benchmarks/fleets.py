"""What a fleet costs beside a plain loader that merely loads the same: `python -m tests.benchmarks.fleets --cars 500`.

A car read is its declaration as `Car`, in this process, by the rules of the sample pack. Cars are inspected by `checker
inspect` of all of them, in processes of its own: the processor time of them all, and how long it took. What starting
takes is left out by the difference of two fleets, so the ratios are those of any large one. One car in twenty fails or
is undecided.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from argparse import ArgumentParser
from collections.abc import Callable, Iterable, Iterator
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter, process_time
from typing import Any

import yaml

from checker.car.declaration.loading import load_car
from checker.cli import exits
from checker.pack.editions.loading import load_edition
from checker.reading.strict_yaml import parse_document
from checker.studies.fleet.glance import glance
from checker.studies.fleet.reading import records
from tests import fleet
from tests.cli.running import environment
from tests.conftest import ROOT

PACK = ROOT / "rulepacks" / "dunlin" / "2026.1.yaml"
DAY = date(2026, 7, 5)
CARS = 500
"""So many cars are read, and a fourth of them inspected: 10,000 take too long on a busy machine."""
FEWER = 40
"""The smaller fleet: so many that helpers are started."""
SELDOM = 20
ROUNDS = 3


def measure(cars: int = CARS) -> Iterator[tuple[str, float, float]]:
    """What is measured, its milliseconds a car, and how many times the plain loader's that is."""
    made = _cars(cars)
    with TemporaryDirectory() as folder:
        for kind, write, load in (
            ("YAML", _as_files, _load_yaml),
            ("JSON lines", _as_lines, json.loads),
        ):
            many, some, few = (
                write(Path(folder, f"{kind}-{number}"), made[:number]) for number in (cars, cars // 4, FEWER)
            )
            rounds = [(_loading(many, load), _reading(many)) for _ in range(ROUNDS)]
            plain, read = (min(seconds) / cars for seconds in zip(*rounds, strict=True))
            yield f"{kind}: loaded plainly", 1000 * plain, 1
            yield f"{kind}: read", 1000 * read, read / plain
            for form, options in (("list", ()), ("JSON", ("--format", "json"))):
                for jobs in (1, 2):
                    large, small = (_inspecting(place, jobs, options) for place in (some, few))
                    spent, passed = ((a - b) / (cars // 4 - FEWER) for a, b in zip(large, small, strict=True))
                    what = f"{kind}: inspected, {form}, {jobs} process{'es' if jobs > 1 else ''}"
                    yield f"{what}, processor time", 1000 * spent, spent / plain
                    yield f"{what}, time passed", 1000 * passed, passed / plain


def _cars(number: int) -> list[dict[str, Any]]:
    """So many of the fleet, of which every twentieth fails or is undecided."""
    pack, made = load_edition(str(PACK)), fleet.cars(100 * number, seed=3)
    wanted: dict[bool, list[dict[str, Any]]] = {True: [], False: []}
    others = -(-number // SELDOM)
    while len(wanted[True]) < number - others or len(wanted[False]) < others:
        car = next(made)
        read = load_car(parse_document(json.dumps(car).encode(), "fleet.jsonl", "CD"), pack.vocabulary)
        wanted[glance(pack, read, DAY, "entrant").complies is True].append(car)
    legal = iter(wanted[True])
    return [wanted[False][place // SELDOM] if place % SELDOM == 0 else next(legal) for place in range(number)]


def _as_files(folder: Path, cars: Iterable[object]) -> Path:
    """A folder with a file for each car, small mappings in braces as one writes them by hand."""
    folder.mkdir()
    for place, car in enumerate(cars):
        text = yaml.dump(
            car,
            Dumper=yaml.CSafeDumper,
            sort_keys=False,
            allow_unicode=True,
            default_flow_style=None,
            width=120,
        )
        Path(folder, f"{place:05}.yaml").write_text(text, encoding="utf-8")
    return folder


def _as_lines(file: Path, cars: Iterable[object]) -> Path:
    file = file.with_suffix(".jsonl")
    file.write_text("".join(json.dumps(car, ensure_ascii=False) + "\n" for car in cars), encoding="utf-8")
    return file


def _files(place: Path) -> list[Path]:
    return sorted(place.iterdir()) if place.is_dir() else [place]


def _load_yaml(text: str) -> object:
    return yaml.load(text, Loader=yaml.CSafeLoader)


def _loading(place: Path, load: Callable[[str], object]) -> float:
    """Seconds of processor time to merely load them."""
    began = process_time()
    for file in _files(place):
        with file.open(encoding="utf-8") as opened:
            for text in (opened.read(),) if place.is_dir() else opened:
                load(text)
    return process_time() - began


def _reading(place: Path) -> float:
    """Seconds of processor time to read them; what is remembered from one to the next is made anew."""
    vocabulary = load_edition(str(PACK)).vocabulary
    began = process_time()
    for record in records(map(str, _files(place))):
        record.judged(lambda document: load_car(document, vocabulary))
    return process_time() - began


def _inspecting(place: Path, jobs: int, options: Iterable[str]) -> tuple[float, float]:
    """Seconds of processor time, and seconds passed, until all are inspected."""
    cars, how = map(str, _files(place)), ("--pack", str(PACK), "--on", DAY.isoformat(), "--jobs", str(jobs))
    command = [sys.executable, "-m", "checker", "inspect", *cars, *how, *options]
    nowhere, began = subprocess.DEVNULL, perf_counter()
    process = subprocess.Popen(command, cwd=ROOT, env=environment(), stdout=nowhere, stderr=nowhere)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode in (exits.COMPLIES, exits.FAILS, exits.UNSETTLED), command
    return used.ru_utime + used.ru_stime, perf_counter() - began


def main() -> None:
    """Print each row."""
    parser = ArgumentParser()
    parser.add_argument("--cars", type=int, default=CARS)
    for what, spent, ratio in measure(parser.parse_args().cars):
        print(f"{what:62} {spent:8.2f} ms a car {ratio:7.2f}", flush=True)


if __name__ == "__main__":
    main()
