"""The most memory that a fleet takes, the process that the user started and its helpers: `python -m tests.benchmarks.memory`.

Cars and rules are small ones, as what grows with the number of cars is what is kept of each.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.cli.running import environment
from tests.conftest import ROOT
from tests.studies.packs import PACK, car_document

CARS = (100, 1_000, 10_000)
FORMS = (("--format", "json"), ("--csv", "clauses"), ())


def main() -> None:
    """Print MB for each number of cars and each form of the result; Linux alone tells them."""
    with TemporaryDirectory() as folder:
        pack = Path(folder, "pack.yaml")
        pack.write_text(PACK)
        data: Any = car_document({}).data
        for number in CARS:
            file = Path(folder, f"{number}.jsonl")
            with file.open("w") as opened:
                for place in range(number):
                    car = {**data, "car": {**data.get("car", {}), "number": str(place + 1)}}
                    opened.write(json.dumps(car, default=str) + "\n")
            for form in FORMS:
                command = (
                    "inspect",
                    str(file),
                    "--pack",
                    str(pack),
                    "--on",
                    "2026-05-03",
                    "--jobs",
                    "2",
                    *form,
                )
                own, helpers = most_megabytes(command)
                print(f"{number:6} cars, {' '.join(form) or 'a list':15} {own} MB, its helpers {helpers} MB")


def most_megabytes(arguments: tuple[str, ...]) -> tuple[int, list[int]]:
    """The most that the process of a command held, and each of its helpers."""
    command = [sys.executable, "-m", "checker", *arguments]
    nowhere = subprocess.DEVNULL
    process = subprocess.Popen(command, cwd=ROOT, env=environment(), stdout=nowhere, stderr=nowhere)
    held: dict[int, int] = {}
    while process.poll() is None:
        for one in (process.pid, *_helpers(process.pid)):
            held[one] = max(held.get(one, 0), _megabytes(one))
        time.sleep(0.05)
    own = held.pop(process.pid, 0)
    return own, sorted(held.values())


def _helpers(process: int) -> list[int]:
    try:
        return [int(one) for one in Path(f"/proc/{process}/task/{process}/children").read_text().split()]
    except OSError:
        return []


def _megabytes(process: int) -> int:
    """The most memory in RAM so far; 0 where it has ended."""
    try:
        lines = Path(f"/proc/{process}/status").read_text().splitlines()
    except OSError:
        return 0
    return next((int(line.split()[1]) // 1024 for line in lines if line.startswith("VmHWM:")), 0)


if __name__ == "__main__":
    assert os.path.isdir("/proc"), "memory is looked up in /proc"
    main()
