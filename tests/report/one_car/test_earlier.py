"""Reading a report that was kept: every way in which it may not be one is told with its place."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from checker.reading.problems import InputError, Problem
from checker.report.one_car.document import inspection_document
from checker.report.one_car.earlier import CODES, read_report
from tests.report.documents import sample


@pytest.fixture(scope="module")
def reports() -> list[dict[str, Any]]:
    return [inspection_document(sample(name)) for name in ("legal", "built-2025")]


def refused(file: Path, number: str = "27", pack: str = "dunlin") -> Problem:
    with pytest.raises(InputError) as caught:
        read_report(str(file), number, pack)
    [problem] = caught.value.problems
    return problem


@pytest.mark.deep
def test_a_report_is_read_back_as_it_was(tmp_path: Path, reports: list[dict[str, Any]]) -> None:
    file = tmp_path / "report.json"
    file.write_text(json.dumps(reports[0], indent=2))
    assert read_report(str(file), "27", "Dunlin") == reports[0]


def test_of_several_the_one_of_the_car_is_taken(tmp_path: Path, reports: list[dict[str, Any]]) -> None:
    file = tmp_path / "report.json"
    file.write_text("\n".join(json.dumps(one) for one in reports) + "\n\n")
    assert read_report(str(file), "75", "dunlin") == reports[1]


@pytest.mark.parametrize(
    ("text", "code", "told", "line"),
    [
        ("", "RP201", "not JSON", 1),
        ('{"document": "inspection",\n  "version": }', "RP201", "not JSON", 2),
        ("formula: dunlin", "RP201", "not JSON", 1),
        ("[" * 100_000, "RP201", "nested too deeply", 1),
        ("[1, 2]", "RP202", "something else", 1),
        ('{"document": "affected", "version": 1}', "RP202", "'affected'", 1),
        ('{"document": "inspection", "version": 2}', "RP202", "no inspection of version 1", 1),
        ('{"document": "inspection", "version": 1}', "RP202", "no sound inspection", 1),
    ],
)
def test_what_is_no_report_is_refused(tmp_path: Path, text: str, code: str, told: str, line: int) -> None:
    file = tmp_path / "report.json"
    file.write_text(text)
    problem = refused(file)
    assert (problem.code, told in problem.message) == (code, True)
    assert problem.span is not None
    assert problem.span.line == line
    assert int(code[2:]) in CODES
    assert "--format json" in problem.hint


def test_a_line_that_is_no_report_is_told_with_its_number(
    tmp_path: Path, reports: list[dict[str, Any]]
) -> None:
    file = tmp_path / "report.json"
    file.write_text(json.dumps(reports[0]) + '\n{"document": "inspection", "version": 1}\n')
    problem = refused(file)
    assert problem.span is not None
    assert (problem.code, problem.span.line) == ("RP202", 2)


def test_a_report_of_another_car_or_formula_is_refused(tmp_path: Path, reports: list[dict[str, Any]]) -> None:
    file = tmp_path / "report.json"
    file.write_text(json.dumps(reports[0]))
    assert (refused(file, "5").code, refused(file, "5").hint) == ("RP203", "cars in it: '27'")
    assert refused(file, pack="kart").code == "RP204"


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    assert refused(tmp_path / "absent.json").code == "RP110"


def test_a_file_that_is_not_text_is_told(tmp_path: Path) -> None:
    file = tmp_path / "report.json"
    file.write_bytes(b"\xff\xfe{")
    assert refused(file).code == "RP111"
