"""Kind `limit`: bounds on the edge, tolerance, rounding, several values, units, and what is not shown."""

from __future__ import annotations

import pytest

from tests.examples import each_row
from tests.kinds.workbench import codes, judge, pack_of, problems, shown

FACTS = """{
  a.length: {unit: mm}, a.width: {unit: in}, a.mass: {unit: kg}, a.share: {type: number}, a.bolts: {type: count},
  a.pad: {unit: mm, several: true}, a.days: {type: date, several: true}, a.labels: {type: text, several: true},
  a.checks: {type: truth, several: true}, a.built: {type: date}, a.grade: {grades: [C, B, A]},
  a.kinds: {grades: [C, B, A], several: true}, a.place: {one_of: [front, mid, rear]}, a.note: {type: text},
  a.sound: {type: truth}, a.sort: {one_of: [steam, petrol, electric]}, a.power: {unit: kW}, a.metal: {type: material}
}"""
MORE = """{
  materials: {steel: [], light metal: [aluminium]},
  tables: {
    cap: {by: sort, rows: [{sort: steam, value: no limit}, {sort: petrol, value: 12 mm}, {sort: electric, value: 1/2 in}]},
    band: {by: sort, rows: [{sort: steam, more: no limit, less: 1 mm}, {sort: any, more: 2 mm, less: no limit}]},
    grade: {by: sort, rows: [{sort: steam, value: C}, {sort: any, value: B}]},
    colours: {by: sort, rows: [{sort: steam, value: [red, white]}, {sort: any, value: [white]}]},
    name: {by: sort, rows: [{sort: steam, value: no limit}, {sort: any, value: front}]}
  }
}"""


def told(check: str, **car: object) -> tuple[str, str | None]:
    return shown(judge(check, {"a": car} if car else {}, FACTS, MORE))


@each_row(
    ("bounds", "length", "outcome", "margin"),
    [
        ("at_least: 10 mm", "10 mm", "pass", "0 mm"),
        ("at_least: 10 mm", "9.9 mm", "fail", "-0.1 mm"),
        ("above: 10 mm", "10 mm", "fail", "0 mm"),
        ("above: 10 mm", "10.1 mm", "pass", "+0.1 mm"),
        ("at_most: 10 mm", "10 mm", "pass", "0 mm"),
        ("at_most: 10 mm", "10.1 mm", "fail", "-0.1 mm"),
        ("below: 10 mm", "10 mm", "fail", "0 mm"),
        ("below: 10 mm", "9.9 mm", "pass", "+0.1 mm"),
        ("at_least: 10 mm, at_most: 20 mm", "13 mm", "pass", "+3 mm"),
        ("at_least: 10 mm, below: 20 mm", "20 mm", "fail", "0 mm"),
        ("at_least: 10 mm, at_most: 10 mm", "10 mm", "pass", "0 mm"),
        ("exactly: 10 mm", "10 mm", "pass", "0 mm"),
        ("exactly: 10 mm", "12 mm", "fail", "-2 mm"),
        ("exactly: 10 mm", "9 mm", "fail", "-1 mm"),
        ("nominal: 10 mm, plus_minus: 2 mm", "8 mm", "pass", "0 mm"),
        ("nominal: 10 mm, plus_minus: 2 mm", "7.5 mm", "fail", "-0.5 mm"),
        ("nominal: 10 mm, plus: 1 mm, minus: 3 mm", "7 mm", "pass", "0 mm"),
        ("nominal: 10 mm, plus: 1 mm, minus: 3 mm", "11.5 mm", "fail", "-0.5 mm"),
        ("nominal: 10 mm, plus: 1 mm, minus: 0 mm", "10 mm", "pass", "0 mm"),
    ],
)
def test_a_value_on_an_inclusive_limit_passes_and_on_a_strict_one_fails(
    bounds: str, length: str, outcome: str, margin: str
) -> None:
    assert told(f"{{limit: a.length, {bounds}}}", length=length) == (outcome, margin)


