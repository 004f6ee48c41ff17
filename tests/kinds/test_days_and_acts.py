"""What stands beside any check: the days on which it binds, and the pack's own words for what to do."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.kinds.frame.framed import compare_checks
from checker.report.words.acts import act_words
from checker.report.words.findings import found_words
from tests.examples import each_row
from tests.kinds.workbench import codes, judge, pack_of, shown

FACTS = "{frame.mass: {unit: kg}, floor.fixings: {type: count}, floor.overlap: {unit: mm}}"
STEP = """{all_of: [{limit: frame.mass, at_least: 168 kg, until: 2026-12-31},
                    {limit: frame.mass, at_least: 172 kg, since: 2027-01-01}]}"""
LISTS = "{lists: {joints: {known_by: name, fields: {name: {type: text}, wall: {unit: mm}}}}}"


def on(day: str, check: str = STEP) -> tuple[str, str | None]:
    return shown(judge(check, {"frame": {"mass": "170 kg"}, "event": {"date": day}}, FACTS))


@pytest.mark.parametrize(
    ("day", "expected"),
    [
        ("2026-12-31", ("pass", "+2 kg")),
        ("2027-01-01", ("fail", "-2 kg")),
    ],
)
def test_a_bound_changes_on_its_day(day: str, expected: tuple[str, str | None]) -> None:
    assert on(day) == expected


SHORT = "{limit: frame.mass, at_least: 172 kg, since: 2026-06-01, until: 2026-06-30}"


@given(st.integers(-60, 60))
def test_a_check_binds_from_its_first_day_to_its_last(days: int) -> None:
    day = date(2026, 6, 1) + timedelta(days)
    assert on(day.isoformat(), SHORT)[0] == ("fail" if 0 <= days <= 29 else "not_applicable")


def test_a_check_that_does_not_bind_says_since_when_it_will() -> None:
    found = judge(SHORT, {"event": {"date": "2026-05-31"}}, FACTS)
    assert found.finding is not None
    assert found_words(found.finding) == "in force from 2026-06-01"


def test_a_way_that_is_no_longer_open_is_none_to_pass_by() -> None:
    check = "{any_of: [{limit: frame.mass, at_least: 160 kg, until: 2026-05-02}, {limit: frame.mass, at_least: 175 kg}]}"
    assert on("2026-05-02", check) == ("pass", "+10 kg")
    assert on("2026-05-03", check) == ("fail", "-5 kg")


@each_row(
    ("keys", "code"),
    [
        ("since: 2026-02-30", "PK106"),
        ("since: next year", "PK106"),
        ("until: 2026", "PK106"),
        ("since: 2026-06-01, until: 2026-05-01", "PK601"),
        ("act: ''", "PK108"),
        ("act: [a]", "PK108"),
    ],
)
def test_what_cannot_stand_there_is_a_mistake(keys: str, code: str) -> None:
    assert codes(f"{{limit: frame.mass, at_least: 5 kg, {keys}}}", FACTS) == [code]


WAYS = """{any_of: [{limit: floor.fixings, at_least: 12, act: fit more bolts},
                    {limit: floor.overlap, at_least: 45 mm, act: let it overlap further}]}"""


def test_each_branch_has_its_own_words_for_what_to_do() -> None:
    found = judge(WAYS, {"floor": {"fixings": 8, "overlap": "40 mm"}}, FACTS)
    assert act_words(found.act) == "let it overlap further, or fit more bolts"


def test_the_words_stand_for_each_entry() -> None:
    joints = [{"name": "upper", "wall": "1 mm"}, {"name": "lower", "wall": "1.5 mm"}]
    check = "{each: joints, limit: wall, at_least: 2 mm, act: take a thicker tube}"
    found = judge(check, {"joints": joints}, FACTS, LISTS)
    assert act_words(found.act) == "upper: take a thicker tube; lower: take a thicker tube"


def test_a_pass_has_nothing_to_do() -> None:
    assert judge(WAYS, {"floor": {"fixings": 12, "overlap": "40 mm"}}, FACTS).act is None


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("", ", until: 2026-12-31", ("binds until 2026-12-31 is new",)),
        (", since: 2026-06-01", ", since: 2026-07-01", ("binds: from 2026-06-01 becomes from 2026-07-01",)),
        (", act: weigh it", ", act: weigh it again", ()),  # no car is judged otherwise
    ],
)
def test_a_change_of_days_or_words_is_told(before: str, after: str, words: tuple[str, ...]) -> None:
    packs = [pack_of(f"{{limit: frame.mass, at_least: 5 kg{more}}}", FACTS) for more in (before, after)]
    old, new = (pack.clauses["1"].check for pack in packs)
    assert compare_checks(new, old).words == words
