from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from checker.cli import exits
from tests.cli.running import run
from tests.studies.change.test_turning_days import CAR, PACK

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]
SHORT = "tests/pack/packs/short"


def test_the_days_are_told_as_text_markdown_and_a_calendar(capsys: Capsys, tmp_path: Path) -> None:
    ics = tmp_path / "days.ics"
    common = ("pack", "calendar", "rulepacks/dunlin", "--from", "2026-06-15", "--until", "2026-12-31")
    ran = run(capsys, *common, "--ics", str(ics))
    assert ran.code == exits.COMPLIES
    assert "2026-07-01  bulletin 2026-B1 (3.3) comes into force" in ran.out
    assert "2026-11-01  clause 3.3: Inside weight: cars from before 2025-01-01 lose" in ran.out
    assert ics.read_text().count("BEGIN:VEVENT") == 3
    assert "| 2026-07-01 |" in run(capsys, *common, "--format", "markdown").out


@pytest.mark.deep
def test_a_calendar_says_up_to_which_day_it_looked_into_formulas(capsys: Capsys, tmp_path: Path) -> None:
    folder = tmp_path / "dated"
    folder.mkdir()
    (folder / "1.yaml").write_text(PACK.replace(", until: 2027-12-31", ""))
    common = ("pack", "calendar", str(folder), "--from", "2026-06-15")
    told = " ".join(run(capsys, *common).out.split())
    said = "Dates in formulas and tables were looked for until 2036-06-21, ten years ahead, and no further."
    assert said in told
    assert said in run(capsys, *common, "--format", "markdown").out
    ics = tmp_path / "days.ics"
    identities = set()
    for first, cut in (("2026-06-15", "2036-06-21"), ("2026-07-15", "2036-07-21")):
        run(capsys, *common[:-1], first, "--ics", str(ics))
        (last,) = (one for one in events(ics) if "no further" in one["summary"])
        assert last["dtstart"].dt.isoformat() == cut
        assert cut in last["summary"]
        identities.add(last["uid"])
    assert len(identities) == 1
    for until in ("2027-01-01", "2036-06-21"):
        assert "no further" not in run(capsys, *common, "--until", until, "--ics", str(ics)).out
        assert not [one for one in events(ics) if "no further" in one["summary"]]


def events(ics: Path) -> list[Any]:
    return list(Calendar.from_ical(ics.read_bytes()).walk("VEVENT"))


def test_days_on_which_nothing_is_decided_are_no_false_all_clear(capsys: Capsys, tmp_path: Path) -> None:
    folder = tmp_path / "dated"
    folder.mkdir()
    (folder / "1.yaml").write_text(PACK)
    car = tmp_path / "car.yaml"
    car.write_text(CAR)
    old, new = f"{folder}@2026-12-31", f"{folder}@2027-01-01"
    ran = run(capsys, "pack", "compare", old, new)
    assert "2027-01-01  clause 1: Weight" in ran.out
    assert "4 by themselves, as the days go by." in ran.out
    told = json.loads(run(capsys, "pack", "affected", old, new, str(car), "--format", "json").out)
    assert (told["on_before"], told["on"], told["newly_failing"]) == ("2026-12-31", "2027-01-01", 1)
    assert "2026-12-31 by the rules before and for 2027-01-01" in " ".join(
        run(capsys, "pack", "affected", old, new, str(car)).out.split()
    )


def test_a_clause_s_history_is_printed(capsys: Capsys) -> None:
    ran = run(capsys, "pack", "history", SHORT, "1")
    assert ran.out.splitlines()[0] == "Clause 1 Width"
    markdown = run(capsys, "pack", "history", SHORT, "1", "--format", "markdown").out
    assert markdown.startswith("# Clause 1 Width")
    assert run(capsys, "pack", "history", SHORT, "99").code == exits.USAGE


def test_days_that_are_none_or_in_the_wrong_order_are_a_wrong_command_line(capsys: Capsys) -> None:
    for days in (
        ("--from", "x"),
        ("--until", "2026-02-30"),
        ("--from", "2026-07-01", "--until", "2026-06-30"),
    ):
        ran = run(capsys, "pack", "calendar", SHORT, *days)
        assert ran.code == exits.USAGE
        assert "mistake of its own" not in ran.err