@each_row(
    ("bounds", "length", "outcome", "margin"),
    [
        ("at_least: 10 mm", "9 mm", "pass", "0 mm"),
        ("at_least: 10 mm", "8.5 mm", "fail", "-0.5 mm"),
        ("above: 10 mm", "9 mm", "fail", "0 mm"),
        ("at_most: 10 mm", "10.5 mm", "pass", "+0.5 mm"),
        ("exactly: 10 mm", "9 mm", "pass", "0 mm"),
        ("exactly: 10 mm", "10 mm", "pass", "+1 mm"),
        ("exactly: 10 mm", "11.5 mm", "fail", "-0.5 mm"),
        ("nominal: 10 mm, plus_minus: 2 mm", "13 mm", "pass", "0 mm"),
    ],
)
def test_a_tolerance_widens_every_bound(bounds: str, length: str, outcome: str, margin: str) -> None:
    assert told(f"{{limit: a.length, {bounds}, tolerance: 1 mm}}", length=length) == (outcome, margin)


DEFAULTS = "{defaults: {tolerance: [1 mm, 2 kg, 3 days]}}"


@pytest.mark.parametrize(
    ("check", "car", "margin"),
    [
        ("{limit: a.length, at_most: 10 mm}", {"length": "11 mm"}, "0 mm"),
        ("{limit: a.mass, at_most: 10 kg}", {"mass": "11 kg"}, "+1 kg"),
        ("{limit: a.share, at_most: 10}", {"share": 10}, "0"),
        ("{limit: a.built, at_most: 2026-01-01}", {"built": "2026-01-04"}, "0 days"),
        ("{limit: a.length, at_most: 10 mm, tolerance: 0 mm}", {"length": "10 mm"}, "0 mm"),
    ],
)
def test_the_packs_tolerance_is_taken_by_dimension_and_gives_way_to_the_checks_own(
    check: str, car: dict[str, object], margin: str
) -> None:
    assert shown(judge(check, {"a": car}, FACTS, DEFAULTS)) == ("pass", margin)


@pytest.mark.parametrize(
    ("mode", "length", "margin"),
    [
        ("half_up", "10.5 mm", "-1 mm"),
        ("half_even", "10.5 mm", "0 mm"),
        ("half_even", "11.5 mm", "-2 mm"),
        ("up", "10.1 mm", "-1 mm"),
        ("down", "10.9 mm", "0 mm"),
    ],
)
def test_the_value_is_rounded_before_it_is_compared(mode: str, length: str, margin: str) -> None:
    check = f"{{limit: a.length, at_most: 10 mm, rounded: {{to: 1 mm, mode: {mode}}}}}"
    assert told(check, length=length)[1] == margin


