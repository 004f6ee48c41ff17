from __future__ import annotations

from contextlib import suppress
from datetime import datetime
from encodings import aliases

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.meeting.tables.table import (
    COMMA,
    MOST_ROWS,
    POINT,
    TextTable,
    known_encoding,
    read_moment,
    read_number,
    read_table,
)
from checker.reading.problems import InputError, Span
from tests.examples import each_row

HERE = Span("t.csv", 2, 1, 2, 5, "line")


def table(text: str | bytes, **more: str) -> TextTable:
    return read_table(text if isinstance(text, bytes) else text.encode(), "t.csv", **more)


def problems(text: str | bytes, **more: str) -> list[tuple[str, int, int]]:
    with pytest.raises(InputError) as error:
        table(text, **more)
    return [
        (p.code, p.span.line if p.span else 0, p.span.column if p.span else 0) for p in error.value.problems
    ]


@each_row(
    "text",
    [
        "car;load\n7;158,5\n",
        "car,load\r\n7,158.5\r\n",
        "car\tload\n7\t158,5",
        b"\xef\xbb\xbfcar;load\r\n7;158,5\r\n",
        "sep=;\ncar;load\n7;158,5\n",
        'car;load\n"7";"158,5"\n\n;\n',
    ],
)
def test_every_common_spelling_of_one_table_is_read(text: str | bytes) -> None:
    found = table(text)
    assert found.heading == ("car", "load")
    assert [[cell.replace(".", ",") for cell in row.cells] for row in found.rows] == [["7", "158,5"]]


def test_a_single_column_needs_no_separator() -> None:
    assert table("car\n7\n8\n").rows[1].cells == ("8",)


def test_columns_are_found_by_heading_in_any_order_and_case() -> None:
    found = table("Load KG;Car  No\n158;7\n")
    assert found.columns({"car": "car no", "load": "load kg"}) == {"car": 1, "load": 0}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("no;load\n7;1\n", "there is no column 'car' for number"),
        ("car;car;load\n7;7;1\n", "two columns are headed 'car'"),
    ],
)
def test_a_column_that_is_missing_or_doubled_is_told(text: str, message: str) -> None:
    with pytest.raises(InputError) as error:
        table(text).columns({"number": "car", "load": "load"}, needed=("number",))
    (problem,) = error.value.problems
    assert (problem.code, problem.message) == ("MT303", message)


def test_a_column_that_nobody_knows_is_told_where_all_are_to_be_known() -> None:
    with pytest.raises(InputError) as error:
        table("car;lod\n7;1\n").columns({"car": "car", "load": "load"}, closed=True)
    assert error.value.problems[0].hint == "Did you mean 'load'?"


@each_row(
    ("text", "code"),
    [
        ("", "MT302"),
        ("\n\n", "MT302"),
        ("car;load\n", "MT302"),
        ("car;load\n;;\n", "MT302"),
        ("car\n" + "7\n" * (MOST_ROWS + 1), "MT302"),
        (b"PK\x03\x04rest", "MT301"),
        (b"\xd0\xcf\x11\xe0rest", "MT301"),
        (b"\xff\xfec\0a\0r\0", "MT301"),
        (b"car\n\xfc\n", "MT301"),
        ('car;load\n7;"158\n', "MT306"),
    ],
)
def test_what_is_no_table_is_told(text: str | bytes, code: str) -> None:
    assert problems(text)[0][0] == code


def test_bytes_of_another_encoding_are_told_with_their_line_and_read_when_it_is_stated() -> None:
    data = "car;gr\u00f6sse\n7;1\n".encode("windows-1252")
    with pytest.raises(InputError) as error:
        table(data)
    problem = error.value.problems[0]
    assert problem.code == "MT301"
    assert "0xF6" in problem.message
    assert "windows-1252" in problem.hint
    assert table(data, encoding="windows-1252").heading == ("car", "gr\u00f6sse")


def test_a_formula_in_any_cell_is_refused_with_its_place() -> None:
    text = "car;load;note\n7;158,5;fine\n8;=cmd|' /C calc'!A0;x\n9;1;@SUM(A1)\n"
    assert problems(text) == [("MT304", 3, 3), ("MT304", 4, 5)]


def test_a_row_with_a_cell_too_many_is_refused_and_an_empty_one_is_not() -> None:
    assert problems("car,load\n7,158,5\n") == [("MT306", 2, 1)]
    assert table("car,load\n7,158.5,,\n8\n").rows[1].cells == ("8", "")


# -- numbers -------------------------------------------------------------------------------------------------


