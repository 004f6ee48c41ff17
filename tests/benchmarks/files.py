"""Reading a file with the place of every part, and linting a whole pack, against the C loader that keeps no places."""

from __future__ import annotations

from collections.abc import Callable
from time import process_time

import yaml

from checker.pack.lint.everything import lint
from checker.reading.strict_yaml import parse_document
from tests.conftest import ROOT

PACK = ROOT / "rulepacks" / "dunlin" / "2026.1.yaml"

ROUNDS = 7


def least_seconds(task: Callable[[], object], rounds: int) -> float:
    """The least processor time of several tries, so that a busy machine matters little."""
    tries = []
    for _ in range(rounds):
        start = process_time()
        task()
        tries.append(process_time() - start)
    return min(tries)


def measure(rounds: int = ROUNDS) -> tuple[float, float, float]:
    """Seconds of processor time: the loader, our reading, and lint, all of the same pack."""
    data = PACK.read_bytes()
    text = data.decode()
    plain = least_seconds(lambda: yaml.load(text, Loader=yaml.CSafeLoader), rounds)
    reading = least_seconds(lambda: parse_document(data, str(PACK), "PK"), rounds)
    linting = least_seconds(lambda: lint(PACK), rounds)
    return plain, reading, linting