@each_row(
    ("check", "car", "expected"),
    [
        ("{limit: a.grade, at_least: B}", {"grade": "B"}, ("pass", "0")),
        ("{limit: a.grade, at_least: b}", {"grade": "C"}, ("fail", "-1")),
        ("{limit: a.grade, at_least: \"'B'\"}", {"grade": "A"}, ("pass", "+1")),
        ("{limit: a.grade, above: B}", {"grade": "B"}, ("fail", "0")),
        ("{limit: a.grade, at_least: grade(a.sort)}", {"grade": "C", "sort": "petrol"}, ("fail", "-1")),
        ("{limit: a.grade, at_least: B if a.sound else A}", {"grade": "B", "sound": True}, None),
        (
            "{limit: a.grade, at_least: \"'B' if a.sound else 'A'\"}",
            {"grade": "B", "sound": False},
            ("fail", "-1"),
        ),
        ("{limit: a.built, at_least: 2016-01-01}", {"built": "2015-12-31"}, ("fail", "-1 day")),
        (
            "{limit: a.built, nominal: 2016-01-10, plus_minus: 5 days}",
            {"built": "2016-01-15"},
            ("pass", "0 days"),
        ),
        ("{limit: a.place, exactly: front}", {"place": "FRONT"}, ("pass", "0")),
        ("{limit: a.place, exactly: front}", {"place": "rear"}, ("fail", "-1")),
        ("{limit: a.note, exactly: car.number}", {"note": "1"}, ("pass", "0")),
        ("{limit: a.note, exactly: car.number}", {"note": "2"}, ("fail", "-1")),
        ("{limit: a.note, exactly: \"'two  words'\"}", {"note": "Two words"}, ("pass", "0")),
        ("{limit: a.sound, exactly: true}", {"sound": False}, ("fail", "-1")),
        (
            "{limit: a.labels, exactly: colours(a.sort)}",
            {"labels": ["Red", "white"], "sort": "steam"},
            ("pass", "0"),
        ),
        (
            "{limit: a.labels, exactly: colours(a.sort)}",
            {"labels": ["white", "red"], "sort": "steam"},
            ("fail", "-1"),
        ),
        ("{limit: a.labels, exactly: colours(a.sort)}", {"labels": "white", "sort": "petrol"}, ("pass", "0")),
        ("{limit: a.labels, exactly: [red, white]}", {"labels": ["Red", "white"]}, ("pass", "0")),
        ("{limit: a.labels, exactly: [red, white]}", {"labels": ["white", "red"]}, ("fail", "-1")),
        ("{limit: a.metal, exactly: light metal}", {"metal": "aluminium"}, ("fail", "-1")),
        ("{limit: a.metal, exactly: aluminium}", {"metal": "light metal"}, ("not_shown", None)),
        ("{limit: a.metal, exactly: aluminium}", {"metal": "aluminum"}, ("not_shown", None)),
        ("{limit: a.metal, exactly: Aluminium}", {"metal": "aluminium"}, ("pass", "0")),
        ("{limit: a.bolts, exactly: 4}", {"bolts": 5}, ("fail", "-1")),
    ],
)
def test_words_grades_days_lists_and_truths_as_bounds(
    check: str, car: dict[str, object], expected: tuple[str, str] | None
) -> None:
    if expected is None:
        assert codes(check, FACTS, MORE)
    else:
        assert told(check, **car) == expected


def test_a_list_of_listed_words_may_be_written_as_a_list() -> None:
    check = "{limit: a.kinds, exactly: [A, B]}"
    assert told(check, kinds=["A", "B"]) == ("pass", "0")
    assert told(check, kinds=["B", "A"]) == ("fail", "-1")


@each_row(
    ("check", "car", "expected"),
    [
        (
            "{limit: a.pad, at_least: 3 mm, of_several: worst}",
            {"pad": ["3.4 mm", "2.9 mm"]},
            ("fail", "-0.1 mm"),
        ),
        (
            "{limit: a.pad, at_least: 3 mm, of_several: mean}",
            {"pad": ["3.4 mm", "2.9 mm"]},
            ("pass", "+0.15 mm"),
        ),
        ("{limit: a.pad, at_least: 3 mm, of_several: worst}", {"pad": "3.4 mm"}, ("pass", "+0.4 mm")),
        (
            "{limit: a.pad, at_least: 3 mm, at_most: 5 mm, of_several: worst}",
            {"pad": ["3.4 mm", "5.5 mm"]},
            ("fail", "-0.5 mm"),
        ),
        ("{limit: a.pad, at_least: 3 mm, of_several: worst}", {"pad": []}, ("not_shown", None)),
        ("{limit: a.pad, at_least: 3 mm, of_several: mean}", {"pad": []}, ("not_shown", None)),
        (
            "{limit: a.pad, exactly: 3 mm, of_several: worst}",
            {"pad": ["3 mm", "3.5 mm"]},
            ("fail", "-0.5 mm"),
        ),
        (
            "{limit: a.pad, nominal: 3 mm, plus_minus: 1 mm, of_several: mean}",
            {"pad": ["1 mm", "5 mm"]},
            ("pass", "+1 mm"),
        ),
        ("{limit: a.kinds, at_least: B, of_several: worst}", {"kinds": ["A", "C"]}, ("fail", "-1")),
        (
            "{limit: a.days, at_least: 2026-01-01, of_several: worst}",
            {"days": ["2026-02-01", "2025-12-30"]},
            ("fail", "-2 days"),
        ),
        ("{limit: a.labels, exactly: car.number, of_several: worst}", {"labels": ["1", "2"]}, ("fail", "-1")),
        ("{limit: a.checks, exactly: true, of_several: worst}", {"checks": [True, True]}, ("pass", "0")),
        ("{limit: a.checks, exactly: true, of_several: worst}", {"checks": [True, False]}, ("fail", "-1")),
        (
            "{of_several: worst, all_of: [{limit: a.pad, at_least: 3 mm}, {limit: a.length, at_least: 3 mm}]}",
            {"pad": ["3.4 mm", "2.9 mm"], "length": "9 mm"},
            ("fail", "-0.1 mm"),
        ),
    ],
)
def test_which_of_several_values_counts(
    check: str, car: dict[str, object], expected: tuple[str, str | None]
) -> None:
    assert told(check, **car) == expected


