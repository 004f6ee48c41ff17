"""Tables read back by the programs they are for: pandas, polars, openpyxl, and an office suite where there is one."""

from __future__ import annotations

import csv
import io
import shutil
import subprocess
import time
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.report.tables.table import Cell, Clauses, Table, clause, decimal, margin_cells, value_cell
from checker.report.tables.text import DIALECTS, as_csv, as_text, seen
from checker.report.tables.workbook import as_xlsx
from tests.examples import each_row

EVIL = "=cmd|' /C calc'!A0"
TEXTS = ("07", "1E5", "3-4", "5 May", "MAR1", "12:30", "50 %", "NA", "None", "true", "1/2", "'quoted", "1,5", EVIL,
         "+1+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "Turnstone", "27")  # fmt: skip
ROWS: list[list[Cell]] = [
    [Clauses(("3.10",)), text, Fraction(-343, 100), date(2026, 5, 3), True] for text in TEXTS
]
TABLE = Table(
    ("clause", "text", "margin", "day", "met"), [*ROWS, [Clauses(("3.10", "4.1")), None, None, None, False]]
)


def plain(text: str) -> str:
    """What a text was before its apostrophe."""
    return text.removeprefix("'")


@each_row("text", [*TEXTS[:-2], " =1", "\uff1d1+1", "2026-05-03", "-0.5", "0x1F", "$5", "NaN", "  7"])
def test_a_text_that_would_be_read_otherwise_is_marked_as_text(text: str) -> None:
    assert as_text(text) == f"'{text}"


@each_row("text", ["27", "0", "Turnstone", "a=b", "SO 4417", "2026.1 dunlin", "B-2", "Marlin 3", "car 07"])
def test_what_nobody_misreads_stays_as_it_is(text: str) -> None:
    assert as_text(text) == text


@given(st.text(max_size=20))
def test_no_text_begins_a_cell_with_a_sign_that_runs_and_every_text_comes_back(text: str) -> None:
    """What cannot be seen comes back as the escape that it is shown by."""
    shown = as_text(text)
    assert not shown.lstrip(" \u00a0").startswith(("=", "+", "-", "@", "\t", "\r", "\n"))
    assert plain(shown) == seen(text)


@given(st.fractions())
def test_a_margin_as_a_number_keeps_its_sign_and_is_never_above_the_exact_one(exact: Fraction) -> None:
    number = decimal(exact)
    assert exact - Fraction(1, 10**6) < number <= exact
    assert (number < 0) == (exact < 0)
    [row] = list(csv.reader(io.StringIO(as_csv(Table((), [[number]])).split("\r\n", 1)[1])))
    assert Fraction(row[0]) == number


def test_a_margin_has_its_unit_and_the_exact_number_beside_it() -> None:
    margin = {"value": "-0.33", "exact": "-1927/5851", "unit": "%"}
    assert margin_cells(margin) == (Fraction(-329346, 10**6), "%", "-1927/5851 %")
    assert margin_cells({"value": "28", "exact": "28/1", "unit": "mm"}) == (28, "mm", "28 mm")
    assert margin_cells(None) == (None, None, None)


def test_a_value_is_a_day_a_number_or_as_it_is_shown() -> None:
    assert value_cell({"value": "2026-05-03", "exact": None, "unit": None}) == date(2026, 5, 3)
    assert value_cell({"value": "3", "exact": "3/1", "unit": None}) == 3
    assert value_cell({"value": "36", "exact": "36/1", "unit": "mm"}) == "36 mm"
    assert value_cell({"value": "steel", "exact": None, "unit": None}) == "steel"
    assert (value_cell(None), clause(None), clause("")) == (None, None, None)


@pytest.mark.deep
def test_pandas_reads_what_was_put_in() -> None:
    pandas = pytest.importorskip("pandas", reason="pandas is not installed")
    read: Any = pandas.read_csv(io.StringIO(as_csv(TABLE)))
    assert list(read["clause"]) == ["clause 3.10"] * len(TEXTS) + ["clauses 3.10, 4.1"]
    assert [plain(str(text)) for text in read["text"][: len(TEXTS)]] == list(TEXTS)
    assert read["margin"].dtype == float
    assert set(read["margin"][: len(TEXTS)]) == {-3.43}


@pytest.mark.deep
def test_pandas_reads_each_text_alone_as_text() -> None:
    pandas = pytest.importorskip("pandas", reason="pandas is not installed")
    for text in TEXTS[:-1]:
        read: Any = pandas.read_csv(io.StringIO(as_csv(Table(("a", "b"), [[text, 1]]))))
        assert plain(read["a"][0]) == text


@pytest.mark.deep
def test_polars_reads_what_was_put_in() -> None:
    polars = pytest.importorskip("polars", reason="polars is not installed")
    read: Any = polars.read_csv(io.BytesIO(as_csv(TABLE).encode()))
    assert set(read["clause"][:-1]) == {"clause 3.10"}
    assert [plain(text) for text in read["text"][: len(TEXTS)]] == list(TEXTS)
    assert read["margin"].dtype == polars.Float64


def test_for_excel_there_is_a_mark_and_by_choice_semicolons_and_decimal_commas() -> None:
    excel, comma = (as_csv(TABLE, DIALECTS[name]) for name in ("excel", "excel-comma"))
    assert excel.encode().startswith(b"\xef\xbb\xbfclause,text,")
    first = next(csv.DictReader(io.StringIO(comma.removeprefix("\ufeff")), delimiter=";"))
    assert (first["clause"], first["margin"]) == ("clause 3.10", "-3,43")
    assert excel.removeprefix("\ufeff") == as_csv(TABLE)


def sheet_of(workbook: bytes) -> Any:
    openpyxl = pytest.importorskip("openpyxl", reason="openpyxl is not installed")
    pytest.importorskip("xlsxwriter", reason="xlsxwriter is not installed")
    return openpyxl.load_workbook(io.BytesIO(workbook))["cars"]


def test_a_workbook_is_typed_with_a_frozen_heading_and_without_a_formula() -> None:
    pytest.importorskip("xlsxwriter", reason="xlsxwriter is not installed")
    sheet = sheet_of(as_xlsx({"cars": TABLE}))
    assert sheet.freeze_panes == "A2"
    heading, *rows, last = sheet.iter_rows()
    assert [cell.value for cell in heading] == list(TABLE.heading)
    for row, text in zip(rows, TEXTS, strict=True):
        number, told, margin, day, met = row
        assert (number.value, number.data_type) == ("3.10", "s")
        assert (str(told.value).strip(), told.data_type) == (" ".join(text.split("\r")).strip(), "s")
        assert (margin.value, margin.data_type) == (-3.43, "n")
        assert (day.value, day.is_date) == (datetime(2026, 5, 3), True)
        assert (met.value, met.data_type) == (True, "b")
    assert [cell.value for cell in last] == ["3.10, 4.1", None, None, None, False]


def test_the_same_tables_make_the_same_workbook_whenever_it_is_made(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("xlsxwriter", reason="xlsxwriter is not installed")
    made = as_xlsx({"cars": TABLE})
    monkeypatch.setattr(time, "time", lambda: 2_000_000_000.0)
    monkeypatch.setattr(time, "localtime", lambda *_: time.gmtime(2_000_000_000))
    assert as_xlsx({"cars": TABLE}) == made


def office(folder: Path, name: str, data: bytes, *, read_as: tuple[str, ...] = (), to: str = "xlsx") -> Path:
    """A file as an office suite saves it anew."""
    (folder / name).write_bytes(data)
    home = f"-env:UserInstallation={(folder / 'home').as_uri()}"
    command = ("soffice", home, "--headless", *read_as, "--convert-to", to, "--outdir", str(folder / "saved"))
    subprocess.run((*command, str(folder / name)), check=True, capture_output=True, timeout=120)
    return (folder / "saved" / name).with_suffix(f".{to.partition(':')[0]}")


ENGLISH, GERMAN = 1033, 1031
needs_office = pytest.mark.skipif(shutil.which("soffice") is None, reason="no office suite is installed")


@pytest.mark.client
@needs_office
@pytest.mark.parametrize("looking_for_days", ["false", "true"])
@pytest.mark.parametrize(
    ("dialect", "separator", "language"),
    [("programs", ",", ENGLISH), ("excel", ",", ENGLISH), ("excel-comma", ";", GERMAN)],
)
def test_an_office_suite_reads_what_was_put_in(
    tmp_path: Path, dialect: str, separator: str, language: int, looking_for_days: str
) -> None:
    """As it is opened without a change to the dialogue, and with its search for days and truths switched on."""
    openpyxl = pytest.importorskip("openpyxl", reason="openpyxl is not installed")
    filter_ = f"--infilter=CSV:{ord(separator)},34,76,1,,{language},false,{looking_for_days}"
    saved = office(tmp_path, "table.csv", as_csv(TABLE, DIALECTS[dialect]).encode(), read_as=(filter_,))
    heading, *rows, last = openpyxl.load_workbook(saved).active.iter_rows()
    assert [cell.value for cell in heading] == list(TABLE.heading)
    assert {row[0].value for row in rows} == {"clause 3.10"}
    assert last[0].value == "clauses 3.10, 4.1"
    assert [plain(str(row[1].value)) for row in rows] == [text.replace("\r", "\n") for text in TEXTS]
    assert {(row[2].value, row[2].data_type) for row in rows} == {(-3.43, "n")}
    assert "f" not in {cell.data_type for row in rows for cell in row}


@pytest.mark.client
@needs_office
def test_an_office_suite_opens_the_workbook(tmp_path: Path) -> None:
    pytest.importorskip("xlsxwriter", reason="xlsxwriter is not installed")
    saved = office(
        tmp_path, "table.xlsx", as_xlsx({"cars": TABLE}), to="csv:Text - txt - csv (StarCalc):44,34,76,1"
    )
    heading, *rows, last = csv.reader(saved.read_text("utf-8").splitlines())
    assert heading == list(TABLE.heading)
    assert {row[0] for row in rows} == {"3.10"}
    assert {row[2] for row in rows} == {"-3.43"}
    assert EVIL in {row[1] for row in rows}
    assert last[0] == "3.10, 4.1"


@each_row("hidden", ["\u200b", "\u202e", "\u0085", "\u009b31m", "\u2066", "\x1b[31m"])
def test_what_cannot_be_seen_in_a_cell_is_shown(hidden: str) -> None:
    shown = as_text(f"Ruff{hidden}")
    assert shown.isprintable()
    assert shown.startswith("Ruff\\")
