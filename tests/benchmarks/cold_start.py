"""A cold `checker inspect` of one car against starting Python with the two libraries that reading and commands rest on."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Mapping
from tempfile import TemporaryDirectory

from tests.cli.running import environment
from tests.conftest import ROOT

INSPECT = ["-m", "checker", "inspect", "samples/cars/legal.yaml"]
IMPORTS = ["-c", "import yaml, click"]
NOTHING = ["-c", "pass"]
ROUNDS = 25


def processor_seconds(arguments: list[str], variables: Mapping[str, str]) -> float:
    """User and system time of one process, its output thrown away."""
    nowhere = subprocess.DEVNULL
    process = subprocess.Popen([sys.executable, *arguments], cwd=ROOT, env=variables, stdout=nowhere)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode == 0, arguments
    return used.ru_utime + used.ru_stime


def measure(number: int = ROUNDS) -> dict[str, float]:
    """The least seconds of each, taken in turns so that a busy machine slows all alike."""
    compiled = environment()
    compiled.pop("PYTHONDONTWRITEBYTECODE", None)  # as an installed program has its modules
    with TemporaryDirectory() as cache:
        kept = {**compiled, "XDG_CACHE_HOME": cache}
        tasks = {
            "python": (NOTHING, compiled),
            "import yaml, click": (IMPORTS, compiled),
            "inspect, pack kept": (INSPECT, kept),
            "inspect, pack not kept": (INSPECT, {**kept, "CHECKER_NO_CACHE": "1"}),
        }
        for task in tasks.values():
            processor_seconds(*task)  # the first run compiles modules, and keeps the pack
        rounds = [{name: processor_seconds(*task) for name, task in tasks.items()} for _ in range(number)]
    return {name: min(one[name] for one in rounds) for name in tasks}
