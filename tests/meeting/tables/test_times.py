from __future__ import annotations

import time
from datetime import date, datetime

import pytest

from checker.meeting.tables.times import in_utc, kept
from checker.reading.problems import InputError

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