@each_row(
    ("cell", "decimal", "number"),
    [
        ("158.5", "", "158.5"),
        ("158,5", "", "158.5"),
        (" 158 ", "", "158"),
        ("0,125", "", "0.125"),
        ("1.234,5", "", "1234.5"),
        ("1,234.5", "", "1234.5"),
        ("1,234", COMMA, "1.234"),
        ("1.234", POINT, "1.234"),
        ("1234,567", "", "1234.567"),
        ("-1,5", "", "-1.5"),
        ("+2", "", "2"),
        ("\u22121,5", "", "-1.5"),
        ("158\u00a0", "", "158"),
    ],
)
def test_a_number_means_the_same_whatever_country_it_comes_from(cell: str, decimal: str, number: str) -> None:
    assert read_number(cell, HERE, decimal) == number


@pytest.mark.parametrize(
    ("cell", "decimal"),
    [("1,234", ""), ("158.500", ""), ("158.5", COMMA), ("158,5", POINT), ("1.234,5", POINT)],
)
def test_a_number_that_can_be_read_in_two_ways_is_refused(cell: str, decimal: str) -> None:
    with pytest.raises(InputError) as error:
        read_number(cell, HERE, decimal)
    assert error.value.problems[0].code == "MT305"
    assert error.value.problems[0].span == HERE


@each_row("cell", ["", "abc", "1e3", "1 2", "1,2,3", "0x10", "\u0661", "1.234.5", "--1", "NaN"])
def test_what_is_no_number_is_told(cell: str) -> None:
    with pytest.raises(InputError) as error:
        read_number(cell, HERE)
    assert error.value.problems[0].code == "MT306"


@given(st.decimals(min_value=0, max_value=2000, places=1))
def test_a_load_written_with_one_decimal_is_read_back(load: object) -> None:
    for text in (str(load), str(load).replace(".", ",")):
        assert read_number(text, HERE) == str(load)


# -- days ----------------------------------------------------------------------------------------------------


@each_row(
    ("cell", "form", "moment"),
    [
        ("2026-05-03", "", datetime(2026, 5, 3)),
        ("2026-05-03 09:15", "", datetime(2026, 5, 3, 9, 15)),
        ("46145", "", datetime(2026, 5, 3)),
        ("46145,375", "", datetime(2026, 5, 3, 9)),
        ("46145.375", "serial 1900", datetime(2026, 5, 3, 9)),
        ("44683", "serial 1904", datetime(2026, 5, 3)),
        ("61", "", datetime(1900, 3, 1)),
        ("03.05.2026 09:15", "%d.%m.%Y %H:%M", datetime(2026, 5, 3, 9, 15)),
    ],
)
def test_days_are_read_as_iso_as_a_pattern_says_or_as_day_numbers(
    cell: str, form: str, moment: datetime
) -> None:
    """Day numbers: 61 is 1 March 1900 and 44683 + 1462 = 46145 in the two systems (recalled; 1462 days lie between)."""
    assert read_moment(cell, HERE, form) == moment


@each_row(
    ("cell", "form"),
    [
        ("03.05.2026", ""),
        ("5/3/26", ""),
        ("0.375", ""),
        ("60", ""),
        ("2026-13-01", ""),
        ("2026-05-03", "%d.%m.%Y"),
        ("today", "serial 1900"),
        ("46145", "serial 1905"),
        ("", ""),
    ],
)
def test_a_day_that_could_be_another_is_refused(cell: str, form: str) -> None:
    with pytest.raises(InputError) as error:
        read_moment(cell, HERE, form)
    assert error.value.problems[0].code == "MT307"


@given(st.binary(max_size=200))
def test_no_bytes_end_in_anything_but_a_table_or_a_refusal(data: bytes) -> None:
    try:
        found = read_table(data, "t.csv")
    except InputError:
        return
    assert all(len(row.cells) == len(found.heading) for row in found.rows)


@each_row("name", ["windows-1252", "cp1250", "latin-1", "utf-8", "utf-8-sig", "shift_jis", "ascii"])
def test_an_encoding_of_text_is_known(name: str) -> None:
    assert known_encoding(name) == name


@each_row(
    "name",
    [
        "undefined",
        "punycode",
        "unicode_escape",
        "raw_unicode_escape",
        "rot13",
        "base64",
        "utf-7",
        "../x",
        "a\0b",
        "",
        "x" * 5000,
    ],
)
def test_what_is_no_encoding_of_text_is_refused_in_a_line(name: str) -> None:
    with pytest.raises(ValueError, match="is not known") as error:
        known_encoding(name)
    assert len(str(error.value)) < 120


@given(st.sampled_from(sorted({*aliases.aliases.values(), "undefined"})), st.binary(max_size=200))
def test_no_codec_that_a_mapping_may_name_makes_a_mistake_of_ours(name: str, data: bytes) -> None:
    """A table is read, or refused with a problem that has its file."""
    try:
        encoding = known_encoding(name)
    except ValueError:
        return
    with suppress(InputError):
        read_table(b"car;total\n" + data, "t.csv", encoding=encoding)
