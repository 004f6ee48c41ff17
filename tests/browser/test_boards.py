"""Fifty boards in real browser pages: what they cost is told as a multiple of judging a car on the same machine."""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from checker.meeting.session.session import Meeting
from checker.pages.serving.listening import LOOPBACK, listen, port_of
from tests.benchmarks.weigh_in import BOARDS, a_day, judging_seconds
from tests.browser.test_pages import CHROMIUM, pytestmark
from tests.cli.running import environment
from tests.clients.language_server import NODE_PATH

__all__ = ["pytestmark"]

CARS = 8


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What the browsers measured, with what judging took before and after it."""
    folder = tmp_path_factory.mktemp("boards")
    day = a_day(folder)
    with Meeting.open(day, writing=False) as meeting:
        cars = [car.number for car in meeting.day.cars.values()][:CARS]
    with listen(LOOPBACK, 0) as free:
        port = port_of(free)
    judging = [judging_seconds(day)]
    script = str(Path(__file__).with_name("boards.mjs"))
    done = subprocess.run(
        ["node", script, str(CHROMIUM), sys.executable, day, str(port), str(BOARDS), *cars],
        capture_output=True,
        text=True,
        timeout=900,
        env={**environment(), "NODE_PATH": str(NODE_PATH), "PATH": os.environ["PATH"]},
    )
    assert done.returncode == 0, done.stderr
    judging.append(judging_seconds(day))
    seen: dict[str, Any] = json.loads(done.stdout)
    assert (seen["console"], seen["outside"]) == ([], [])
    return {**seen["told"], "judging_ms": 1000 * statistics.mean(judging)}


def test_fifty_boards_are_open_and_all_show_every_weighing(told: dict[str, Any]) -> None:
    assert told["open"] == BOARDS
    assert len(told["late"]) == BOARDS * CARS // 2
    assert told["endedWith"] == 0


def test_boards_hold_up_no_official(told: dict[str, Any], capsys: pytest.CaptureFixture[str]) -> None:
    alone, together = (statistics.median(told[key]) / told["judging_ms"] for key in ("alone", "together"))
    late = statistics.median(told["late"]) / told["judging_ms"]
    latest = max(told["late"]) / told["judging_ms"]
    with capsys.disabled():
        print(
            f"\njudging a car {told['judging_ms']:.0f} ms; weighed, stored and judged in a browser in"
            f" {alone:.1f} times that, with {BOARDS} boards open {together:.1f} times;"
            f" on the boards {late:.1f} times after it was sent, at most {latest:.1f}"
        )
    assert together < 60
    assert 0 < late <= latest < 100


def test_boards_take_little_memory_of_the_server(
    told: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    grown = told["after"] - told["before"]
    with capsys.disabled():
        print(
            f"\nthe server takes {told['before'] / 1024:.0f} MiB without boards, most of it to judge cars;"
            f" {BOARDS} boards add {grown / told['before']:.2f} times that"
        )
    assert grown < told["before"] / 2
