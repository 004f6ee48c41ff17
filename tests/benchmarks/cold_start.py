"""A cold `checker inspect` of one car against starting Python with the two libraries that it cannot do without."""

from __future__ import annotations

import subprocess
import sys
from statistics import median
from time import perf_counter

from tests.cli.running import environment
from tests.conftest import ROOT

INSPECT = ["-m", "checker.cli.main", "inspect", "samples/cars/legal.yaml"]
IMPORTS = ["-c", "import yaml, click"]

ROUNDS = 15


def seconds(arguments: list[str]) -> float:
    """How long one process takes, its output thrown away."""
    began = perf_counter()
    subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, env=_compiled(), stdout=subprocess.DEVNULL, check=True
    )
    return perf_counter() - began


def _compiled() -> dict[str, str]:
    """An environment in which Python keeps compiled modules, as an installed program has them."""
    return {key: value for key, value in environment().items() if key != "PYTHONDONTWRITEBYTECODE"}


def measure() -> tuple[float, float]:
    """Median seconds of both, taken in turns so that a busy machine slows both alike."""
    for arguments in (INSPECT, IMPORTS):
        seconds(arguments)  # the first run compiles
    pairs = [(seconds(INSPECT), seconds(IMPORTS)) for _ in range(ROUNDS)]
    return median(inspect for inspect, _ in pairs), median(imports for _, imports in pairs)
