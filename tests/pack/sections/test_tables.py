"""Tables: every edge, words, `any`, `no limit`, several keys and columns, and what is wrong with one."""

from __future__ import annotations

from typing import Any

import pytest

from tests.examples import each_row, quick_first
from tests.kinds.workbench import judge, pack_of, problems, shown

FACTS = """{
  e.cc: {unit: cc}, e.sort: {one_of: [steam, petrol, '4']}, e.wide: {type: truth}, e.count: {type: count},
  e.made: {type: date}, e.temp: {unit: degC}, e.out: {unit: kg}, e.grade: {grades: [C, B, A]}, e.note: {type: text}
}"""


def weight(rows: str, key: str = "e.cc", value: Any = "1300 cc") -> str | None:
    """The result, in kg, that a key finds; None where no row is found."""
    section, name = key.split(".")
    found = judge(
        f"{{limit: t({key}), at_least: 0 kg}}",
        {section: {name: value}},
        FACTS,
        f"{{tables: {{t: {{by: [k], rows: [{rows}]}}}}}}",
    )
    return shown(found)[1]


UP_TO = "{k: up to 1300 cc, value: 1 kg}, {k: up to 1600 cc, value: 2 kg}, {k: above 1600 cc, value: 3 kg}"
BELOW = "{k: below 1300 cc, value: 1 kg}, {k: below 1600 cc, value: 2 kg}, {k: from 1600 cc, value: 3 kg}"
BOTH = "{k: up to 1300 cc, value: 1 kg}, {k: above 1300 cc up to 1600 cc, value: 2 kg}, {k: above 1600 cc, value: 3 kg}"
MIXED = "{k: below 1300 cc, value: 1 kg}, {k: from 1300 cc up to 1600 cc, value: 2 kg}"


@each_row(
    ("rows", "value", "found"),
    [
        (UP_TO, "1299 cc", "+1 kg"),
        (UP_TO, "1300 cc", "+1 kg"),
        (UP_TO, "1300.1 cc", "+2 kg"),
        (UP_TO, "1.6 L", "+2 kg"),
        (UP_TO, "1601 cc", "+3 kg"),
        (BELOW, "1299.9 cc", "+1 kg"),
        (BELOW, "1300 cc", "+2 kg"),
        (BELOW, "1600 cc", "+3 kg"),
        (BOTH, "1300 cc", "+1 kg"),
        (BOTH, "1600 cc", "+2 kg"),
        (BOTH, "1600.1 cc", "+3 kg"),
        (MIXED, "1300 cc", "+2 kg"),
        (MIXED, "1600 cc", "+2 kg"),
        (MIXED, "1601 cc", None),
        ("{k: 1300 cc, value: 1 kg}, {k: [1400 cc, 1500 cc], value: 2 kg}", "1.5 L", "+2 kg"),
        ("{k: 1300 cc, value: 1 kg}, {k: [1400 cc, 1500 cc], value: 2 kg}", "1301 cc", None),
        ("{k: 1300 cc, value: 1 kg}, {k: any, value: 2 kg}", "1301 cc", "+2 kg"),
        ("{k: any, value: 2 kg}, {k: 1300 cc, value: 1 kg}", "1300 cc", "+2 kg"),  # the first that applies
        ("{k: up  to 1300 cc, value: 1 kg}, {k: above 1.3 L, value: 3 kg}", "1300 cc", "+1 kg"),
    ],
)
def test_who_owns_an_edge(rows: str, value: str, found: str | None) -> None:
    assert weight(rows, value=value) == found


