"""What somebody may have filled in is never written over; a report is, for it can be made again."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.running import ROOT, run

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]
CAR, PACK = "samples/cars/legal.yaml", "rulepacks/dunlin"
COMMANDS = json.loads((ROOT / "checker/cli/completion.json").read_text())
WRITES = ("Write", "Also write", "Draw", "A new folder", "The folder to write")
"""How the help of an option begins that names a file to write."""
GIVEN = {"clause": "1.1", "number": "7", "old": PACK, "new": PACK, "path": PACK, "paths": PACK, "name": "cup"}
"""What an argument is given where it is not a car's file."""
NEEDS = {
    "calendar": ("--meetings", "samples/season/meetings.yaml"),
    "declare": ("--formula", "dunlin"),
    "pack consolidate": ("--on", "2026-07-05"),
    "pack sweep": ("--from", "50 %", "--to", "53 %"),
}
THERE, OF_ANOTHER_KIND = "is there already; give another name, or take that file away", "would hold"
YAML = {("declare", "--output"), ("plan", "--write"), ("pack consolidate", "--output")}
"""What writes YAML, and nothing else does; `pack cases --suggest` adds to what is there."""


def _writers() -> list[tuple[str, str]]:
    return [
        (command, one["option"][0])
        for command, about in COMMANDS.items()
        for one in about["params"]
        if one.get("takes") == "file" and "option" in one and one["help"].startswith(WRITES)
        if (command, one["option"][0]) != ("pack cases", "--suggest")
    ]


@pytest.mark.parametrize(("command", "option"), _writers())
def test_no_command_writes_over_a_file_that_may_be_filled_in(
    command: str, option: str, capsys: Capsys, tmp_path: Path
) -> None:
    own = tmp_path / "own.yaml"
    own.write_text("formula: dunlin\n")
    taken = [GIVEN.get(one["argument"], CAR) for one in COMMANDS[command]["params"] if "argument" in one]
    ran = run(capsys, *command.split(), *taken, *NEEDS.get(command, ()), option, str(own))
    assert own.read_text() == "formula: dunlin\n"
    assert [path.name for path in tmp_path.iterdir()] == ["own.yaml"]
    assert (ran.code, ran.out) == (2, "")
    assert f"{own}" in ran.err
    assert (THERE in ran.err) == ((command, option) in YAML), ran.err
    assert "already" in ran.err or OF_ANOTHER_KIND in ran.err


def test_a_report_is_written_over(capsys: Capsys, tmp_path: Path) -> None:
    report = tmp_path / "report.txt"
    report.write_text("of yesterday")
    assert run(capsys, "pack", "show", PACK, "--output", str(report)).code == 0
    assert "of yesterday" not in report.read_text()
