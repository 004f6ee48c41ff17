"""Every form that there is, sent without a network: what is typed stays, the page says so, and it is entered once."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from checker.pages.serving.listening import LOOPBACK, listen, port_of
from tests.browser.test_pages import CHROMIUM, pytestmark
from tests.cli.running import environment
from tests.clients.language_server import NODE_PATH
from tests.pages.weigh_in.devices import WeighIn
from tests.pages.weigh_in.filled_in import forms

__all__ = ["pytestmark"]

FIRST, LAST = ("/record/merge",), ("/cars/withdrawal", "/day/close")
ENTERED = {
    "weighed": 4,  # by wheels, otherwise, from the table, from the record that is merged
    "imported": 1,
    "merged": 1,
    "measured": 2,
    "gear_checked": 5,
    "ruled": 1,
    "protested": 1,
    "struck": 1,
    "withdrawn": 1,
    "announced": 1,
    "drawn": 1,
    "signed_on": 1,
    "carried": 1,
    "closed": 1,
}
"""What one of each comes to."""


@pytest.fixture(scope="module")
def sent(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, set[str], dict[str, Any]]:
    """The record, the forms that were sent, and what the browser saw."""
    folder = tmp_path_factory.mktemp("offline")
    weigh_in = WeighIn(folder)
    every = forms(weigh_in, folder)
    weigh_in.office.close()
    middle = [action for action in every if action not in (*FIRST, *LAST)]
    told = []
    for action in (*FIRST, *middle, *LAST):
        files = {}
        for field, name, data in every[action].files:
            (folder / name).write_bytes(data)
            files[field] = str(folder / name)
        told.append((action, every[action].page, every[action].fields, files))
    (folder / "forms.json").write_text(json.dumps(told))
    with listen(LOOPBACK, 0) as free:
        port = port_of(free)
    script = str(Path(__file__).with_name("offline.mjs"))
    done = subprocess.run(
        ["node", script, str(CHROMIUM), sys.executable, weigh_in.day, str(port), str(folder / "forms.json")],
        capture_output=True,
        text=True,
        timeout=900,
        env={**environment(), "NODE_PATH": str(NODE_PATH), "PATH": os.environ["PATH"]},
    )
    assert done.returncode == 0, done.stderr
    return weigh_in.day, set(every), json.loads(done.stdout)


def test_what_is_typed_stays_and_the_page_says_so(sent: tuple[str, set[str], dict[str, Any]]) -> None:
    _, every, seen = sent
    assert set(seen["told"]["said"]) == every
    assert all(seen["told"]["kept"].values()), seen["told"]["kept"]
    assert seen["console"] == []


def test_all_of_it_is_entered_once_when_the_network_is_back(
    sent: tuple[str, set[str], dict[str, Any]],
) -> None:
    day, every, seen = sent
    assert set(seen["told"]["answered"]) == every
    refused = [
        one for one in seen["told"]["answered"].values() if "on disk" not in one and "WEIGHT" not in one
    ]
    assert refused == []
    with Meeting.open(day, writing=False) as meeting:
        found = Counter(one.content.KIND for one in meeting.day.records())
    assert {kind: found[kind] for kind in ENTERED} == ENTERED
    assert verify(day).faults == ()
