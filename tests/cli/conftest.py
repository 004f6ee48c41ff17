"""What the tests of the command line share."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.meetings import Day
from tests.meeting.days import DAY, car_text, pack_folder


@pytest.fixture
def day(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Day:
    """Opened, with cars 7 and 8 entered; officials KV and TB."""
    monkeypatch.setenv("CHECKER_BY", "TB")
    found = Day(tmp_path, capsys)
    officials = ("--official", "KV", "--official", "TB")
    opened = found("open", "--pack", str(pack_folder(tmp_path)), "--on", DAY, *officials)
    assert opened.code == 0, opened.err
    home = tmp_path / "cars"
    home.mkdir()
    (home / "7.yaml").write_text(car_text())
    (home / "8.yaml").write_text(car_text("8", "Knot", dimensions="{ride_height: 80 mm}"))
    assert found("enter", str(home)).code == 0
    return found