@each_row(
    ("check", "car", "expected"),
    [
        ("{limit: a.length, at_most: cap(a.sort)}", {"length": "99 mm", "sort": "steam"}, ("pass", None)),
        ("{limit: a.length, at_most: cap(a.sort)}", {"sort": "steam"}, ("pass", None)),
        ("{limit: a.length, at_most: cap(a.sort)}", {"length": "13 mm", "sort": "petrol"}, ("fail", "-1 mm")),
        (
            "{limit: a.length, at_most: cap(a.sort), at_least: 5 mm}",
            {"length": "9 mm", "sort": "steam"},
            ("pass", "+4 mm"),
        ),
        ("{limit: a.length, at_most: cap(a.sort), at_least: 5 mm}", {"sort": "steam"}, ("not_shown", None)),
        ("{limit: a.length, exactly: cap(a.sort)}", {"length": "9 mm", "sort": "steam"}, ("pass", None)),
        ("{limit: a.place, exactly: name(a.sort)}", {"place": "mid", "sort": "steam"}, ("pass", None)),
        ("{limit: a.place, exactly: name(a.sort)}", {"place": "mid", "sort": "petrol"}, ("fail", "-1")),
        (
            "{limit: a.length, nominal: 10 mm, plus: band(a.sort).more, minus: band(a.sort).less}",
            {"length": "99 mm", "sort": "steam"},
            ("pass", "+90 mm"),
        ),
        (
            "{limit: a.length, nominal: 10 mm, plus: band(a.sort).more, minus: band(a.sort).less}",
            {"length": "8 mm", "sort": "steam"},
            ("fail", "-1 mm"),
        ),
        (
            "{limit: a.length, nominal: cap(a.sort), plus_minus: 1 mm}",
            {"length": "8 mm", "sort": "steam"},
            ("pass", None),
        ),
    ],
)
def test_no_limit_is_met_by_anything(
    check: str, car: dict[str, object], expected: tuple[str, str | None]
) -> None:
    assert told(check, **car) == expected


@each_row(
    ("check", "car", "expected"),
    [
        ("{limit: a.length, at_least: 5 mm, at_most: a.width}", {"length": "4 mm"}, ("fail", "-1 mm")),
        ("{limit: a.length, at_least: 5 mm, at_most: a.width}", {"length": "6 mm"}, ("not_shown", None)),
        ("{limit: a.length, at_least: 5 mm}", {}, ("not_shown", None)),
        (
            "{limit: a.length, at_least: 5 mm, tolerance: 1 % * a.width}",
            {"length": "6 mm"},
            ("not_shown", None),
        ),
        ("{limit: a.length, at_most: cap(a.sort)}", {"length": "6 mm"}, ("not_shown", None)),
        ("{limit: a.length / a.width, at_most: 2}", {"length": "6 mm", "width": "0 mm"}, ("not_shown", None)),
        ("{limit: a.length, nominal: a.width, plus_minus: 1 mm}", {"length": "6 mm"}, ("not_shown", None)),
    ],
)
def test_what_is_not_shown(check: str, car: dict[str, object], expected: tuple[str, str | None]) -> None:
    assert told(check, **car) == expected


