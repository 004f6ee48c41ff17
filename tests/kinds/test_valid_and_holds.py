"""Kinds `valid` and `holds`: last days, and what is true or false."""

from __future__ import annotations

from typing import Any

from checker.report.words.acts import act_words
from checker.report.words.findings import found_words
from tests.examples import each_row
from tests.kinds.workbench import judge, problems, shown

FACTS = """{
  seat.made: {type: date, to: [day, month, year]}, seat.checked: {type: date, optional: true}, bottle.filled: {type: date},
  bottle.tested: {type: date}, bottle.expires: {type: date}, a.sound: {type: truth}, a.doors: {type: count},
  a.name: {type: text}, race.last: {type: date}, a.sort: {one_of: [steam, petrol]}
}"""
MORE = """{
  lists: {components: {fields: {label: {type: date, to: month}}}}, categories: [safety/belts],
  tables: {until_day: {by: sort, rows: [{sort: steam, value: no limit}, {sort: petrol, value: 2026-05-02}]}}
}"""


def told(check: str, **car: Any) -> tuple[str, str | None]:
    return shown(judge(check, car, FACTS, MORE))


@each_row(
    ("check", "car", "expected"),
    [
        ("{valid: seat.made + 5 years}", {"seat": {"made": "2021-05-03"}}, ("pass", "0 days")),
        ("{valid: seat.made + 5 years}", {"seat": {"made": "2021-05-02"}}, ("fail", "-1 day")),
        ("{valid: seat.made + 60 months}", {"seat": {"made": "2021-05"}}, ("pass", "+28 days")),
        ("{valid: end_of_year(seat.made) + 5 years}", {"seat": {"made": "2021"}}, ("pass", "+242 days")),
        (
            "{valid: seat.made + 10 days, on: race.last}",
            {"seat": {"made": "2026-01-01"}, "race": {"last": "2026-01-11"}},
            ("pass", "0 days"),
        ),
        (
            "{valid: seat.made + 10 days, on: race.last}",
            {"seat": {"made": "2026-01-01"}},
            ("not_shown", None),
        ),
        (
            '{valid: "min(max(bottle.filled, bottle.tested) + 18 months, bottle.expires)"}',
            {"bottle": {"filled": "2024-01-01", "tested": "2024-11-04", "expires": "2030-01-01"}},
            ("pass", "+1 day"),
        ),
        (
            "{let: {label: seat.checked if stated(seat.checked) else seat.made}, valid: label + 1 year}",
            {"seat": {"made": "2020-01-01", "checked": "2025-05-03"}},
            ("pass", "0 days"),
        ),
        (
            "{let: {label: seat.checked if stated(seat.checked) else seat.made}, valid: label + 1 year}",
            {"seat": {"made": "2025-05-03"}},
            ("pass", "0 days"),
        ),
        (
            "{within: safety/belts, valid: label}",
            {
                "components": [
                    {"name": "a", "category": "safety/belts", "label": "2026-05"},
                    {"name": "b", "category": "safety/belts", "label": "2026-04"},
                ]
            },
            ("fail", "-3 days"),
        ),
        (
            "{within: safety/belts, valid: label}",
            {"components": [{"name": "a", "category": "safety/belts"}]},
            ("not_shown", None),
        ),
        ("{within: safety/belts, valid: expires}", {"components": []}, ("not_shown", None)),
        ("{valid: until_day(a.sort)}", {"a": {"sort": "petrol"}}, ("fail", "-1 day")),
        ("{valid: until_day(a.sort)}", {"a": {"sort": "steam"}}, ("pass", None)),
    ],
)
def test_valid(check: str, car: dict[str, Any], expected: tuple[str, str | None]) -> None:
    assert told(check, **car) == expected


@each_row(
    ("check", "car", "expected"),
    [
        ("{holds: a.sound}", {"a": {"sound": True}}, ("pass", None)),
        ("{holds: a.sound}", {"a": {"sound": False}}, ("fail", None)),
        ("{holds: a.sound}", {}, ("not_shown", None)),
        ("{holds: a.sound or a.doors == 2}", {"a": {"doors": 2}}, ("pass", None)),
        ("{holds: a.sound and a.doors == 2}", {"a": {"doors": 3}}, ("fail", None)),
        ("{holds: a.sound and a.doors == 2}", {"a": {"doors": 2}}, ("not_shown", None)),
        ("{holds: a.name == 'x y'}", {"a": {"name": "X  Y"}}, ("pass", None)),
        ("{holds: 2 <= a.doors < 4}", {"a": {"doors": 4}}, ("fail", None)),
        ("{holds: stated(seat.checked)}", {}, ("fail", None)),
        ("{holds: stated(seat.checked)}", {"seat": {"checked": "2020-01-01"}}, ("pass", None)),
    ],
)
def test_holds(check: str, car: dict[str, Any], expected: tuple[str, str | None]) -> None:
    assert told(check, **car) == expected


def test_a_breach_is_told_with_numbers_in_place() -> None:
    found = judge("{holds: a.doors == 2}", {"a": {"doors": 3}}, FACTS)
    assert found_words(found.finding) == "not so: 3 == 2"
    found = judge("{valid: bottle.expires}", {"bottle": {"expires": "2026-05-01"}}, FACTS)
    assert found_words(found.finding) == "valid until 2026-05-01, 2 days before 2026-05-03"
    assert act_words(found.act) == "renew before 2026-05-03"


@each_row(
    ("check", "code", "text"),
    [
        ("{valid: a.doors}", "PK302", "a.doors"),
        ("{valid: seat.made + 5 kg}", "PK302", "seat.made + 5 kg"),
        ("{valid: 2026-02-30}", "PK106", "2026-02-30"),
        ("{valid: seat.made, on: a.doors}", "PK302", "a.doors"),
        ("{valid: seat.made, at: event.date}", "PK101", "at"),
        ("{holds: a.doors}", "PK303", "a.doors"),
        ("{holds: a.sort == 'coal'}", "PK204", "'coal'"),
        ("{holds: a.sound andd a.doors == 2}", "PK103", None),
    ],
)
def test_mistakes_are_told_at_their_place(check: str, code: str, text: str | None) -> None:
    found = problems(check, FACTS, MORE)
    assert found[0].code == code
    span = found[0].span
    assert span is not None
    if text is not None:
        assert span.source_line[span.column - 1 : span.end_column - 1] == text


def test_what_is_always_or_never_true_is_a_warning() -> None:
    (found,) = problems("{holds: 1 < 2}", FACTS)
    assert (found.code, found.warning) == ("PK507", True)
    (found,) = problems("{when: 2 < 1, holds: a.sound}", FACTS)
    assert (found.code, found.warning) == ("PK507", True)