@each_row(
    ("rows", "key", "value", "found"),
    [
        (
            "{k: before 2024-01-01, value: 1 kg}, {k: from 2024-01-01, value: 2 kg}",
            "e.made",
            "2023-12-31",
            "+1 kg",
        ),
        (
            "{k: before 2024-01-01, value: 1 kg}, {k: from 2024-01-01, value: 2 kg}",
            "e.made",
            "2024-01-01",
            "+2 kg",
        ),
        (
            "{k: up to 2024-01-01, value: 1 kg}, {k: above 2024-01-01, value: 2 kg}",
            "e.made",
            "2024-01-01",
            "+1 kg",
        ),
        ("{k: below -5 degC, value: 1 kg}, {k: from -5 degC, value: 2 kg}", "e.temp", "-5 degC", "+2 kg"),
        ("{k: 2, value: 1 kg}, {k: from 3, value: 2 kg}", "e.count", 3, "+2 kg"),
        ("{k: true, value: 1 kg}, {k: false, value: 2 kg}", "e.wide", False, "+2 kg"),
        ("{k: STEAM, value: 1 kg}, {k: any, value: 2 kg}", "e.sort", "steam", "+1 kg"),
        ("{k: [steam, petrol], value: 1 kg}, {k: '4', value: 2 kg}", "e.sort", "4", "+2 kg"),
        ("{k: [A, B], value: 1 kg}, {k: C, value: 2 kg}", "e.grade", "B", "+1 kg"),
        ("{k: from the list, value: 1 kg}, {k: below deck, value: 2 kg}", "e.note", "Below deck", "+2 kg"),
        ("{k: '12 horses', value: 1 kg}, {k: any, value: 2 kg}", "e.note", "12 horses", "+1 kg"),
        # the first cell that tells what its column holds makes words of the others, whatever they look like
        ("{k: 8855-1999, value: 1 kg}, {k: none, value: 2 kg}", "e.note", "8855-1999", "+1 kg"),
        ("{k: open, value: 1 kg}, {k: 1 in open, value: 2 kg}", "e.note", "1 in open", "+2 kg"),
        ("{k: open, value: 1 kg}, {k: 1 in, value: 2 kg}", "e.note", "1 in", "+2 kg"),
        ("{k: '12/04', value: 1 kg}, {k: 12/03, value: 2 kg}", "e.note", "12/03", "+2 kg"),
        ("{k: [2 x 45, open], value: 1 kg}, {k: 2026-03-01, value: 2 kg}", "e.note", "2026-03-01", "+2 kg"),
        ("{k: plain, value: 1 kg}, {k: 3.10, value: 2 kg}", "e.note", "3.10", "+2 kg"),
        ("{k: plain, value: 1 kg}, {k: up to 5 kg, value: 2 kg}", "e.note", "up to 5 kg", "+2 kg"),
    ],
)
def test_keys_of_every_kind(rows: str, key: str, value: Any, found: str | None) -> None:
    assert weight(rows, key, value) == found


def test_an_unknown_key_makes_the_result_unknown_also_beside_any() -> None:
    more = "{tables: {t: {by: [k], rows: [{k: any, value: 2 kg}]}}}"
    found = judge("{limit: t(e.cc), at_least: 0 kg}", {}, FACTS, more)
    assert found.unknown.absent == ("e.cc",)


def test_a_key_that_no_row_matches_is_told() -> None:
    more = "{tables: {t: {by: [k], rows: [{k: up to 900 cc, value: 2 kg}]}}}"
    found = judge("{limit: t(e.cc), at_least: 0 kg}", {"e": {"cc": "1000 cc"}}, FACTS, more)
    assert found.outcome == "not_shown"
    assert found.unknown.told() == ("table t has no row for k 1000 cc",)


TWO = """{tables: {t: {by: [cc, sort], rows: [
  {cc: up to 900 cc, sort: steam, width: 1 mm, makers: [Alder, Brock], most: no limit},
  {cc: up to 1300 cc, sort: steam, width: 2 mm, makers: [Alder], most: 5 kg},
  {cc: up to 900 cc, sort: petrol, width: 3 mm, makers: [], most: 6 kg},
  {cc: up to 1300 cc, sort: petrol, width: 4 mm, makers: [Cole], most: 7 kg},
  {cc: any, sort: any, width: 5 mm, makers: [Dunn], most: 8 kg}]}}}"""


@each_row(
    ("cc", "sort", "width"),
    [
        ("900 cc", "steam", "+1 mm"),
        ("901 cc", "steam", "+2 mm"),
        ("900 cc", "petrol", "+3 mm"),
        ("901 cc", "petrol", "+4 mm"),
        ("1301 cc", "petrol", "+5 mm"),
        ("5 cc", "4", "+5 mm"),
    ],
)
def test_bands_begin_where_the_row_with_the_same_other_keys_ends(cc: str, sort: str, width: str) -> None:
    car = {"e": {"cc": cc, "sort": sort}}
    assert shown(judge('{limit: "t(e.cc, e.sort).width", at_least: 0 mm}', car, FACTS, TWO))[1] == width


def test_bands_of_two_keys_are_read_by_row() -> None:
    more = """{tables: {t: {by: [cc, out], rows: [
      {cc: up to 900 cc, out: up to 5 kg, value: 1 mm}, {cc: up to 900 cc, out: up to 9 kg, value: 2 mm},
      {cc: up to 1300 cc, out: up to 5 kg, value: 3 mm}, {cc: up to 1300 cc, out: up to 9 kg, value: 4 mm}]}}}"""
    rows = [("900 cc", "5 kg", 1), ("900 cc", "6 kg", 2), ("901 cc", "5 kg", 3), ("1300 cc", "9 kg", 4)]
    for cc, out, value in rows:
        found = judge('{limit: "t(e.cc, e.out)", at_least: 0 mm}', {"e": {"cc": cc, "out": out}}, FACTS, more)
        assert shown(found)[1] == f"+{value} mm"


