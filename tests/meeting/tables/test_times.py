from __future__ import annotations

import time
from contextlib import suppress
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.meeting.tables.table import read_moment
from checker.meeting.tables.times import in_utc, kept, known_pattern
from checker.reading.problems import InputError, Span
from tests.examples import each_row

ON = date(2026, 5, 24)


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="needs to set the computer's zone")
def test_a_time_without_its_zone_is_the_computer_s(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TZ", "XST-2")  # two hours ahead of UTC
    time.tzset()
    try:
        assert in_utc("12:40", ON) == "2026-05-24T10:40:00Z"
        assert kept(datetime(2026, 5, 24, 1, 0), "") == "2026-05-23T23:00:00Z"
    finally:
        monkeypatch.delenv("TZ")
        time.tzset()


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("12:40+01:00", "2026-05-24T11:40:00Z"),
        ("2026-05-23 23:30-02:00", "2026-05-24T01:30:00Z"),
        ("2026-05-24T12:40:00Z", "2026-05-24T12:40:00Z"),
    ],
)
def test_a_time_with_its_zone_is_kept_in_utc(text: str, found: str) -> None:
    assert in_utc(text, ON) == found


@pytest.mark.parametrize("text", ["noon", "25:00", "2026-13-01", ""])
def test_what_is_no_time_is_refused(text: str) -> None:
    with pytest.raises(InputError) as error:
        in_utc(text, ON)
    assert error.value.problems[0].code == "MT307"


@pytest.mark.parametrize(("zone", "found"), [("UTC", "12:00"), ("+02:00", "10:00"), ("-09:30", "21:30")])
def test_a_zone_that_is_stated_counts_where_the_time_has_none(zone: str, found: str) -> None:
    assert kept(datetime(2026, 5, 24, 12, 0), zone) == f"2026-05-24T{found}:00Z"


@pytest.mark.parametrize(
    "pattern", ["%d.%m.%Y %H:%M", "%Y-%m-%dT%H:%M:%S%z", "%d %b %y", "serial 1900", "serial 1904"]
)
def test_a_pattern_that_reads_what_it_writes_is_one(pattern: str) -> None:
    assert known_pattern(pattern) == pattern


@each_row("pattern", ["%d %d", "%", "%Q", "a\0b", "%H %I %H", "%d" * 2000])
def test_a_pattern_that_reads_nothing_is_refused_in_a_line(pattern: str) -> None:
    with pytest.raises(ValueError, match="is no pattern of days and times") as error:
        known_pattern(pattern)
    assert len(str(error.value)) < 120


@given(
    st.text(st.sampled_from("%dmYHMSyjbBAaIpUwzZcxX .:-T\0\n{}()[]\\*+?^$"), max_size=12),
    st.text(max_size=12),
)
def test_whatever_a_mapping_says_of_times_no_cell_makes_a_mistake_of_ours(pattern: str, cell: str) -> None:
    try:
        form = known_pattern(pattern)
    except ValueError:
        return
    with suppress(InputError):
        read_moment(cell, Span("t.csv", 1, 1, 1, 1), form)
