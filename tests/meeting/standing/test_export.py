from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.meeting.record.contents import SCRUTINEERING, Noted
from checker.meeting.session.session import Meeting
from checker.meeting.standing.export import TABLES, as_csv, as_json, cell, table
from checker.meeting.taking.measuring import Finding, measure, note
from checker.meeting.taking.ruling import Ruling, rule
from checker.report.words.findings import found_words
from tests.meeting.days import LOADS, a_meeting, car_text, weighed

EVIL = "=cmd|' /C calc'!A0"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (EVIL, f"'{EVIL}"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("+1+cmd", "'+1+cmd"),
        ("-2+3", "'-2+3"),
        (" =1", "' =1"),
        ("\t=1", "'\t=1"),
        ("\uff1d1+1", "'\uff1d1+1"),
        ("-93/20 kg", "-93/20 kg"),
        ("-0.5", "-0.5"),
        ("+4", "+4"),
        ("3.1", "3.1"),
        ("a=b", "a=b"),
        (True, "yes"),
        (False, "no"),
        (17, "17"),
    ],
)
def test_a_cell_that_a_spreadsheet_would_run_becomes_text(value: object, text: str) -> None:
    assert cell(value) == text


@given(st.text(max_size=20))
def test_no_text_begins_a_cell_with_a_sign_that_runs_unless_it_is_a_number(text: str) -> None:
    shown = cell(text)
    if shown.lstrip(" \u00a0")[:1] in ("=", "@", "\t", "\r", "\n"):
        raise AssertionError(shown)
    assert shown in (text, f"'{text}")


def test_csv_reads_back_as_it_was_but_for_the_apostrophes() -> None:
    written = as_csv(["a", "b"], [['quote " and ; and , and\nline', EVIL], [1, ""]])
    assert written.endswith("\r\n")
    assert list(csv.reader(io.StringIO(written, newline=""))) == [
        ["a", "b"],
        ['quote " and ; and , and\nline', f"'{EVIL}"],
        ["1", ""],
    ]


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
    loads = {wheel: row[wheel] for row in read["weighings"] for wheel in LOADS}
    assert loads == {wheel: f"{load} kg" for wheel, load in LOADS.items()}
    told = [(row["gear"], row["pads"], row["fuel"]) for row in read["weighings"]]
    assert told == [("pads", "as marked", "6 L"), ("bridge", "as marked", "6 L")]
    assert read["measurements"][0]["value"] == "'=SO 7"
    third = next(row for row in read["outcomes"] if row["clause"] == "3")
    assert (third["computed"], third["exact margin"], third["ruling"]) == ("fail", "-5 mm", "allow")
    assert read["standings"][0]["name"] == "'=Ruff"
    assert len(read["entries"]) == 8


def test_json_holds_the_whole_record_and_where_each_car_stands(tmp_path: Path) -> None:
    with a_day(tmp_path) as meeting:
        data = json.loads(as_json(meeting))
        entries = meeting.store.entries()
    assert [entry["hash"] for entry in data["entries"]] == [entry.hash for entry in entries]
    assert data["last_hash"] == entries[-1].hash
    assert data["standings"][0]["rulings"] == {"3": "allow"}
    assert (data["format"], data["version"]) == ("checker meeting record", 1)
