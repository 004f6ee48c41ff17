"""Weighing by pages while many boards are open, as ratios to judging a car alone: `python -m tests.benchmarks.weigh_in`.

The server is a process of its own; the boards, which read each new page as their script would, are threads of this one.
"""

from __future__ import annotations

import statistics
import tempfile
import time
import urllib.request
from collections.abc import Mapping
from pathlib import Path
from threading import Event, Thread

from checker.meeting.session.session import Meeting
from checker.meeting.taking.entering import enter, handed_in
from checker.meeting.taking.opening import Opening, open_meeting
from tests.cli.test_weigh_in import Browser, served
from tests.conftest import ROOT

BOARDS = 50
CARS = ROOT / "samples" / "meeting" / "cars"
LOADS: Mapping[str, str] = {
    "front_left": "159.0",
    "front_right": "147.5",
    "rear_left": "148.5",
    "rear_right": "141.0",
}


def a_day(folder: Path) -> str:
    """Thirty cars of the sample meeting, entered."""
    file = str(folder / "day.meeting")
    with open_meeting(
        file, Opening(str(ROOT / "rulepacks" / "dunlin"), "2026-05-24", ("KV", "TB"))
    ) as meeting:
        enter(meeting, handed_in(meeting, [CARS]), "KV")
    return file


def judging_seconds(day: str) -> float:
    """What it takes to judge a car, the engine warm."""
    with Meeting.open(day, writing=False) as meeting:
        car = next(iter(meeting.day.cars.values()))
        taken = []
        for _ in range(6):
            began = time.perf_counter()
            meeting.judgement(car, afresh=True)
            taken.append(time.perf_counter() - began)
    return statistics.median(taken[1:])


class Board(Thread):
    """A board that is open: it listens, and reads the page whenever there is news."""

    def __init__(self, port: int, ending: Event) -> None:
        super().__init__(daemon=True)
        self._address, self._ending = f"http://127.0.0.1:{port}", ending
        self.late: list[float] = []
        self.stored_at = 0.0

    def run(self) -> None:
        with urllib.request.urlopen(f"{self._address}/live", timeout=60) as lines:
            for line in lines:
                if self._ending.is_set():
                    return
                if line.startswith(b"data:"):
                    with urllib.request.urlopen(f"{self._address}/", timeout=60) as page:
                        page.read()
                    if self.stored_at:
                        self.late.append(time.perf_counter() - self.stored_at)


def weighing_seconds(day: str, boards: int, cars: list[str]) -> tuple[list[float], list[float]]:
    """How long each weighing took until its verdict was there, and how late it stood on the boards."""
    with served(day) as (_, printed, port):
        ending, taken = Event(), []
        browser = Browser(port)
        browser.sign_on("TB", printed)
        open_boards = [Board(port, ending) for _ in range(boards)]
        for board in open_boards:
            board.start()
        time.sleep(3)
        for car in cars:
            form = {**browser.form(f"/scales?car={car}", "/scales"), **LOADS, "fuel": "6", "right": "yes"}
            began = time.perf_counter()
            status, told, address = browser.ask("POST", "/scales", form)
            assert status == 303, told
            for board in open_boards:
                board.stored_at = time.perf_counter()
            assert browser.ask("GET", address)[0] == 200
            taken.append(time.perf_counter() - began)
            time.sleep(1.5)
        ending.set()
        return taken, [one for board in open_boards for one in board.late]


def main() -> None:
    """Measure, the machine otherwise quiet."""
    with tempfile.TemporaryDirectory() as folder:
        day = a_day(Path(folder))
        base = judging_seconds(day)
        print(f"judging a car                    {1000 * base:6.0f} ms")
        with Meeting.open(day, writing=False) as meeting:
            numbers = [car.number for car in meeting.day.cars.values()]
        for boards, cars in ((0, numbers[:8]), (BOARDS, numbers[8:16])):
            taken, late = weighing_seconds(day, boards, cars)
            print(
                f"weighed and judged, {boards:2} boards    {statistics.median(taken) / base:6.1f} times that,"
                f" at most {max(taken) / base:.1f}"
            )
            if late:
                print(
                    f"on all boards after              {statistics.median(late):6.2f} s, at most {max(late):.2f} s"
                )


if __name__ == "__main__":
    main()
