"""Closed lists of counts, sizes, days and truths under `allowed`, `banned`, `required` and `exactly`."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from checker.report.words.acts import act_words
from checker.report.words.findings import found_words, penalty_words
from tests.building import outcome_of, pack_of_check
from tests.examples import each_row
from tests.kinds.workbench import codes, inspect, judge, pack_of, problems, shown

FACTS = """{
  box.gears: {type: count}, pipe.bore: {unit: mm}, pipe.bores: {unit: mm, several: true}, hall.day: {type: date},
  body.open: {type: truth}, body.kind: {one_of: [small, large]}, box.ratios: {type: number, several: true}
}"""
MORE = """{
  lists: {pipes: {known_by: name, fields: {name: {type: text}, bore: {unit: mm}}}},
  tables: {gears: {by: kind, rows: [{kind: small, value: [4, 5]}, {kind: large, value: no limit}]}}
}"""


def told(check: str, **car: Any) -> tuple[str, str | None]:
    return shown(judge(check, car, FACTS, MORE))


BORES = "[3/4 in, 1 1/2 in]"


@each_row(
    ("check", "car", "expected"),
    [
        ("{allowed: [5, 6, 7], of: box.gears}", {"box": {"gears": 6}}, ("pass", "0")),
        ("{allowed: [5, 6, 7], of: box.gears}", {"box": {"gears": 9}}, ("fail", "-2")),
        ("{allowed: [5, 6, 7], of: box.gears}", {"box": {"gears": 3}}, ("fail", "-2")),
        ("{allowed: [5, 6, 7], of: box.gears}", {}, ("not_shown", None)),
        ("{banned: [5, 6, 7], of: box.gears}", {"box": {"gears": 6}}, ("fail", "0")),
        ("{banned: [5, 6, 7], of: box.gears}", {"box": {"gears": 9}}, ("pass", "+2")),
        # whatever the unit
        (f"{{allowed: {BORES}, of: pipe.bore}}", {"pipe": {"bore": "19.05 mm"}}, ("pass", "0 in")),
        (f"{{allowed: {BORES}, of: pipe.bore}}", {"pipe": {"bore": "1.5 in"}}, ("pass", "0 in")),
        ("{allowed: [20 mm, 3 cm], of: pipe.bore}", {"pipe": {"bore": "28 mm"}}, ("fail", "-0.2 cm")),
        ("{banned: [20 mm, 3 cm], of: pipe.bore}", {"pipe": {"bore": "30 mm"}}, ("fail", "0 cm")),
        # several values, and entries of a list
        ("{allowed: [20 mm, 30 mm], of: pipe.bores}", {"pipe": {"bores": ["20 mm", "31 mm"]}}, ("fail", "-1 mm")),
        ("{allowed: [20 mm, 30 mm], of: pipe.bores}", {"pipe": {"bores": []}}, ("pass", None)),
        ("{each: pipes, allowed: [20 mm], of: bore}", {"pipes": [{"name": "a", "bore": "22 mm"}, {"name": "b", "bore": "21 mm"}]}, ("fail", "-2 mm")),
        # days and truths
        ("{allowed: [2026-05-01, 2026-05-08], of: hall.day}", {"hall": {"day": "2026-05-08"}}, ("pass", "0 days")),
        ("{allowed: [2026-05-01, 2026-05-08], of: hall.day}", {"hall": {"day": "2026-05-06"}}, ("fail", "-2 days")),
        ("{banned: [2026-05-01], of: hall.day}", {"hall": {"day": "2026-05-01"}}, ("fail", "0 days")),
        ("{allowed: [true], of: body.open}", {"body": {"open": True}}, ("pass", "0")),
        ("{banned: [true], of: body.open}", {"body": {"open": True}}, ("fail", "-1")),
        # by a table
        ("{allowed: gears(body.kind), of: box.gears}", {"box": {"gears": 5}, "body": {"kind": "small"}}, ("pass", "0")),
        ("{allowed: gears(body.kind), of: box.gears}", {"box": {"gears": 6}, "body": {"kind": "small"}}, ("fail", "-1")),
        ("{allowed: gears(body.kind), of: box.gears}", {"box": {"gears": 6}, "body": {"kind": "large"}}, ("pass", None)),
        ("{allowed: gears(body.kind), of: box.gears}", {"box": {"gears": 6}}, ("not_shown", None)),
        # required: each is looked for among what is there
        ("{required: [20 mm, 3 cm], of: pipe.bores}", {"pipe": {"bores": ["30 mm", "20 mm", "5 mm"]}}, ("pass", "0 mm")),
        ("{required: [20 mm, 30 mm], of: pipe.bores}", {"pipe": {"bores": ["20 mm", "33 mm"]}}, ("fail", "-3 mm")),
        ("{required: [20 mm, 30 mm], of: pipe.bores, at_least: 1}", {"pipe": {"bores": ["20 mm", "33 mm"]}}, ("pass", "0 mm")),
        ("{required: [20 mm], of: pipe.bores}", {"pipe": {"bores": []}}, ("fail", None)),
        # exactly: a whole list, in order
        ("{limit: pipe.bores, exactly: [20 mm, 3 cm]}", {"pipe": {"bores": ["2 cm", "30 mm"]}}, ("pass", "0")),
        ("{limit: pipe.bores, exactly: [20 mm, 3 cm]}", {"pipe": {"bores": ["30 mm", "2 cm"]}}, ("fail", "-1")),
        ("{limit: box.ratios, exactly: [3.1, 2.2]}", {"box": {"ratios": [3.1, 2.2]}}, ("pass", "0")),
        ("{limit: box.gears, exactly: 5}", {"box": {"gears": 4}}, ("fail", "-1")),
        ("{limit: hall.day, exactly: 2026-05-01}", {"hall": {"day": "2026-05-03"}}, ("fail", "-2 days")),
    ],
)  # fmt: skip
def test_lists_of_values(check: str, car: dict[str, Any], expected: tuple[str, str | None]) -> None:
    assert told(check, **car) == expected


@each_row(
    ("check", "code", "hint"),
    [
        ("{allowed: [5 mm], of: box.gears}", "PK301", ""),
        ("{allowed: [red], of: box.gears}", "PK302", ""),
        ("{allowed: 5, of: box.gears}", "PK302", "allowed: [first value, second value]"),
        ("{allowed: '5 mm', of: pipe.bore}", "PK302", "allowed: [5 mm]"),
        ("{allowed: [box.gears], of: box.gears}", "PK302", ""),
        ("{allowed: [], of: box.gears}", "PK302", ""),
        ("{required: [5, 6], of: box.ratios, at_least: 3}", "PK503", ""),
        ("{limit: box.gears, exactly: [5, 6]}", "PK302", "{allowed: [..], of: box.gears}"),
    ],
)
def test_what_cannot_be_a_list_of_values_is_told(check: str, code: str, hint: str) -> None:
    assert codes(check, FACTS, MORE) == [code]
    assert hint in problems(check, FACTS, MORE)[0].hint


def test_lint_tells_of_a_list_that_nothing_can_be_in() -> None:
    from checker.pack.lint.checks import always_or_never

    pack = pack_of("{allowed: [-1, -2], of: box.gears}", FACTS, MORE)
    assert [p.message for p in always_or_never(pack)] == ["never true: box.gears can only be 0 or more"]
    assert list(always_or_never(pack_of("{allowed: [-1, 2], of: box.gears}", FACTS, MORE))) == []


def test_a_size_is_too_close_where_its_gear_cannot_tell_it_from_a_listed_one() -> None:
    pack = pack_of_check(
        "{CHECK: [20 mm, 30 mm], of: pipe.bore}".replace("CHECK", "banned"),
        "facts: {pipe.bore: {unit: mm, measured_with: rule}}\ninstruments: {rule: {resolution: 1 mm, permissible_error: 1 mm}}",
    )
    assert outcome_of(pack, "pipe: {bore: 20.5 mm}").outcome == "too_close"
    assert outcome_of(pack, "pipe: {bore: 25 mm}").outcome == "pass"


def test_acts_and_texts_name_the_nearest() -> None:
    low = judge("{allowed: [5, 7], of: box.gears}", {"box": {"gears": 4}}, FACTS, MORE)
    assert (act_words(low.act), found_words(low.finding)) == (
        "raise gears by 1",
        "gears 4 is 1 below the value of 5",
    )
    hit = judge("{banned: [5, 7], of: box.gears}", {"box": {"gears": 7}}, FACTS, MORE)
    assert (act_words(hit.act), found_words(hit.finding)) == (
        "gears: make it another than 7",
        "gears 7 is the banned value of 7",
    )


def test_an_excess_has_the_kind_of_the_values() -> None:
    penalty = 'penalty: {amount: "round_up(excess / 1 mm, 1)", unit: laps}'
    pack = pack_of("{allowed: [20 mm, 30 mm], of: pipe.bore}", FACTS, MORE, penalty)
    assert penalty_words(inspect(pack, {"pipe": {"bore": "33 mm"}}).outcomes[0].penalty) == "3 laps"


VALUES = st.lists(st.fractions(0, 50, max_denominator=8), min_size=1, max_size=4, unique=True)


@given(VALUES, st.fractions(0, 50, max_denominator=8))
def test_the_margin_is_the_distance_to_the_nearest(values: list[Fraction], value: Fraction) -> None:
    listed = ", ".join(f"{one} mm" for one in values)
    car = {"pipe": {"bore": f"{value / 10} cm"}}
    nearest = min(abs(one - value) for one in values)
    for kind, sign, met in (("allowed", -1, nearest == 0), ("banned", 1, nearest != 0)):
        found = judge(f"{{{kind}: [{listed}], of: pipe.bore}}", car, FACTS, MORE)
        assert found.margin_value == sign * nearest
        assert (found.outcome == "pass") is met