def test_columns_serve_as_limit_as_set_and_as_key_of_the_next_table() -> None:
    car = {"e": {"cc": "901 cc", "sort": "steam", "note": "alder", "out": "5 kg"}}
    assert shown(judge('{limit: e.out, at_most: "t(e.cc, e.sort).most"}', car, FACTS, TWO)) == (
        "pass",
        "0 kg",
    )
    assert shown(judge('{allowed: "t(e.cc, e.sort).makers", of: e.note}', car, FACTS, TWO)) == ("pass", "0")
    assert shown(judge('{holds: "e.note in t(e.cc, e.sort).makers"}', car, FACTS, TWO)) == ("pass", None)
    next_table = """{tables: {group: {by: k, rows: [{k: steam, value: old}, {k: any, value: new}]},
      rate: {by: g, rows: [{g: old, value: 1 kg}, {g: new, value: 2 kg}]}}}"""
    assert shown(judge("{limit: rate(group(e.sort)), at_most: 5 kg}", car, FACTS, next_table)) == (
        "pass",
        "+4 kg",
    )


def test_a_gap_between_bands_may_be_filled_by_a_row_with_any() -> None:
    more = """{tables: {t: {by: [cc, sort], rows: [{cc: up to 900 cc, sort: steam, value: 1 kg},
      {cc: above 1300 cc, sort: steam, value: 2 kg}, {cc: any, sort: any, value: 3 kg}]}}}"""
    assert problems('{limit: "t(e.cc, e.sort)", at_least: 0 kg}', FACTS, more) == ()


@each_row(
    ("rows", "code", "text"),
    [
        (
            "{k: up to 900 cc, value: 1 kg}, {k: above 1000 cc, value: 2 kg}",
            "PK401",
            "{k: above 1000 cc, value: 2 kg}",
        ),
        (
            "{k: below 900 cc, value: 1 kg}, {k: above 900 cc, value: 2 kg}",
            "PK401",
            "{k: above 900 cc, value: 2 kg}",
        ),
        (
            "{k: up to 900 cc, value: 1 kg}, {k: from 900 cc, value: 2 kg}",
            "PK402",
            "{k: from 900 cc, value: 2 kg}",
        ),
        (
            "{k: up to 900 cc, value: 1 kg}, {k: above 800 cc, value: 2 kg}",
            "PK402",
            "{k: above 800 cc, value: 2 kg}",
        ),
        (
            "{k: up to 900 cc, value: 1 kg}, {k: up to 800 cc, value: 2 kg}",
            "PK402",
            "{k: up to 800 cc, value: 2 kg}",
        ),
        (
            "{k: up to 900 cc, value: 1 kg}, {k: up to 900 cc, value: 2 kg}",
            "PK402",
            "{k: up to 900 cc, value: 2 kg}",
        ),
        ("{k: up to 900 cc, value: 1 kg}, {k: 850 cc, value: 2 kg}", "PK402", "{k: 850 cc, value: 2 kg}"),
        (
            "{k: 900 cc, value: 1 kg}, {k: [800 cc, 0.9 L], value: 2 kg}",
            "PK402",
            "{k: [800 cc, 0.9 L], value: 2 kg}",
        ),
        ("{k: up to 900 cc, value: 1 kg}, {k: above 900 cc, value: 2 mm}", "PK403", "2 mm"),
        ("{k: up to 900 cc, value: 1 kg}, {k: above 900 cc, value: [1 kg]}", "PK403", "[1 kg]"),
        ("{k: up to 900 cc, value: 1 kg}, {k: steam, value: 1 kg}", "PK403", "steam"),
        ("{k: up to 900 cc, value: 1 kg}, {k: [1 kg, 2 cc], value: 1 kg}", "PK403", "[1 kg, 2 cc]"),
        ("{k: 1 in, value: 1 kg}, {k: 1 in open, value: 1 kg}", "PK103", "1 in open"),
        ("{k: 8855-1999, value: 1 kg}, {k: any, value: 1 kg}", "PK103", "8855-1999"),
        ("{k: up to 900 cc, value: no limit}", "PK403", "{by: [k]"),
        ("{k: up to 900 cc, value: 1 kg}, {k: above 900 cc}", "PK405", "{k: above 900 cc}"),
        ("{k: up to 900 cc}", "PK405", "{k: up to 900 cc}"),
        ("{k: up to 900 cc, value: }", "PK405", ""),
        ("{k: up to 900 cc, value: 1 kg}, {k: above 900 cc, value: 1 kg, x: 2}", "PK101", "x"),
        ("{k: up to 900 cc, value: 1 kgs}", "PK104", "1 kgs"),
        ("{k: up to 900 ccs, value: 1 kg}", "PK104", "up to 900 ccs"),
        ("{k: above 900 cc up to 800 cc, value: 1 kg}", "PK503", "above 900 cc up to 800 cc"),
        ("{k: above 900 cc up to 800 kg, value: 1 kg}", "PK301", "above 900 cc up to 800 kg"),
        ("{k: up to 900 cc, value: 12 mm + 3 mm}", "PK103", "12 mm + 3 mm"),
        ("{k: up to 2026-02-30, value: 1 kg}", "PK106", "up to 2026-02-30"),
        ("12", "PK108", "12"),
    ],
)
def test_mistakes_are_told_at_their_place(rows: str, code: str, text: str) -> None:
    found = problems("{limit: e.cc, at_most: 5 cc}", FACTS, f"{{tables: {{t: {{by: [k], rows: [{rows}]}}}}}}")
    assert [p.code for p in found] == [code]
    span = found[0].span
    assert span is not None
    assert span.source_line[span.column - 1 : span.end_column - 1].startswith(text)


