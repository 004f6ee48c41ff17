"""Moments: a day and a time by the meeting's own clock, their differences, and what has no meaning."""

from __future__ import annotations

from datetime import datetime, timedelta
from fractions import Fraction
from pathlib import Path

import jsonschema_rs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.kinds.judging.assessment import NOT_SHOWN
from checker.pack.editions.loading import build_pack
from checker.pack.editors.pack_schema import declaration_schema
from checker.pack.lint.everything import lint
from checker.pack.model import Pack
from checker.quantities.literal import parse_literal
from checker.quantities.moments import LAST_S, day_of, moment_text, parse_moment, time_of_day
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.report.one_car.blank import blank_declaration
from checker.report.words.acts import act_words
from checker.report.words.amounts import margin_words
from checker.studies.change.comparison import compare
from checker.verdict.inspection import Outcome
from checker.verdict.run import inspect_document
from tests.examples import each_row

PACK = """\
pack: clock
edition: "1"
title: Moments
in_force: {{from: 2026-01-01}}
facts:
  event.start: {{type: moment, stated_by: organiser, about: When the race starts}}
  car.presented: {{type: moment, about: When the car came to scrutineering}}
  test.day: {{type: date}}
lists:
  runs: {{known_by: name, fields: {{name: {{type: text}}, began: {{type: moment}}}}}}
clauses:
  "1": {{title: One, check: {{{check}}}}}
"""
CAR = """\
formula: clock
car: {{number: "1", presented: {presented}}}
event: {{start: 2026-05-03 14:00}}
test: {{day: 2026-05-03}}
runs: [{{name: second, began: 2026-05-02 10:00}}, {{name: first, began: 2026-05-02 09:15}}]
"""


def pack(check: str) -> Pack:
    return build_pack(parse_document(PACK.format(check=check).encode(), "pack.yaml", "PK"))


def judged(check: str, presented: str = "2026-05-03 12:30") -> Outcome:
    car = parse_document(CAR.format(presented=presented).encode(), "car.yaml", "CD")
    made = pack(check)
    return inspect_document(made, car, made.first_day, "entrant").outcomes[0]


@each_row(
    ("check", "outcome", "margin", "act"),
    [
        ("limit: event.start - car.presented, at_least: 90 min", "pass", "0 min", ""),
        ("limit: event.start - car.presented, at_least: 2 h", "fail", "-0.5 h", "raise it by 0.5 h"),
        (
            "limit: car.presented, at_most: event.start - 100 min",
            "fail",
            "-10 min",
            "lower presented by 10 min",
        ),
        ("limit: car.presented, at_least: 2026-05-03 08:00", "pass", "+270 min", ""),
        ("limit: car.presented, below: 2026-05-03 12:30", "fail", "0 min", ""),
        ("limit: time_of_day(car.presented), at_least: 8 h", "pass", "+4.5 h", ""),
        ("holds: day(car.presented) == test.day", "pass", "", ""),
        ("limit: car.presented, nominal: 2026-05-03 12:00, plus_minus: 30 min", "pass", "0 min", ""),
        ('limit: "max(car.presented, event.start) - event.start", at_most: 0 min', "pass", "0 min", ""),
        (
            'limit: "min((b.began - a.began) for a, b in neighbours(runs, began))", at_least: 45 min',
            "pass",
            "0 min",
            "",
        ),
        (
            "runs: runs, by: began, longest: 2, limit: last(run).began - first(run).began, at_least: 1 h",
            "fail",
            "-0.25 h",
            "",
        ),
        ("allowed: [2026-05-03 12:30, 2026-05-03 13:00], of: car.presented", "pass", "0 min", ""),
    ],
)
def test_moments_are_held_to_bounds_and_differ_by_minutes(
    check: str, outcome: str, margin: str, act: str
) -> None:
    found = judged(check).assessment
    assert found.outcome == outcome
    assert ("" if found.margin is None else margin_words(found.margin)) == margin
    if act:
        assert act.rpartition(" by ")[2] in act_words(found.act)


def test_a_moment_that_nobody_states_is_not_shown() -> None:
    made = pack("limit: car.presented, at_most: event.start")
    car = parse_document(b'formula: clock\ncar: {number: "1"}\n', "car.yaml", "CD")
    assert inspect_document(made, car, made.first_day, "entrant").outcomes[0].outcome == NOT_SHOWN


