"""The calendar file, read back by another program's parser (vobject, test-only; its own implementation of RFC 5545)."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import vobject

from checker.report.one_car.ics import calendar_ics

DOCUMENT: dict[str, Any] = {
    "pack": "dunlin",
    "car": {"number": "9", "name": "Lapwing; the, second"},
    "on": "2026-03-20",
    "lapses": [
        {
            "clause": "9.1",
            "title": "Belts in date",
            "severity": "mandatory",
            "item": "belts",
            "last_day": "2026-05-31",
            "meeting": {"name": "June meeting", "date": "2026-06-07"},
            "margin": None,
            "text": "valid until 2026-05-31, 7 days before 2026-06-07",
            "act": "belts: renew before 2026-06-07",
            "because": None,
        },
        {
            "clause": "3.3",
            "title": "Inside weight, écart ü",
            "severity": "mandatory",
            "item": None,
            "last_day": "2026-06-30",
            "meeting": {"name": "July meeting\x1b[2J\r\nATTACH:x", "date": "2026-07-05"},
            "margin": None,
            "text": "inside 52.7 % is 0.3 % above the maximum of 52.4 %",
            "act": "move 1.8 kg from inside to outside" * 6,
            "because": "bulletin 2026-B1 is in force from 2026-07-01",
        },
    ],
}


def events(document: dict[str, Any] | None = None) -> list[Any]:
    read = vobject.readOne(calendar_ics(document or DOCUMENT).decode())
    assert read.prodid.value.startswith("-//scrutineering-checker//")
    assert read.version.value == "2.0"
    return list(read.vevent_list)


def test_each_thing_lasts_from_its_last_good_day_to_the_meeting_that_it_would_spoil() -> None:
    """The end of whole days is the day after (RFC 5545, 3.6.1)."""
    belts, inside = events()
    assert (belts.dtstart.value, belts.dtend.value) == (date(2026, 5, 31), date(2026, 6, 8))
    assert inside.dtstart.value == date(2026, 6, 30)
    assert belts.summary.value == "Last day: belts (car 9 Lapwing; the, second, clause 9.1)"
    assert inside.summary.value.startswith("Last day: Inside weight, écart ü")


def test_an_event_says_what_to_do_and_why() -> None:
    belts, inside = events()
    assert "To do: belts: renew before 2026-06-07." in belts.description.value.splitlines()
    assert "Why: bulletin 2026-B1 is in force from 2026-07-01." in inside.description.value.splitlines()
    assert "At June meeting on 2026-06-07 it fails." in belts.description.value.splitlines()


def test_what_a_file_says_adds_no_lines_of_its_own() -> None:
    _, inside = events()
    assert not hasattr(inside, "attach")
    assert "\x1b" not in calendar_ics(DOCUMENT).decode()


def test_no_clock_is_in_it() -> None:
    assert calendar_ics(DOCUMENT) == calendar_ics(DOCUMENT)
    assert {e.dtstamp.value for e in events()} == {datetime(2026, 3, 20, tzinfo=UTC)}


def test_an_event_keeps_its_identity_whenever_it_is_asked_for() -> None:
    later = [e.uid.value for e in events(DOCUMENT | {"on": "2026-04-01"})]
    assert later == [e.uid.value for e in events()]
    assert len(set(later)) == 2
    other = events(DOCUMENT | {"car": {"number": "10", "name": None}})
    assert other[0].uid.value not in later


def test_lines_are_folded_and_ended_as_the_standard_says() -> None:
    """RFC 5545, 3.1: lines end in CRLF and are no longer than 75 octets."""
    made = calendar_ics(DOCUMENT)
    assert made.endswith(b"END:VCALENDAR\r\n")
    assert all(len(line) <= 75 for line in made.split(b"\r\n"))
    assert b"\n" not in made.replace(b"\r\n", b"")


def test_an_alarm_goes_off_as_long_before_the_last_good_day_as_is_asked_for() -> None:
    read = vobject.readOne(calendar_ics(DOCUMENT, (42, 14)).decode())
    for event in read.vevent_list:
        assert [alarm.trigger.value for alarm in event.valarm_list] == [
            timedelta(days=-42),
            timedelta(days=-14),
        ]
        assert {alarm.action.value for alarm in event.valarm_list} == {"DISPLAY"}
        assert {alarm.description.value for alarm in event.valarm_list} == {event.summary.value}
    assert b"VALARM" not in calendar_ics(DOCUMENT)
