"""Combinations: how outcomes, margins and acts of branches become one, and which branch is shown."""

from __future__ import annotations

from typing import Any

import pytest

from checker.report.words.acts import act_words
from checker.report.words.findings import found_words
from tests.examples import each_row
from tests.kinds.workbench import codes, judge, problems, shown

FACTS = """{
  a.one: {unit: mm}, a.two: {unit: mm}, a.kilos: {unit: kg}, a.worn: {type: truth}, a.fit: {type: truth}, a.good: {type: truth},
  a.count: {type: count}, a.grade: {grades: [C, B, A]}, a.until: {type: date}, a.metal: {type: material}, a.big: {unit: m},
  a.word: {one_of: [x, y]}, a.cost: {unit: GBP}
}"""
MORE = "{materials: {steel: [], light metal: [aluminium], wood: []}, categories: [x]}"

ONE = "{limit: a.one, at_least: 10 mm}"
TWO = "{limit: a.two, at_least: 20 mm}"
KILOS = "{limit: a.kilos, at_most: 100 kg}"
WORN = "{holds: a.worn}"
GOOD = "{holds: a.good}"
FIT = "{holds: a.fit}"


def told(check: str, **car: Any) -> tuple[str, str | None]:
    return shown(judge(check, {"a": car}, FACTS, MORE))


def branches(key: str, *checks: str) -> str:
    return f"{{{key}: [{', '.join(checks)}]}}"


def counted(key: str, count: int, *checks: str) -> str:
    return f"{{{key}: {{count: {count}, of: [{', '.join(checks)}]}}}}"


@each_row(
    ("checks", "car", "expected"),
    [
        ((ONE, TWO), {"one": "11 mm", "two": "25 mm"}, ("pass", "+1 mm")),
        ((ONE, TWO), {"one": "9 mm", "two": "25 mm"}, ("fail", "-1 mm")),
        ((ONE, TWO), {"one": "9 mm", "two": "15 mm"}, ("fail", "-5 mm")),
        ((ONE, TWO), {"one": "9 mm"}, ("fail", "-1 mm")),
        ((ONE, TWO), {"one": "11 mm"}, ("not_shown", None)),
        # of one dimension: by margin, in whatever unit each is shown
        ((ONE, "{limit: a.big, at_least: 1 m}"), {"one": "13 mm", "big": "1.002 m"}, ("pass", "+0.002 m")),
        # mixed: by margin over the size of the bound
        ((ONE, KILOS), {"one": "12 mm", "kilos": "85 kg"}, ("pass", "+15 kg")),
        ((ONE, KILOS), {"one": "11 mm", "kilos": "85 kg"}, ("pass", "+1 mm")),
        (
            (ONE, "{limit: a.kilos, at_least: 90 kg, at_most: 100 kg}"),
            {"one": "12.1 mm", "kilos": "98 kg"},
            ("pass", "+2 kg"),
        ),
        (
            (ONE, "{limit: a.kilos, at_least: 90 kg, at_most: 100 kg}"),
            {"one": "10.1 mm", "kilos": "98 kg"},
            ("pass", "+0.1 mm"),
        ),
        ((ONE, "{valid: a.until}"), {"one": "11 mm", "until": "2026-05-13"}, ("pass", "+10 days")),
        ((ONE, "{valid: a.until}"), {"one": "10.2 mm", "until": "2026-05-13"}, ("pass", "+0.2 mm")),
        ((ONE, "{limit: a.grade, at_least: C}"), {"one": "11 mm", "grade": "A"}, ("pass", "+1 mm")),
        ((ONE, "{limit: a.kilos, at_least: 0 kg}"), {"one": "12 mm", "kilos": "0.1 kg"}, ("pass", "+0.1 kg")),
        # a margin of 0 that says nothing never hides another
        ((ONE, "{limit: a.word, exactly: x}"), {"one": "12 mm", "word": "x"}, ("pass", "+2 mm")),
        ((ONE, "{allowed: [steel], of: a.metal}"), {"one": "12 mm", "metal": "steel"}, ("pass", "+2 mm")),
        (
            (ONE, TWO, "{limit: a.word, exactly: x}"),
            {"one": "12 mm", "two": "21 mm", "word": "x"},
            ("pass", "+1 mm"),
        ),
        ((WORN, ONE), {"one": "12 mm", "worn": True}, ("pass", "+2 mm")),
        (("{limit: a.word, exactly: x}", WORN), {"worn": True, "word": "x"}, ("pass", "0")),
        ((WORN, GOOD), {"worn": True, "good": True}, ("pass", None)),
        ((WORN, ONE), {"one": "12 mm", "worn": False}, ("fail", None)),
        # not applicable drops out
        (
            (ONE, "{when: a.worn, limit: a.two, at_least: 20 mm}"),
            {"one": "11 mm", "worn": False},
            ("pass", "+1 mm"),
        ),
        (("{when: a.worn, limit: a.two, at_least: 20 mm}",), {"worn": False}, ("not_applicable", None)),
        (
            ("{when: a.worn, limit: a.two, at_least: 20 mm}", ONE),
            {"two": "25 mm", "one": "11 mm"},
            ("pass", "+1 mm"),
        ),
        (
            ("{when: a.worn, limit: a.two, at_least: 20 mm}", ONE),
            {"two": "15 mm", "one": "11 mm"},
            ("not_shown", None),
        ),
    ],
)
def test_all_of(checks: tuple[str, ...], car: dict[str, Any], expected: tuple[str, str | None]) -> None:
    assert told(branches("all_of", *checks), **car) == expected


