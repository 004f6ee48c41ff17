"""The commands whose result may also be tables, as CSV and as workbooks."""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path
from typing import Any

import pytest

from checker.cli.main import main
from tests.cli.running import run
from tests.cli.test_documents import weighed
from tests.examples import quick_first
from tests.report.tables.test_tables import plain

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

CARS = ("samples/cars/legal.yaml", "samples/cars/built-2025.yaml")
OLD, NEW = "rulepacks/dunlin/2025.1.yaml", "rulepacks/dunlin/2026.1.yaml"
COMMANDS = {
    "inspect": (("inspect", *CARS, "--pack", OLD, "--on", "2025-06-01"), ("cars", "clauses")),
    "affected": (("pack", "affected", OLD, NEW, *CARS, "--on", "2026-05-03"), ("clauses", "cars")),
    "sweep": (("pack", "sweep", NEW, "3.3", "--from", "51 %", "--to", "54 %", *CARS), ("steps", "cars", "round")),
    "export": (("meeting", "export"), ("entries", "weighings", "measurements", "outcomes", "standings")),
}  # fmt: skip


def command(name: str, capsys: Capsys, folder: Path) -> tuple[str, ...]:
    words = COMMANDS[name][0]
    return words if name != "export" else (*words, weighed(capsys, folder))


@pytest.mark.parametrize("name", quick_first(("export", "inspect", "affected", "sweep"), 1))
def test_each_table_is_printed_and_is_a_sheet_of_the_workbook(
    capsys: Capsys, tmp_path: Path, name: str
) -> None:
    openpyxl = pytest.importorskip("openpyxl", reason="openpyxl is not installed")
    pytest.importorskip("xlsxwriter", reason="xlsxwriter is not installed")
    words, file = command(name, capsys, tmp_path), str(tmp_path / "made.xlsx")
    assert run(capsys, *words, "--xlsx", "--output", file).out == ""
    workbook = openpyxl.load_workbook(file)
    assert tuple(workbook.sheetnames) == COMMANDS[name][1]
    for table in COMMANDS[name][1]:
        printed = list(csv.reader(io.StringIO(run(capsys, *words, "--csv", table).out, newline="")))
        sheet = list(workbook[table].iter_rows())
        assert len(printed) == len(sheet) > (1 if (name, table) != ("export", "measurements") else 0)
        for row, cells in zip(printed, sheet, strict=True):
            assert len(row) == len(cells)
            for text, cell in zip(row, cells, strict=True):
                assert cell.data_type != "f"
                same(text, cell.value)


def same(text: str, value: Any) -> None:
    """A printed cell says what the workbook's says."""
    if value is None or isinstance(value, bool):
        assert text == ("" if value is None else "yes" if value else "no")
    elif isinstance(value, int | float):
        assert float(text) == pytest.approx(value, rel=1e-12)
    elif isinstance(value, str):
        assert plain(text).removeprefix("clauses ").removeprefix("clause ") == value
    else:
        assert text == value.date().isoformat()


@pytest.mark.deep
def test_clause_3_10_stays_3_10_for_pandas(capsys: Capsys) -> None:
    pandas = pytest.importorskip("pandas", reason="pandas is not installed")
    ran = run(capsys, *COMMANDS["inspect"][0], "--csv", "clauses")
    read: Any = pandas.read_csv(io.StringIO(ran.out))
    assert {"clause 3.10", "clause 3.1"} <= set(read["clause"])
    assert read["margin"].dtype == float


def test_a_file_that_cannot_be_used_has_its_row(capsys: Capsys) -> None:
    ran = run(capsys, "inspect", CARS[0], "absent.yaml", "--csv", "cars")
    first, last = csv.DictReader(io.StringIO(ran.out))
    assert (first["result"] != "not judged", first["file"]) == (True, CARS[0])
    assert (last["result"], last["file"]) == ("not judged", "absent.yaml")
    assert ran.code == 3


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (("--csv", "cars", "--xlsx", "--output", "a.xlsx"), "--csv and --xlsx are two forms of one result"),
        (("--csv", "cars", "--format", "json"), "--csv and --format json are two forms of one result"),
        (("--xlsx",), "give its name, such as --output cars.xlsx"),
        (("--csv", "cars", "--since", "report.json"), "not in tables"),
    ],
)
def test_what_cannot_be_asked_for_together_is_refused(
    capsys: Capsys, more: tuple[str, ...], told: str
) -> None:
    ran = run(capsys, "inspect", CARS[0], *more)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err


def test_without_the_library_of_workbooks_the_cure_is_told(
    capsys: Capsys, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setitem(sys.modules, "xlsxwriter", None)
    ran = run(capsys, "inspect", CARS[0], "--xlsx", "--output", str(tmp_path / "a.xlsx"))
    assert (ran.code, list(tmp_path.iterdir())) == (74, [])
    assert "pip install 'scrutineering-checker[sheets]'" in ran.err


def test_on_windows_no_empty_line_stands_between_the_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    """There a text stream makes CR LF of every LF, so of CR LF it would make CR CR LF."""
    raw = io.BytesIO()
    stdout = io.TextIOWrapper(raw, encoding="cp1252", newline="\r\n")
    monkeypatch.setattr(sys, "stdout", stdout)
    assert main(("inspect", CARS[0], "--csv", "cars")) == 0
    stdout.flush()
    assert raw.getvalue().count(b"\r\n") == 2
    assert b"\r\r" not in raw.getvalue()