@each_row(
    ("check", "cure"),
    [
        ("limit: car.presented + event.start, at_least: 5 h", "m + 30 min"),
        ("limit: 2 * car.presented, at_least: 5 h", "m + 30 min"),
        ("limit: car.presented, at_least: 2026-05-03", "day(m)"),
        ("holds: car.presented > test.day", "day(m)"),
        ("limit: car.presented, at_least: 5 h", "m + 30 min"),
        ("limit: car.presented, at_most: event.start - 1 day", "m + 30 min"),
        ('limit: "round_up(car.presented, 5 min)", at_most: 5 h', "time_of_day(m)"),
        ("limit: car.presented, at_least: 2026-05-03 25:00", ""),
        ("limit: car.presented, at_least: 2026-02-30 12:00", ""),
        ("limit: car.presented, at_least: 2026-05-03 12:00:30", "hours and minutes"),
        ("limit: test.day, at_least: 2026-05-03 12:00", "day(m)"),
    ],
)
def test_what_no_moment_allows_is_refused_with_a_cure(check: str, cure: str) -> None:
    with pytest.raises(InputError) as caught:
        pack(check)
    assert any(cure in problem.hint for problem in caught.value.problems), caught.value.problems


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("2026-05-03", "14:30"),
        ("2026-05-03 24:00", "clock"),
        ("2026-05-03T12:00", ""),
        ("12:00", ""),
        ("2026-13-01 12:00", "calendar"),
    ],
)
def test_a_declared_moment_is_read_strictly(written: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        judged("limit: car.presented, at_most: event.start", written)
    (problem,) = caught.value.problems
    assert told in problem.message + problem.hint


@given(st.datetimes(datetime(1900, 1, 1), datetime(2199, 12, 31, 23, 59)))
def test_a_moment_is_told_as_it_was_written(moment: datetime) -> None:
    text = moment.strftime("%Y-%m-%d %H:%M")
    seconds = parse_moment(text)
    assert moment_text(seconds) == text
    assert parse_literal(f" {text} ", None).value == seconds
    assert (day_of(seconds), time_of_day(seconds)) == (
        moment.date(),
        Fraction(moment.hour * 3600 + moment.minute * 60),
    )


@given(st.datetimes(datetime(1900, 1, 2), datetime(2199, 12, 30)), st.integers(-1000, 1000))
def test_differences_are_those_of_the_calendar(moment: datetime, minutes: int) -> None:
    later = moment + timedelta(minutes=minutes)
    texts = [one.strftime("%Y-%m-%d %H:%M") for one in (moment, later)]
    assert parse_moment(texts[1]) - parse_moment(texts[0]) == 60 * minutes


def test_what_is_no_whole_minute_is_told_with_its_seconds() -> None:
    assert moment_text(parse_moment("2026-05-03 12:00") + Fraction(61, 2)) == "2026-05-03 12:00:30.50"
    assert "outside" in moment_text(Fraction(LAST_S))


def test_the_blank_the_schema_the_comparison_and_lint_know_moments(tmp_path: Path) -> None:
    made = pack("limit: event.start - car.presented, at_least: 90 min")
    assert "a day and time such as 2026-05-03 14:30" in blank_declaration(made)
    schema = declaration_schema(made)
    good = {"formula": "clock", "car": {"number": "1", "presented": "2026-05-03 9:30"}}
    by_schema = jsonschema_rs.validator_for(schema)
    by_schema.validate(good)
    for bad in ("2026-05-03", "2026-05-03 24:10", 5):
        assert not by_schema.is_valid({**good, "car": {"number": "1", "presented": bad}})
    old, new = (pack(f"limit: car.presented, at_most: 2026-05-03 {hour}:00") for hour in (12, 11))
    (change,) = compare(old, new)
    assert (change.change, "60 min" in str(change)) == ("tightened", True)
    (tmp_path / "pack.yaml").write_text(PACK.format(check="limit: car.presented, at_most: event.start"))
    assert {one.code for one in lint(tmp_path / "pack.yaml")} <= {"PK704", "PK206"}