STEEL = "{when: a.metal in 'steel', limit: a.one, at_least: 2 mm}"
LIGHT = "{when: a.metal in 'light metal', limit: a.one, at_least: 4 mm}"


@each_row(
    ("checks", "car", "expected"),
    [
        ((ONE, TWO), {"one": "9 mm", "two": "22 mm"}, ("pass", "+2 mm")),
        ((ONE, TWO), {"one": "13 mm", "two": "22 mm"}, ("pass", "+3 mm")),
        ((ONE, TWO), {"one": "9 mm", "two": "15 mm"}, ("fail", "-1 mm")),
        ((ONE, TWO), {"one": "13 mm"}, ("pass", "+3 mm")),
        ((ONE, TWO), {"one": "9 mm"}, ("not_shown", None)),
        ((ONE, KILOS), {"one": "11 mm", "kilos": "80 kg"}, ("pass", "+20 kg")),
        ((ONE, KILOS), {"one": "9 mm", "kilos": "120 kg"}, ("fail", "-1 mm")),
        ((ONE, WORN), {"one": "9 mm", "worn": False}, ("fail", "-1 mm")),
        ((ONE, WORN), {"one": "9 mm", "worn": True}, ("pass", None)),
        ((STEEL, LIGHT), {"metal": "steel", "one": "3 mm"}, ("pass", "+1 mm")),
        ((STEEL, LIGHT), {"metal": "aluminium", "one": "3 mm"}, ("fail", "-1 mm")),
        ((STEEL, LIGHT), {"metal": "wood", "one": "9 mm"}, ("fail", None)),  # no way is open
        # a way that may be closed to the car does not make it pass
        ((STEEL, LIGHT), {"one": "9 mm"}, ("not_shown", None)),
        ((STEEL, LIGHT), {"metal": "unheard of", "one": "9 mm"}, ("not_shown", None)),
        ((STEEL, KILOS), {"one": "9 mm", "kilos": "90 kg"}, ("pass", "+10 kg")),
        (
            (STEEL, "{all_of: [" + ONE + ", " + TWO + "]}"),
            {"one": "12 mm", "two": "21 mm"},
            ("pass", "+1 mm"),
        ),
    ],
)
def test_any_of(checks: tuple[str, ...], car: dict[str, Any], expected: tuple[str, str | None]) -> None:
    assert told(branches("any_of", *checks), **car) == expected


@pytest.mark.parametrize("days", ["event.date - a.until", "event.date - a.until + 0 days"])
def test_margins_in_days_are_ranked_by_a_year(days: str) -> None:
    ways = branches("any_of", f"{{limit: {days}, at_most: 10 days}}", KILOS)
    assert told(ways, until="2026-04-20", kilos="105 kg") == (
        "fail",
        "-3 days",
    )  # 3/365, not 3/10, against 5/100
    assert told(ways, until="2026-04-20", kilos="100.1 kg") == ("fail", "-0.1 kg")


@pytest.mark.parametrize(
    ("fit", "expected"),
    [(True, ("pass", "+0.2 mm")), (False, ("pass", "+0.188 in"))],
)
def test_a_margin_is_not_shown_in_the_unit_of_a_side_that_is_not_taken(
    fit: bool, expected: tuple[str, str | None]
) -> None:
    check = "{limit: a.one, at_most: a.two if a.fit else 12 in}"
    assert told(check, one="300 mm", two="300.2 mm", fit=fit) == expected