@pytest.mark.parametrize(
    ("rows", "other"),
    [
        ("{k: up to 900 cc, value: 580 kg}, {k: above 900 cc, value: 585}", "580 kg"),
        ("{k: up to 900 cc, value: no limit}, {k: 1 L, value: 580 kg}, {k: any, value: 2 mm}", "580 kg"),
        ("{k: up to 900 cc, value: [1 kg, 2 kg]}, {k: above 900 cc, value: 3}", "1 kg, 2 kg"),
        ("{k: up to 900 cc, value: 1 kg}, {k: above 900, value: 1 kg}", "up to 900 cc"),
    ],
)
def test_a_cell_of_another_kind_is_told_how_the_others_are_written(rows: str, other: str) -> None:
    found = problems("{limit: e.cc, at_most: 5 cc}", FACTS, f"{{tables: {{t: {{by: [k], rows: [{rows}]}}}}}}")
    assert [p.hint for p in found if p.code == "PK403"] == [f"write it as the others, such as {other}"]


WORDS = "{tables: {t: {by: [k], rows: [{k: steam, value: 1 kg}, {k: %s, value: 2 kg}]}}}"


@each_row(
    ("second", "key", "code", "text"),
    [
        ("petrol", "e.sort", "PK404", "e.sort"),
        ("[petrol, '4']", "e.sort", None, ""),
        ("any", "e.sort", None, ""),
        ("petrol", "e.note", None, ""),
        ("[petrol, '4', coal]", "e.sort", "PK204", "[petrol, '4', coal]"),
        ("any", "e.cc", "PK302", "e.cc"),
        ("any", "ballast", "PK304", "ballast"),
        ("any", "'steam' if e.wide else 'coal'", None, ""),
        ("any", "e.sort, e.sort", "PK305", "t(e.sort, e.sort)"),
    ],
)
def test_a_listed_word_that_no_row_covers_is_a_mistake(
    second: str, key: str, code: str | None, text: str
) -> None:
    found = problems(f'{{limit: "t({key})", at_least: 0 kg}}', FACTS, WORDS % second)
    assert [p.code for p in found] == ([] if code is None else [code])
    if found:
        span = found[0].span
        assert span is not None
        assert span.source_line[span.column - 1 : span.end_column - 1] == text


def test_truths_must_be_covered_too() -> None:
    more = "{tables: {t: {by: [k], rows: [{k: true, value: 1 kg}]}}}"
    assert [p.code for p in problems("{limit: t(e.wide), at_least: 0 kg}", FACTS, more)] == ["PK404"]


def test_a_table_as_the_rulebook_shows_it() -> None:
    table = pack_of('{limit: "t(e.cc, e.sort).width", at_least: 0 mm}', FACTS, TWO).tables["t"]
    assert table.keys == ("cc", "sort")
    assert table.columns == ("width", "makers", "most")
    first = {"cc": "up to 900 cc", "sort": "steam", "width": "1 mm", "makers": "Alder, Brock"}
    assert table.rows[0] == {**first, "most": "no limit"}