def test_what_would_settle_it_is_named() -> None:
    found = judge("{limit: a.length, at_least: a.width}", {"a": {}}, FACTS)
    assert found.unknown.absent == ("a.length", "a.width")
    found = judge("{limit: a.length, at_least: a.width}", {"a": {"length": "6 mm"}}, FACTS)
    assert found.unknown.absent == ("a.width",)


@each_row(
    ("check", "car", "margin"),
    [
        ("{limit: a.length, at_most: 1 in}", {"length": "12.7 mm"}, "+0.5 in"),
        ("{limit: a.length, at_most: cap(a.sort)}", {"length": "12.7 mm", "sort": "electric"}, "0 in"),
        ("{limit: a.length, at_most: a.width}", {"length": "12.7 mm", "width": "1 in"}, "+12.7 mm"),
        ("{limit: a.width, at_most: a.length}", {"length": "12.7 mm", "width": "1/4 in"}, "+0.25 in"),
        ("{limit: a.length + 0 cm, at_most: a.width}", {"length": "12.7 mm", "width": "1 in"}, "+1.27 cm"),
        ("{limit: a.length, at_least: 1 cm, at_most: 2 in}", {"length": "38.1 mm"}, "+0.5 in"),
        ("{limit: a.length, at_least: 1 cm, at_most: 2 in}", {"length": "11 mm"}, "+0.1 cm"),
        ("{let: {most: 2 in}, limit: a.length, at_most: most}", {"length": "25.4 mm"}, "+1 in"),
        (
            "{limit: a.mass * a.length, at_most: a.mass * a.width}",
            {"mass": "2 kg", "length": "5.4 mm", "width": "1 in"},
            "+0.04 kg m",
        ),
    ],
)
def test_a_margin_is_shown_in_the_rulebooks_unit(check: str, car: dict[str, object], margin: str) -> None:
    assert told(check, **car) == ("pass", margin)


def test_a_percentage_margin_is_in_points() -> None:
    facts = "{a.part: {unit: kg}, a.whole: {unit: kg}}"
    check = "{limit: percent(a.part / a.whole), at_most: 53 %}"
    assert shown(judge(check, {"a": {"part": "540 kg", "whole": "1000 kg"}}, facts)) == ("fail", "-1 %")


def test_a_margin_made_with_roots_is_exact_enough_to_stand_on_the_limit() -> None:
    check = '{limit: "hypot(a.length, a.width)", at_most: sqrt(2) * 10 mm}'
    assert told(check, length="10 mm", width="10 mm") == ("pass", "0 mm")