def test_the_nearest_ways_act_comes_first_and_the_others_as_or() -> None:
    found = judge(branches("any_of", TWO, ONE), {"a": {"one": "9 mm", "two": "15 mm"}}, FACTS)
    assert act_words(found.act) == "raise one by 1 mm, or raise two by 5 mm"
    found = judge(branches("any_of", STEEL, LIGHT), {"a": {"one": "9 mm", "metal": "wood"}}, FACTS, MORE)
    assert found_words(found.finding) == (
        "none of the ways is open to this car: wood in 'steel' is false; wood in 'light metal' is false"
    )


@each_row(
    ("count", "checks", "car", "expected"),
    [
        (2, (ONE, TWO, KILOS), {"one": "12 mm", "two": "21 mm", "kilos": "120 kg"}, ("pass", "+1 mm")),
        (1, (ONE, TWO), {"one": "12 mm", "two": "21 mm"}, ("pass", "+2 mm")),
        (2, (ONE, TWO), {"one": "12 mm", "two": "15 mm"}, ("fail", "-5 mm")),
        (
            2,
            (ONE, TWO, "{limit: a.big, at_least: 1 m}"),
            {"one": "8 mm", "two": "19 mm", "big": "0.5 m"},
            ("fail", "-2 mm"),
        ),
        (2, (ONE, TWO, WORN), {"one": "12 mm", "two": "15 mm", "worn": False}, ("fail", "-5 mm")),
        (2, (ONE, TWO, WORN), {"one": "12 mm", "two": "21 mm"}, ("pass", "+1 mm")),
        (2, (ONE, TWO, WORN), {"one": "12 mm", "two": "15 mm"}, ("not_shown", None)),
        (2, (ONE, TWO, WORN), {"one": "9 mm", "two": "15 mm"}, ("fail", "-5 mm")),
        (
            2,
            (ONE, "{when: a.worn, limit: a.two, at_least: 20 mm}"),
            {"one": "12 mm", "worn": False},
            ("fail", None),
        ),
        (
            1,
            (ONE, "{when: a.worn, limit: a.two, at_least: 20 mm}"),
            {"one": "12 mm", "worn": False},
            ("pass", "+2 mm"),
        ),
        (0, (ONE,), {"one": "9 mm"}, ("pass", None)),
        (1, (STEEL, LIGHT), {"one": "9 mm"}, ("not_shown", None)),
    ],
)
def test_at_least_of(
    count: int, checks: tuple[str, ...], car: dict[str, Any], expected: tuple[str, str | None]
) -> None:
    assert told(counted("at_least_of", count, *checks), **car) == expected


@each_row(
    ("count", "car", "expected"),
    [
        (1, {"worn": True, "fit": True, "good": False}, ("fail", "-1")),
        (1, {"worn": True, "fit": False, "good": False}, ("pass", "0")),
        (2, {"worn": True, "fit": False, "good": False}, ("pass", "+1")),
        (1, {"worn": True, "fit": False}, ("not_shown", None)),
        (1, {"worn": True, "fit": True}, ("fail", "-1")),
        (2, {"worn": True, "fit": False}, ("pass", "+1")),
        (0, {"worn": False, "fit": False, "good": False}, ("pass", "0")),
    ],
)
def test_at_most_of(count: int, car: dict[str, Any], expected: tuple[str, str | None]) -> None:
    assert told(counted("at_most_of", count, WORN, FIT, GOOD), **car) == expected


@each_row(
    ("checks", "car", "expected"),
    [
        ((WORN, FIT), {"worn": False, "fit": False}, ("pass", "0")),
        ((WORN, FIT), {"worn": True, "fit": True}, ("fail", "-2")),
        ((WORN, FIT), {"worn": False}, ("not_shown", None)),
        ((WORN, FIT), {"worn": True}, ("fail", "-1")),
        ((WORN, "{when: a.fit, holds: a.good}"), {"worn": False, "fit": False}, ("pass", "0")),
        # whether it applies is not known: it may or may not be met
        (("{when: a.fit, holds: a.good}",), {"good": True}, ("not_shown", None)),
        ((ONE,), {"one": "10 mm"}, ("fail", "-1")),
    ],
)
def test_none_of(checks: tuple[str, ...], car: dict[str, Any], expected: tuple[str, str | None]) -> None:
    assert told(branches("none_of", *checks), **car) == expected


