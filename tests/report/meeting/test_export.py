from __future__ import annotations

import csv
import io
import json
from fractions import Fraction
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Noted,
)
from checker.meeting.session.session import Meeting
from checker.meeting.taking.measuring import Finding, measure, note
from checker.meeting.taking.ruling import Ruling, rule
from checker.report.meeting.export import TABLES, as_json, meeting_tables
from checker.report.tables.text import as_csv
from checker.report.words.findings import found_words
from tests.meeting.days import LOADS, a_meeting, car_text, weighed

EVIL = "=cmd|' /C calc'!A0"


def table(meeting: Meeting, name: str) -> str:
    return as_csv(meeting_tables(meeting)[name])


def a_day(tmp_path: Path) -> Meeting:
    meeting = a_meeting(tmp_path, {"7": car_text(name='"=Ruff"', dimensions="{ride_height: 80 mm}")})
    first = weighed(meeting)
    weighed(meeting, corrects=first.number, reason="-typed wrongly", gear="bridge")  # type: ignore[arg-type]
    measure(meeting, [Finding("7", "seals.sump", "=SO 7")], "KV")
    note(meeting, [Noted("7", SCRUTINEERING, "remark", EVIL)], "KV")
    meeting.judge_and_record(meeting.car("7"), "KV")
    rule(meeting, Ruling("7", "3", "allow", EVIL), "KV", found_words)
    return meeting


@pytest.mark.parametrize("name", TABLES)
def test_no_table_of_a_day_has_a_cell_that_runs(tmp_path: Path, name: str) -> None:
    with a_day(tmp_path) as meeting:
        rows = list(csv.reader(io.StringIO(table(meeting, name), newline="")))
        assert len(rows) > 1
        assert {len(row) for row in rows} == {len(rows[0])}
        runs = [text for row in rows for text in row if text.startswith(("=", "@"))]
        assert runs == []


def test_the_tables_say_what_the_record_says(tmp_path: Path) -> None:
    with a_day(tmp_path) as meeting:
        read = {name: list(csv.DictReader(io.StringIO(table(meeting, name)))) for name in TABLES}
    assert [row["counts"] for row in read["weighings"]] == ["no", "yes"]
    assert read["weighings"][1]["reason"] == "'-typed wrongly"
    loads = {wheel: row[f"{wheel}_kg"] for row in read["weighings"] for wheel in LOADS}
    assert loads == {wheel: str(Fraction(load)) for wheel, load in LOADS.items()}
    told = [(row["gear"], row["pads"], row["fuel_l"]) for row in read["weighings"]]
    assert told == [("pads", "as marked", "6"), ("bridge", "as marked", "6")]
    assert read["measurements"][0]["value"] == "'=SO 7"
    third = next(row for row in read["outcomes"] if row["clause"] == "clause 3")
    assert (third["computed"], third["exact margin"], third["ruling"]) == ("fail", "'-5 mm", "allow")
    assert (third["margin"], third["unit"]) == ("-5", "mm")
    assert read["standings"][0]["name"] == "'=Ruff"
    assert len(read["entries"]) == 8


def test_a_column_is_one_line_of_its_table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    columns, rows = TABLES["standings"]
    added = {**columns, "length of the name": lambda one: len(one.name)}
    monkeypatch.setitem(TABLES, "standings", (added, rows))
    with a_day(tmp_path) as meeting:
        (read, *_) = csv.DictReader(io.StringIO(table(meeting, "standings")))
        assert read["length of the name"] == "5"
        assert meeting_tables(meeting)["standings"].heading[-1] == "length of the name"


def test_json_holds_the_whole_record_and_where_each_car_stands(tmp_path: Path) -> None:
    with a_day(tmp_path) as meeting:
        data = json.loads(as_json(meeting))
        entries = meeting.store.entries()
    assert [entry["hash"] for entry in data["entries"]] == [entry.hash for entry in entries]
    assert data["last_hash"] == entries[-1].hash
    assert data["standings"][0]["rulings"] == {"3": "allow"}
    assert (data["format"], data["version"]) == ("checker meeting record", 1)