def test_overlapping_rows_point_at_each_other() -> None:
    more = "{tables: {t: {by: [k], rows: [{k: up to 9 cc, value: 1 kg}, {k: from 9 cc, value: 2 kg}]}}}"
    (found,) = problems("{limit: e.cc, at_most: 5 cc}", FACTS, more)
    assert "both own the edge" in found.message
    ((said, span),) = found.related
    assert said == "overlaps this row"
    assert span.column < (found.span.column if found.span else 0)


CURVE = "{k: 1000 cc, value: 10 kg}, {k: 2000 cc, value: 20 kg}, {k: 1500 cc, value: 12 kg}"


@each_row(
    ("value", "found"),
    [
        ("1000 cc", "+10 kg"),
        ("1250 cc", "+11 kg"),
        ("1.5 L", "+12 kg"),
        ("1500.5 cc", "+12.008 kg"),
        ("2000 cc", "+20 kg"),
        ("999 cc", None),
        ("2001 cc", None),
    ],
)
def test_between_rows_it_gives_what_lies_between_them(value: str, found: str | None) -> None:
    more = f"{{tables: {{t: {{by: [k], interpolate: linear, rows: [{CURVE}]}}}}}}"
    judged = judge("{limit: t(e.cc), at_least: 0 kg}", {"e": {"cc": value}}, FACTS, more)
    assert judged.outcome == ("not_shown" if found is None else "pass")
    amount = judged.margin
    assert (None if amount is None else f"+{float(amount.value):g} kg") == found


def test_other_keys_choose_the_rows_between_which_it_lies() -> None:
    rows = (
        "{s: steam, k: 0 cc, v: 1 kg, w: 5 %}, {s: steam, k: 10 cc, v: 3 kg, w: 7 %},"
        " {s: any, k: 0 cc, v: 10 kg, w: 0 %}, {s: any, k: 10 cc, v: 30 kg, w: 1 %}"
    )
    more = f"{{tables: {{t: {{by: [s, k], interpolate: linear, rows: [{rows}]}}}}}}"
    for sort, margin in (("steam", "+2 kg"), ("petrol", "+20 kg")):
        car = {"e": {"cc": "5 cc", "sort": sort}}
        assert shown(judge('{limit: "t(e.sort, e.cc).v", at_least: 0 kg}', car, FACTS, more))[1] == margin


def test_what_is_measured_is_uncertain_between_rows_by_their_slope() -> None:
    more = f"{{tables: {{t: {{by: [k], interpolate: linear, rows: [{CURVE}]}}}}}}"
    car = {"e": {"cc": {"value": "1750 cc", "uncertainty": "10 cc"}}}
    found = judge("{limit: t(e.cc), at_least: 0 kg}", car, FACTS, more)
    assert found.spread is not None
    assert float(found.spread.variance) == pytest.approx((10 * 8 / 500) ** 2)


@pytest.mark.parametrize(
    ("rows", "how", "code", "text"),
    [
        (CURVE, "cubic", "PK108", "cubic"),
        ("{k: up to 5 cc, value: 1 kg}, {k: above 5 cc, value: 1 kg}", "linear", "PK403", "up to 5 cc"),
        ("{k: [1 cc, 2 cc], value: 1 kg}", "linear", "PK403", "[1 cc, 2 cc]"),
        ("{k: 1 cc, value: 1 kg}, {k: 2 cc, value: no limit}", "linear", "PK403", "no limit"),
        ("{k: 1 cc, value: 1 kg}, {k: 1 cc, value: 2 kg}", "linear", "PK402", "{k: 1 cc, value: 2 kg}"),
    ],
)
def test_what_has_nothing_between_its_rows(rows: str, how: str, code: str, text: str) -> None:
    more = f"{{tables: {{t: {{by: [k], interpolate: {how}, rows: [{rows}]}}}}}}"
    found = problems("{limit: t(e.cc), at_least: 0 kg}", FACTS, more)
    assert found[0].code == code
    span = found[0].span
    assert span is not None
    assert span.source_line[span.column - 1 : span.end_column - 1].startswith(text)


@pytest.mark.parametrize("count", quick_first([501, 500], 1))
def test_a_table_is_bounded_and_the_number_is_told(count: int) -> None:
    rows = ", ".join(f"{{k: up to {i} cc, value: {i} kg}}" for i in range(1, count + 1))
    found = problems(
        "{limit: t(e.cc), at_least: 0 kg}", FACTS, f"{{tables: {{t: {{by: [k], rows: [{rows}]}}}}}}"
    )
    told = [(one.code, one.message) for one in found if not one.warning]
    assert told == ([("PK117", "table t has 501 rows; at most 500 are read")] if count > 500 else [])