def test_combinations_go_to_any_depth() -> None:
    check = branches(
        "all_of", branches("any_of", branches("none_of", WORN), branches("all_of", ONE, TWO)), KILOS
    )
    assert told(check, worn=True, one="12 mm", two="21 mm", kilos="80 kg") == ("pass", "+1 mm")
    assert told(check, worn=False, kilos="80 kg") == ("pass", "0")
    assert told(check, worn=True, one="12 mm", two="18 mm", kilos="120 kg") == ("fail", "-20 kg")


def test_guards_stand_at_every_level() -> None:
    inner = "{unless: a.good, all_of: [{when: a.fit, limit: a.one, at_least: 10 mm}, " + TWO + "]}"
    check = "{when: a.worn, any_of: [" + inner + ", " + KILOS + "]}"
    assert told(check, worn=False) == ("not_applicable", None)
    assert told(check, worn=True, good=True, kilos="90 kg") == ("pass", "+10 kg")
    assert told(check, worn=True, good=True, kilos="120 kg") == ("fail", "-20 kg")
    assert told(check, worn=True, good=False, fit=False, two="21 mm", kilos="120 kg") == ("pass", "+1 mm")
    assert told(check, worn=True, good=False, two="21 mm", one="1 mm", kilos="120 kg") == ("not_shown", None)
    assert told(check, good=True, kilos="90 kg") == ("pass", "+10 kg")
    assert told(check, good=True, kilos="120 kg") == ("not_shown", None)


def test_a_let_holds_for_the_branches() -> None:
    check = "{let: {twice: 2 * a.one}, all_of: [{limit: twice, at_most: 20 mm}, {let: {more: twice + 1 mm}, limit: more, at_least: 9 mm}]}"
    assert told(check, one="10 mm") == ("pass", "0 mm")
    assert told(check, one="3.5 mm") == ("fail", "-1 mm")


@each_row(
    ("check", "code", "text"),
    [
        ("{all_of: []}", "PK501", "[]"),
        ("{all_of: {limit: a.one}}", "PK501", "{limit: a.one}"),
        ("{all_of: [3]}", "PK501", "3"),
        ("{any_of: [{all_of: [{limit: a.one, at_least: 1 kg}]}]}", "PK301", "1 kg"),
        ("{at_least_of: [{holds: a.worn}]}", "PK501", "[{holds: a.worn}]"),
        ("{at_least_of: {count: 1}}", "PK501", "{count: 1}"),
        ("{at_least_of: {count: 2, of: [{holds: a.worn}]}}", "PK503", "2"),
        ("{at_least_of: {count: -1, of: [{holds: a.worn}]}}", "PK302", "-1"),
        ("{at_least_of: {count: 1.5, of: [{holds: a.worn}]}}", "PK302", "1.5"),
        ("{at_most_of: {count: 1, off: [{holds: a.worn}]}}", "PK101", "off"),
        ("{holds: a.worn, limit: a.one, at_least: 1 mm}", "PK501", "limit"),
        ("{hold: a.worn}", "PK501", "{hold: a.worn}"),
        ("{}", "PK501", "{}"),
        ("3", "PK501", "3"),
        ("{holds: a.one}", "PK303", "a.one"),
        ("{holds: a.worn, acts: x}", "PK101", "acts"),
        ("{holds: a.worn, when: a.one}", "PK303", "a.one"),
    ],
)
def test_mistakes_are_told_at_their_place(check: str, code: str, text: str) -> None:
    found = problems(check, FACTS, MORE)
    assert found[0].code == code
    span = found[0].span
    assert span is not None
    assert span.source_line[span.column - 1 : span.end_column - 1] == text


def test_every_mistake_of_a_pack_is_told_at_once() -> None:
    check = "{all_of: [{limit: a.uno, at_least: 1 mm}, {limit: a.two, at_least: 1 kg}, {holds: a.kilos}]}"
    assert codes(check, FACTS) == ["PK201", "PK301", "PK303"]


def test_a_comma_inside_brackets_is_explained() -> None:
    found = problems("{limit: min(a.one, a.two), at_least: 1 mm}", FACTS)
    assert any("quotes" in problem.hint for problem in found)
