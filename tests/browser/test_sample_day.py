"""The sample day of thirty cars at two tablets in real browsers, wholly by pages; the server is killed on the way."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from checker.meeting.taking.opening import Opening, open_meeting
from checker.pages.serving.listening import LOOPBACK, listen, port_of
from checker.quantities.display import decimal_text
from checker.reading.strict_yaml import read_document
from checker.report.meeting.handing_out import results_of
from tests.browser.test_pages import CHROMIUM, pytestmark
from tests.cli.running import environment
from tests.clients.language_server import NODE_PATH
from tests.meeting.test_sample_meeting import SAMPLE, script
from tests.pages.weigh_in.test_sample_day import stands

__all__ = ["pytestmark"]


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Any], Meeting]:
    """The folder of the day, what the browsers saw, and the same day by the officials' commands."""
    folder = tmp_path_factory.mktemp("sample-day")
    replay = script("replay")
    told = replay.read_script(read_document(SAMPLE / "day.yaml", "MT"))
    day = folder / "day.meeting"
    with open_meeting(day, Opening(str(replay.PACK), told["day"], tuple(told["officials"]), told["title"])):
        pass
    (folder / "steps.json").write_text(json.dumps(told["steps"], default=decimal_text))
    with listen(LOOPBACK, 0) as free:
        port = port_of(free)
    command = ["node", str(Path(__file__).with_name("sample_day.mjs")), str(CHROMIUM), sys.executable]
    process = subprocess.Popen(
        [*command, str(day), str(port), str(folder), str(folder / "steps.json"), str(SAMPLE)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**environment(), "NODE_PATH": str(NODE_PATH), "PATH": os.environ["PATH"]},
    )
    by_commands = replay.replay(folder / "other.meeting")
    out, complaints = process.communicate(timeout=1500)
    assert process.returncode == 0, complaints
    return folder, json.loads(out), by_commands


def test_every_car_stands_where_the_commands_put_it(played: tuple[Path, dict[str, Any], Meeting]) -> None:
    folder, _, by_commands = played
    with Meeting.open(folder / "day.meeting", writing=False) as by_pages:
        assert stands(by_pages) == stands(by_commands)
        kinds = [
            sorted(one.content.KIND for one in meeting.day.records() if one.content.KIND != "judged")
            for meeting in (by_pages, by_commands)
        ]
        assert kinds[0] == kinds[1], "nothing twice and nothing lost"
    assert verify(folder / "day.meeting").faults == ()


def test_the_results_that_were_kept_are_those_of_the_commands(
    played: tuple[Path, dict[str, Any], Meeting],
) -> None:
    folder, _, by_commands = played
    by_pages = json.loads((folder / "results.json").read_text())
    expected = json.loads(json.dumps(results_of(by_commands)))
    numbered = ("entry", "entries", "protest", "at")
    assert _without(by_pages["cars"], numbered) == _without(expected["cars"], numbered)
    assert by_pages["tally"] == expected["tally"]
    assert (folder / "bundle.zip").read_bytes()[:2] == b"PK"


def _without(told: Any, names: tuple[str, ...]) -> Any:
    """The same but for numbers of entries and times, which go by who was quicker."""
    if isinstance(told, dict):
        return {key: _without(value, names) for key, value in told.items() if key not in names}
    return [_without(one, names) for one in told] if isinstance(told, list) else told


def test_the_server_was_killed_twice_and_both_devices_went_on(
    played: tuple[Path, dict[str, Any], Meeting],
) -> None:
    told = played[1]["told"]
    assert told["kills"] >= 2
    assert told["saidSo"] == 2
    assert told["endedWith"] == 0


def test_the_browsers_had_nothing_to_say(played: tuple[Path, dict[str, Any], Meeting]) -> None:
    assert played[1]["console"] == []
    assert played[1]["outside"] == []
