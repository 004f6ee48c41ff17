"""`checker open` in a real Chromium: a new car from nothing to a verdict, with script and without, for everybody."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from checker.reading.strict_yaml import read_document
from tests.browser.test_pages import CHROMIUM
from tests.clients.language_server import NODE_PATH, node_package
from tests.conftest import ROOT

_LACKING = [
    what
    for what, there in (
        ("Chromium", CHROMIUM),
        ("node", shutil.which("node")),
        *((name, node_package(name)) for name in ("playwright-core", "axe-core")),
    )
    if not there
]
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(
        bool(_LACKING), reason=f"not found (packages of node on NODE_PATH): {', '.join(_LACKING)}"
    ),
]


@contextmanager
def served(*arguments: str) -> Iterator[str]:
    """The address of a car's page, served by the command itself."""
    command = [sys.executable, "-m", "checker", "open", *arguments, "--no-browser"]
    server = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True)
    try:
        assert server.stdout is not None
        found = re.search(r"http://\S+", server.stdout.readline())
        assert found is not None
        yield found[0]
    finally:
        server.send_signal(signal.SIGINT)
        assert server.wait(timeout=30) == 0


def browsed(script: str, folder: Path, *addresses: str) -> dict[str, Any]:
    """What a script saw in a browser at these addresses; its screenshots are in the folder."""
    done = subprocess.run(
        ["node", str(Path(__file__).with_name(script)), str(CHROMIUM), str(folder), *addresses],
        capture_output=True,
        text=True,
        timeout=600,
        env={**os.environ, "NODE_PATH": str(NODE_PATH)},
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What a browser saw."""
    folder = tmp_path_factory.mktemp("form")
    sample = shutil.copy(ROOT / "samples" / "cars" / "light-at-the-flag.yaml", folder / "car.yaml")
    fresh = folder / "new.yaml"
    with served(str(fresh), "--formula", "dunlin") as new, served(str(sample)) as other:
        found = browsed("browse.mjs", folder, new, other)
    return {**found, "fresh": fresh, "sample": sample}


def test_a_new_car_from_nothing_to_a_verdict(seen: dict[str, Any]) -> None:
    assert "6 hp is a power; a volume was wanted" in seen["wrong"]
    assert (seen["invalid"], seen["cured"]) == ("true", 0)
    assert (seen["focused"], seen["added"]) == ("fuel.density", "ballast[0].label")
    assert seen["state"] == "Not saved"
    assert seen["saved"].startswith("Saved in ")
    data = read_document(seen["fresh"], "CD").data
    assert isinstance(data, dict)
    assert data["car"] == {"number": "7"}
    assert data["ballast"] == [{"label": "B1"}]
    assert data["components"] == [{"name": "seat", "made": "2025-03"}]


def test_a_change_turns_the_verdict_with_script_and_without(seen: dict[str, Any]) -> None:
    assert seen["verdicts"] == ["UNDECIDED", "FAILS", "COMPLIES", "FAILS"]
    assert (seen["kept"], seen["without"]) == ("Without script", 1)
    assert "Turnstone" in Path(seen["sample"]).read_text("utf-8"), "judging saves nothing"


def test_a_browser_has_nothing_to_say(seen: dict[str, Any]) -> None:
    assert seen["console"] == []


def test_no_page_is_wider_than_a_phone(seen: dict[str, Any]) -> None:
    assert seen["wide"] == []


def test_everybody_can_read_it_in_both_schemes(seen: dict[str, Any]) -> None:
    assert seen["axe"] == []
    assert seen["contrasts"] == 2
