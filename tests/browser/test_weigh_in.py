"""A day of a weigh-in in real browsers: two officials and a board at once, the server killed in the middle, networks
that come and go; then every page on a phone and a tablet, in both schemes, for everybody."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from checker.meeting.record.car_contents import Weighed
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import COMPLIES, standings
from checker.meeting.standing.verifying import verify
from checker.pages.serving.listening import LOOPBACK, listen, port_of
from tests.browser.test_pages import CHROMIUM, pytestmark
from tests.cli.running import environment
from tests.clients.language_server import NODE_PATH
from tests.meeting.days import a_meeting, car_text
from tests.pages.weigh_in.devices import WeighIn
from tests.pages.weigh_in.test_every_form import routes

__all__ = ["pytestmark"]

CARS = tuple(str(number) for number in range(7, 13))
HALF = 3


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Any]]:
    """The record after the day, and what the browsers saw."""
    folder = tmp_path_factory.mktemp("weigh-in")
    with a_meeting(folder, {number: car_text(number) for number in CARS}):
        pass
    day = folder / "day.meeting"
    with listen(LOOPBACK, 0) as free:
        port = port_of(free)
    script = str(Path(__file__).with_name("weigh_in.mjs"))
    command = ["node", script, str(CHROMIUM), sys.executable, str(day), str(port), str(folder), *CARS]
    done = subprocess.run(
        command,
        capture_output=True,
        text=True,
        timeout=600,
        env={**environment(), "NODE_PATH": str(NODE_PATH), "PATH": os.environ["PATH"]},
    )
    assert done.returncode == 0, done.stderr
    return day, json.loads(done.stdout)


def test_every_weighing_is_in_the_record_once_and_the_record_verifies(
    played: tuple[Path, dict[str, Any]],
) -> None:
    day, _ = played
    with Meeting.open(day, writing=False) as meeting:
        records = meeting.day.records()
        by_car = Counter(one.content.car for one in records if isinstance(one.content, Weighed))
        found = {one.car: one.status for one in standings(meeting)}
        by = Counter(one.by for one in records if isinstance(one.content, Weighed))
    assert by_car == {**dict.fromkeys(CARS[: HALF + 1], 2), CARS[HALF + 1]: 1, CARS[HALF + 2]: 1}
    assert [found[car] for car in CARS[:HALF]] == [COMPLIES] * HALF
    assert by == {"TB": 2 * HALF + 3, "KV": 1}
    assert verify(str(day)).faults == ()


def test_what_is_typed_outlives_a_killed_server_a_lost_answer_and_a_lost_network(
    played: tuple[Path, dict[str, Any]],
) -> None:
    told = played[1]["told"]
    assert told["kept"] == "155.0"
    assert "WEIGHT OK" in told["afterTheCrash"]
    assert told["answersLost"] == 1
    assert told["putBack"] == "99.5"


def test_the_board_goes_on_by_itself(played: tuple[Path, dict[str, Any]]) -> None:
    assert played[1]["told"]["boardWentOnByItself"] is True


def test_pages_work_without_script(played: tuple[Path, dict[str, Any]]) -> None:
    assert "WEIGHT OK" in played[1]["told"]["withoutScript"]


def test_no_page_is_wider_than_a_phone_or_a_tablet(played: tuple[Path, dict[str, Any]]) -> None:
    assert played[1]["wide"] == []
    answers = played[1]["told"]["answers"]
    assert {path for path, status in answers.items() if status != 200} == {"/none"}, answers


def test_every_page_that_the_site_has_was_looked_at(played: tuple[Path, dict[str, Any]]) -> None:
    weigh_in = WeighIn.of(str(played[0]))
    weigh_in.office.close()
    looked_at = {re.sub("^/slip/.*", "/slip/{code}", path) for path in played[1]["told"]["answers"]}
    kept = {"/record/copy", "/record/export", "/record/bundle", "/record/sheets"}
    asked = {path.partition("?")[0] for path in looked_at}
    assert routes(weigh_in, "GET") - kept - {"/live", "/favicon.ico"} <= asked


def test_the_code_on_a_card_is_the_address_of_its_slip(played: tuple[Path, dict[str, Any]]) -> None:
    pil, zxing = (
        pytest.importorskip(name, reason=f"{name} is not installed") for name in ("PIL.Image", "zxingcpp")
    )
    day, seen = played
    (found,) = zxing.read_barcodes(pil.open(day.with_name("code.png")))
    assert str(found.text) == seen["told"]["card"]


def test_everybody_can_read_the_pages(played: tuple[Path, dict[str, Any]]) -> None:
    assert played[1]["axe"] == []


def test_a_browser_has_nothing_to_say_and_nothing_to_fetch_elsewhere(
    played: tuple[Path, dict[str, Any]],
) -> None:
    assert played[1]["outside"] == []
    assert played[1]["console"] == []


def test_ctrl_c_ends_the_pages_cleanly(played: tuple[Path, dict[str, Any]]) -> None:
    assert played[1]["told"]["endedWith"] == 0
