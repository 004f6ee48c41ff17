"""`checker calendar`, as an entrant uses it before a season."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
import vobject

from checker.cli import exits
from checker.report.one_car.lapses import calendar_text
from checker.report.page import Page
from tests.building import HEAD
from tests.cli.running import Ran, run
from tests.examples import quick_first
from tests.report.documents import valid

Capsys = pytest.CaptureFixture[str]
MEETINGS = ("--meetings", "samples/season/meetings.yaml", "--on", "2026-03-20")


def calendar(capsys: Capsys, *arguments: str) -> Ran:
    return run(capsys, "calendar", *arguments)


@pytest.mark.deep
def test_belts_are_told_with_their_last_day_and_the_meeting_they_fail_at(capsys: Capsys) -> None:
    ran = calendar(capsys, "samples/cars/belts-between-meetings.yaml", *MEETINGS)
    assert ran.code == exits.FAILS
    words = " ".join(ran.out.split())
    assert "belts, clause 9.1 Belts in date last day 2026-05-31 fails at June meeting, 2026-06-07" in words
    assert "2026-05-24 Spring meeting: complies 2026-06-07 June meeting: fails 9.1" in words


@pytest.mark.deep
def test_a_meeting_before_the_evidence_says_what_is_not_counted(capsys: Capsys) -> None:
    ran = calendar(capsys, "samples/cars/built-2025.yaml", *MEETINGS)
    words = " ".join(ran.out.split())
    told = "undecided: 11.1 not declared documents: issued is 2026-07-05, after 2026-06-21, the day judged: it is not"
    assert f"2026-06-21 Midsummer meeting: {told} counted 2026-07-05 July meeting: fails 3.3" in words


@pytest.mark.deep
def test_a_car_that_nothing_lapses_on_is_a_success(capsys: Capsys, tmp_path: Path) -> None:
    ics = tmp_path / "renew.ics"
    ran = calendar(capsys, "samples/cars/legal.yaml", *MEETINGS[:2], "--on", "2026-05-01", "--ics", str(ics))
    assert ran.code == exits.COMPLIES
    assert "Nothing that is met on the first day fails" in ran.out
    assert not ics.exists()
    assert "is not written" in ran.err


@pytest.mark.deep
def test_what_fails_already_is_told_first_of_all_to_do(capsys: Capsys) -> None:
    ran = calendar(capsys, "samples/cars/creeping-inside.yaml", *MEETINGS)
    assert ran.code == exits.FAILS
    assert "FAILS ALREADY" in ran.out


@pytest.mark.deep
def test_the_calendar_file_is_read_by_another_program(capsys: Capsys, tmp_path: Path) -> None:
    ics = tmp_path / "renew.ics"
    calendar(capsys, "samples/cars/built-2025.yaml", *MEETINGS, "--ics", str(ics))
    [event] = vobject.readOne(ics.read_bytes().decode()).vevent_list
    assert event.dtstart.value.isoformat() == "2026-06-30"
    assert "move 2.4 kg from inside to outside" in event.description.value


@pytest.mark.deep
def test_json_is_one_document(capsys: Capsys) -> None:
    ran = calendar(capsys, "samples/cars/price-rise.yaml", *MEETINGS, "--format", "json")
    document = valid(json.loads(ran.out))
    assert (document["document"], document["version"], document["on"]) == ("calendar", 1, "2026-03-20")
    assert [(x["clause"], x["item"], x["last_day"]) for x in document["lapses"]] == [
        ("5.1", "front dampers", "2026-06-21"),
        ("5.1", "rear dampers", "2026-06-21"),
    ]
    # its declaration is issued for the fifth meeting, so before it 11.1 is open
    assert [m["complies"] for m in document["meetings"]] == [None] * 4 + [True] + [False] * 3
    assert document["lapses"][0]["margin"] == {"value": "-8.00", "exact": "-8/1", "unit": "GBP"}


@pytest.mark.deep
def test_every_width_holds_the_report(capsys: Capsys) -> None:
    ran = calendar(capsys, "samples/cars/built-2025.yaml", *MEETINGS, "--format", "json")
    for width in (32, 40, 80):
        page = Page(width)
        calendar_text(json.loads(ran.out), page)
        assert max(map(len, page.text().splitlines())) <= width


def test_mistakes_in_the_meetings_are_told_with_their_places(capsys: Capsys, tmp_path: Path) -> None:
    file = tmp_path / "meetings.yaml"
    file.write_text("- {name: A, date: 2026-02-30}\n- {date: 2026-05-03}\n")
    ran = calendar(capsys, "samples/cars/legal.yaml", "--meetings", str(file))
    assert ran.code == exits.UNREADABLE
    assert f"{file}:1:19: SN203" in ran.err
    assert "SN202" in ran.err


@pytest.mark.parametrize(
    "car", quick_first(["misspelt-alloy", "close-to-the-minimum", "price-rise", "legal"], 2)
)
def test_the_exit_code_is_that_of_the_worst_meeting(capsys: Capsys, car: str) -> None:
    ran = calendar(capsys, f"samples/cars/{car}.yaml", *MEETINGS, "--format", "json")
    document = json.loads(ran.out)
    assert ran.code == exits.worst(exits.result(one["complies"]) for one in document["meetings"])
    page = Page(80)
    calendar_text(document, page)
    for one in document["meetings"]:
        assert one["complies"] is not None or one["not_shown"] or one["too_close"]
    assert "undecided\n" not in page.text()


def test_a_season_that_is_over_judges_nothing(capsys: Capsys) -> None:
    ran = calendar(capsys, "samples/cars/legal.yaml", *MEETINGS[:2], "--on", "2026-12-01")
    assert ran.code == exits.UNSETTLED
    assert "None from that day on." in ran.out


def test_what_fails_already_is_a_failure_though_the_season_is_over(capsys: Capsys) -> None:
    ran = calendar(capsys, "samples/cars/price-rise.yaml", *MEETINGS[:2], "--on", "2026-12-01")
    assert ran.code == exits.FAILS
    assert "FAILS ALREADY" in ran.out


@pytest.mark.parametrize("severity", ["", "severity: advisory, "])
def test_what_is_only_advised_is_no_failure(capsys: Capsys, tmp_path: Path, severity: str) -> None:
    pack, car = tmp_path / "pack.yaml", tmp_path / "car.yaml"
    clause = f'"1": {{title: Front, text: Words, {severity}check: {{limit: body.front, at_most: 100 mm}}}}'
    met = '"2": {title: Front, text: Words, check: {limit: body.front, at_most: 200 mm}}'
    pack.write_text(f"{HEAD}facts: {{body.front: {{unit: mm}}}}\nclauses:\n  {clause}\n  {met}\n")
    car.write_text('formula: test\ncar: {number: "7"}\nbody: {front: 102 mm}\n')
    ran = calendar(capsys, str(car), *MEETINGS, "--pack", str(pack))
    assert "FAILS ALREADY" in ran.out
    assert ran.code == (exits.COMPLIES if severity else exits.FAILS)


def test_the_files_that_are_read_are_not_overwritten(capsys: Capsys) -> None:
    ran = calendar(capsys, "samples/cars/legal.yaml", *MEETINGS, "--ics", "samples/season/meetings.yaml")
    assert ran.code == exits.USAGE


@pytest.mark.deep
def test_reminders_are_told_in_days_or_weeks(capsys: Capsys, tmp_path: Path) -> None:
    ics, meetings = tmp_path / "renew.ics", tmp_path / "two.yaml"
    meetings.write_text("- {name: Midsummer, date: 2026-06-21}\n- {name: July, date: 2026-07-05}\n")
    season = ("--meetings", str(meetings), "--on", "2026-06-15")
    words = ("samples/cars/built-2025.yaml", *season, "--ics", str(ics))
    calendar(capsys, *words, "--remind", "6 weeks", "--remind", "14d")
    assert re.findall("TRIGGER:(.*)", ics.read_text().replace("\r", "")) == ["-P42D", "-P14D"]
    for more, told in ((("--remind", "soon"), "'14 days' or '6 weeks'"), ((), "name that with --ics")):
        ran = calendar(capsys, *(words if more else (*words[:-2], "--remind", "1 day")), *more)
        assert ran.code == 2
        assert told in " ".join(ran.err.split())
