"""A season's meetings in a file."""

from __future__ import annotations

from datetime import date

import pytest

from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document, read_document
from checker.studies.one_car.season import CODES, SeasonMeeting, read_meetings
from tests.examples import each_row


def meetings(text: str) -> tuple[SeasonMeeting, ...]:
    return read_meetings(parse_document(text.encode(), "meetings.yaml", "SN"))


def test_meetings_are_put_in_the_order_of_their_days() -> None:
    found = meetings("- {name: Second, date: 2026-05-03}\n- {name: ' First ', date: 2026-04-12}\n")
    assert found == (SeasonMeeting("First", date(2026, 4, 12)), SeasonMeeting("Second", date(2026, 5, 3)))


def test_the_sample_season_has_eight_meetings_from_april_to_september() -> None:
    found = read_meetings(read_document("samples/season/meetings.yaml", "SN"))
    assert [m.day.isoformat() for m in found] == [
        *(
            "2026-04-12",
            "2026-05-03",
            "2026-05-24",
            "2026-06-07",
            "2026-06-21",
            "2026-07-05",
            "2026-08-02",
            "2026-09-06",
        )
    ]


@each_row(
    ("text", "code", "told"),
    [
        ("{name: A, date: 2026-05-03}", "SN201", "not a list"),
        ("[]", "SN201", "not a list"),
        ("- 2026-05-03", "SN202", "a name and a day"),
        ("- {date: 2026-05-03}", "SN202", "no name"),
        ("- {name: 7, date: 2026-05-03}", "SN202", "text was wanted"),
        ("- {name: A}", "SN202", "no date"),
        ("- {name: A, date: 2026-05-03, dat: 1}", "SN202", "'dat' is not a key"),
        ("- {name: A, date: 2026-02-30}", "SN203", "2026-02-30"),
        ("- {name: A, date: 20260503}", "SN203", "a day was wanted"),
        ("- {name: A, date: 2026-05-03}\n- {name: B, date: 2026-05-03}", "SN204", "two meetings"),
    ],
)
def test_each_mistake_is_told_with_its_place(text: str, code: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        meetings(text)
    [problem] = caught.value.problems
    assert (problem.code, told in problem.message) == (code, True)
    assert problem.span is not None
    assert int(code[2:]) in CODES
