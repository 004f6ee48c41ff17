"""Every command that prints JSON prints documents of one kind of heading, each to its published schema."""

from __future__ import annotations

import json
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from typing import Any

import click
import pytest

from checker import __version__
from checker.cli.program import COMMANDS
from tests.cli.running import run
from tests.meeting.days import DAY, car_text, pack_folder
from tests.report.documents import NAMES, valid

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

DUNLIN, LEGAL = "rulepacks/dunlin", "samples/cars/legal.yaml"
BOTH = ("rulepacks/dunlin/2025.1.yaml", "rulepacks/dunlin/2026.1.yaml")

PRINTED: dict[str, Sequence[str]] = {
    "inspect": (LEGAL,),
    "explain": (LEGAL, "3.1"),
    "conditions": (LEGAL,),
    "plan": ("samples/cars/creeping-inside.yaml",),
    "reach": ("samples/cars/creeping-inside.yaml",),
    "compare-weighings": ("samples/weighings/home.yaml", "samples/weighings/weigh-in.yaml"),
    "calendar": (LEGAL, "--meetings", "samples/season/meetings.yaml", "--on", "2026-08-20"),
    "pack lint": ("tests/pack/packs/short",),
    "pack cases": ("tests/pack/packs/short",),
    "pack compare": BOTH,
    "pack affected": (*BOTH, LEGAL, "--on", "2026-05-03"),
    "pack sweep": (BOTH[1], "1.1", "--from", "2023-01-01", "--to", "2025-12-31", LEGAL),
    "meeting board": (),
    "meeting slip": ("7",),
    "meeting results": (),
    "meeting verify": (),
    "meeting export": (),
}
"""By command: what it is given here; a meeting's file stands before it."""


def prints_json(command: click.Command) -> bool:
    """It has --format json, or writes JSON of itself."""
    choices = [
        p.type.choices for p in command.params if p.name == "form" and isinstance(p.type, click.Choice)
    ]
    return any("json" in one for one in choices)


def test_every_command_that_prints_json_is_tried_here() -> None:
    commands = {name: import_module(f"checker.cli.{module}").command for name, module in COMMANDS.items()}
    assert {name for name, one in commands.items() if prints_json(one)} | {"meeting export"} == set(PRINTED)


@pytest.mark.parametrize("name", PRINTED)
def test_what_it_prints_is_as_its_schema_says(capsys: Capsys, tmp_path: Path, name: str) -> None:
    arguments = [*name.split(), *PRINTED[name]]
    if name.startswith("meeting"):
        arguments.insert(2, weighed(capsys, tmp_path))
    ran = run(capsys, *arguments, *(() if name == "meeting export" else ("--format", "json")))
    assert ran.err == ""
    heading(ran.out)


def test_the_documents_that_an_option_adds(capsys: Capsys, tmp_path: Path) -> None:
    lines, kept = tmp_path / "lines.jsonl", tmp_path / "kept.json"
    run(capsys, "pack", "affected", *BOTH, LEGAL, "--lines", str(lines), "--on", "2026-05-03")
    assert heading(lines.read_text())["document"] == "affected_car"
    run(capsys, "inspect", LEGAL, "--format", "json", "--output", str(kept))
    ran = run(capsys, "inspect", LEGAL, "--since", str(kept), "--format", "json")
    assert heading(ran.out)["document"] == "since"


def heading(printed: str) -> dict[str, Any]:
    """The document printed, to its schema, which names what every document begins with."""
    document: dict[str, Any] = valid(json.loads(printed))
    assert list(document)[:3] == ["document", "version", "checker"]
    assert document["document"] in NAMES
    assert document["checker"] == __version__
    return document


def weighed(capsys: Capsys, folder: Path) -> str:
    """A meeting with a car that was weighed, a gear check and a ruling."""
    file = str(folder / "day.meeting")
    (folder / "7.yaml").write_text(car_text())
    for words in (
        ("open", "--pack", str(pack_folder(folder)), "--on", DAY, "--official", "KV", "--official", "TB"),
        ("enter", str(folder / "7.yaml"), "--by", "KV"),
        ("gear", "pads", "--pad", "rear_left", "--weight", "20", "--shows", "20.0", "--by", "TB"),
        ("weigh", "7", "155.0", "141.0", "153.0", "141.0", "--fuel", "6 L", "--by", "TB"),
    ):
        ran = run(capsys, "meeting", words[0], file, *words[1:])
        assert ran.code in (0, 4), ran.err
    return file
