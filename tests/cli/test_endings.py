"""A file's ending says what is in it: nothing else is written there."""

from __future__ import annotations

import json
from importlib import import_module
from pathlib import Path

import pytest

from checker.cli.program import COMMANDS
from tests.cli.running import run
from tests.cli.test_documents import weighed

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]
SHORT = "tests/pack/packs/short"

LEGAL, DUNLIN = "samples/cars/legal.yaml", "rulepacks/dunlin"
CALENDAR = ("calendar", LEGAL, "--meetings", "samples/season/meetings.yaml", "--on", "2026-03-20")


@pytest.mark.parametrize(
    ("words", "file", "cure"),
    [
        (("inspect", LEGAL), "cars.xlsx", "add --xlsx, or name it cars.txt"),
        (("inspect", LEGAL), "cars.csv", "add --csv cars or clauses, or name it cars.txt"),
        (("inspect", LEGAL), "cars.json", "add --format json, or name it cars.txt"),
        (("inspect", LEGAL), "cars.md", "name it cars.txt"),
        (("inspect", LEGAL), "car.yaml", "name it car.txt"),
        (("inspect", LEGAL), "cars.PDF", "name it cars.txt"),
        (("inspect", LEGAL, "--csv", "cars"), "cars.xlsx", "add --xlsx, or name it cars.csv"),
        (("inspect", LEGAL, "--csv", "cars"), "cars.ods", "name it cars.csv"),
        (("inspect", LEGAL, "--xlsx"), "cars.csv", "add --csv cars or clauses, or name it cars.xlsx"),
        (("inspect", LEGAL, "--xlsx"), "cars.txt", "name it cars.xlsx"),
        (("inspect", LEGAL, "--format", "json"), "x.csv", "add --csv cars or clauses, or name it x.json"),
        (("inspect", LEGAL, "--format", "json"), "x.ics", "name it x.json"),
        (CALENDAR, "x.ics", "add --ics, or name it x.txt"),
        (("declare", "--formula", "dunlin", "--on", "2026-05-03"), "blank.json", "name it blank.yaml"),
        (("pack", "schema", DUNLIN, "--on", "2026-05-03"), "s.yaml", "name it s.json"),
        (("pack", "book", DUNLIN, "--on", "2026-05-03"), "book.html", "name it book.md"),
        (("pack", "history", DUNLIN, "3.1"), "h.md", "add --format markdown, or name it h.txt"),
        (("pack", "consolidate", DUNLIN, "--on", "2026-05-03"), "rules.md", "name it rules.yaml"),
        (("pack", "lint", DUNLIN, "--format", "gnu"), "lint.json", "add --format json, or name it lint.txt"),
    ],
)  # fmt: skip
def test_another_form_than_the_ending_says_is_refused(
    capsys: Capsys, tmp_path: Path, words: tuple[str, ...], file: str, cure: str
) -> None:
    ran = run(capsys, *words, "--output", str(tmp_path / file))
    assert (ran.code, ran.out, list(tmp_path.iterdir())) == (2, "", [])
    assert cure in " ".join(ran.err.split())


@pytest.mark.parametrize(
    ("option", "file"), [("--ics", "renew.csv"), ("--ics", "renew.yaml"), ("--output", "report.xlsx")]
)
def test_the_other_files_that_are_written_too(capsys: Capsys, tmp_path: Path, option: str, file: str) -> None:
    ran = run(capsys, *CALENDAR, option, str(tmp_path / file))
    assert (ran.code, list(tmp_path.iterdir())) == (2, [])


@pytest.mark.parametrize(
    ("words", "file"), [("export", "day.md"), ("export", "day.xlsx"), ("bundle", "b.json")]
)
def test_those_of_a_meeting(capsys: Capsys, tmp_path: Path, words: str, file: str) -> None:
    day = weighed(capsys, tmp_path)
    more = ("7",) if words == "bundle" else ()
    assert run(capsys, "meeting", words, day, *more, "--output", str(tmp_path / file)).code == 2
    assert not (tmp_path / file).exists()


@pytest.mark.deep
@pytest.mark.parametrize(
    ("more", "file", "begins"),
    [
        ((), "report", "CAR 27"),
        ((), "report.txt", "CAR 27"),
        ((), "car 27.v2", "CAR 27"),
        (("--format", "json"), "report.jsonl", '{"document":'),
        (("--format", "json"), "report.txt", '{"document":'),
        (("--csv", "cars"), "cars.CSV", "car,name,"),
        (("--csv", "cars"), "cars.txt", "car,name,"),
        (("--format", "html"), "car.html", "<!"),
    ],
)
def test_what_the_ending_says_or_leaves_open_is_written(
    capsys: Capsys, tmp_path: Path, more: tuple[str, ...], file: str, begins: str
) -> None:
    assert run(capsys, "inspect", LEGAL, *more, "--output", str(tmp_path / file)).code == 0
    assert (tmp_path / file).read_text("utf-8").startswith(begins)


def test_cases_that_are_suggested_are_yaml(capsys: Capsys, tmp_path: Path) -> None:
    words = ("pack", "cases", SHORT, "--suggest", f"{SHORT}/car.yaml")
    assert "would hold" not in run(capsys, *words, "--output", str(tmp_path / "cases.yaml")).err
    ran = run(capsys, *words, "--output", str(tmp_path / "cases.json"))
    assert ran.code == 2
    assert json.dumps("cases.yaml")[1:-1] in ran.err


def test_every_option_that_names_a_file_to_write_looks_at_its_ending() -> None:
    """--output by how a command is told to print, others by their callback."""
    for name, module in COMMANDS.items():
        for param in import_module(f"checker.cli.{module}").command.params:
            if param.name in ("ics", "lines_file", "target"):
                assert param.callback is not None, f"{name} {param.opts}"
            assert "--output" not in param.opts or param.name in ("file", "target", "folder"), name