@each_row(
    ("check", "code", "text"),
    [
        ("{limit: a.length}", "PK502", "a.length"),
        ("{limit: a.length, at_least: 1 mm, above: 2 mm}", "PK502", "above"),
        ("{limit: a.length, exactly: 1 mm, at_most: 2 mm}", "PK502", "exactly"),
        ("{limit: a.length, nominal: 1 mm}", "PK502", "nominal"),
        ("{limit: a.length, at_most: 1 mm, plus: 1 mm}", "PK502", "plus"),
        ("{limit: a.length, at_least: 3 mm, at_most: 2 mm}", "PK503", "3 mm"),
        ("{limit: a.length, above: 2 mm, at_most: 2 mm}", "PK503", "2 mm"),
        ("{limit: a.grade, at_least: A, at_most: C}", "PK503", "A"),
        ("{limit: a.length, nominal: 3 mm, plus_minus: -1 mm}", "PK503", "-1 mm"),
        ("{limit: a.length, at_most: 3 mm, tolerance: -1 mm}", "PK503", "-1 mm"),
        ("{limit: a.length, at_most: 3}", "PK301", "3"),
        ("{limit: a.length, at_most: 3 kg}", "PK301", "3 kg"),
        ("{limit: a.length, at_most: 3 %}", "PK302", "3 %"),
        ("{limit: a.length, at_most: 3 mm, tolerance: 1 kg}", "PK301", "1 kg"),
        ("{limit: a.length, at_most: 3 mmm}", "PK104", "mmm"),
        ("{limit: a.lenght, at_most: 3 mm}", "PK201", "a.lenght"),
        ("{limit: a.place, at_most: front}", "PK302", "at_most"),
        ("{limit: a.place, exactly: fornt}", "PK204", "fornt"),
        ("{limit: a.place, exactly: \"'fornt'\"}", "PK204", "\"'fornt'\""),
        ("{limit: a.grade, at_least: D}", "PK204", "D"),
        ("{limit: a.grade, at_least: colours(a.sort)}", "PK304", "colours(a.sort)"),
        ("{limit: a.grade, at_least: name(a.sort)}", "PK204", "name(a.sort)"),
        ("{limit: a.grade, at_least: a.note}", "PK302", "a.note"),
        ("{limit: a.grade, nominal: B, plus_minus: 1}", "PK302", "nominal"),
        ("{limit: a.grade, at_least: B, tolerance: 1}", "PK302", "tolerance"),
        ("{limit: a.pad, at_most: 3 mm}", "PK304", "a.pad"),
        ("{limit: ballast, at_most: 3}", "PK304", "ballast"),
        ("{limit: a.kinds, at_least: B, of_several: mean}", "PK302", "a.kinds"),
        ("{limit: a.days, at_least: 2026-01-01, of_several: mean}", "PK302", "a.days"),
        ("{limit: a.pad, at_least: 3 mm, of_several: least}", "PK502", "least"),
        ("{limit: a.length, at_most: 3 mm, rounded: 1 mm}", "PK502", "1 mm"),
        ("{limit: a.length, at_most: 3 mm, rounded: {to: 1 mm, mode: nearest}}", "PK502", "nearest"),
        ("{limit: a.length, at_most: 3 mm, rounded: {to: 0 mm, mode: up}}", "PK503", "0 mm"),
        ("{limit: a.length, at_most: 3 mm, rounded: {to: 1 kg, mode: up}}", "PK301", "1 kg"),
        ("{limit: a.length, at_most: 3 mm, rounded: {to: 1 mm, mode: up, by: me}}", "PK101", "by"),
        ("{limit: a.grade, at_least: B, rounded: {to: 1, mode: up}}", "PK302", "rounded"),
        ("{limit: a.length, at_moast: 3 mm}", "PK101", "at_moast"),
        ("{limit: cap2(a.sort), at_most: 3 mm}", "PK201", "cap2"),
        ("{limit: band(a.sort), at_most: 3 mm}", "PK302", "band(a.sort)"),
    ],
)
def test_mistakes_are_told_at_their_place(check: str, code: str, text: str) -> None:
    found = problems(check, FACTS, MORE)
    assert found[0].code == code
    span = found[0].span
    assert span is not None
    assert span.source_line[span.column - 1 : span.end_column - 1] == text


def test_the_nearest_word_is_named() -> None:
    (found,) = problems("{limit: a.place, exactly: fornt}", FACTS)
    assert "front" in found.hint


def test_a_limit_says_itself_in_words() -> None:
    pack = pack_of("{limit: a.length, at_least: 1 mm, below: a.width, rounded: {to: 1 mm, mode: up}}", FACTS)
    said = pack.clauses["1"].check.sentence()
    assert said == "a.length at least 1 mm and below a.width, rounded up to 1 mm"
