"""Declarations from files, folders and lines, one after the other."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.reading.document import Document
from checker.reading.problems import InputError
from checker.studies.fleet.reading import QueuedDeclaration, count, records


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "b").mkdir()
    for name in ("c.yaml", "a.json", "b/d.yml", ".hidden.yaml", "notes.txt"):
        (tmp_path / name).write_text('{"formula": "x"}')
    (tmp_path / "b" / "many.jsonl").write_text('{"n": 1}\n\n{"n": 2}\n')
    return tmp_path


def test_a_folder_gives_its_declarations_by_name_and_those_of_folders_in_it(folder: Path) -> None:
    places = [Path(r.place).relative_to(folder).as_posix() for r in records([str(folder)])]
    assert places == ["a.json", "c.yaml", "b/d.yml", "b/many.jsonl:1", "b/many.jsonl:3"]
    assert count([str(folder)]) == 5


def test_files_are_taken_in_the_order_given_whatever_they_are_called(folder: Path) -> None:
    named = [str(folder / "notes.txt"), str(folder / "a.json")]
    assert [r.place for r in records(named)] == named


def test_each_line_is_a_declaration_of_its_own(folder: Path) -> None:
    found = [r.judged(lambda d: d.get(("n",))) for r in records([str(folder / "b" / "many.jsonl")])]
    assert found == [1, 2]


def test_a_line_that_cannot_be_read_is_told_with_its_line(tmp_path: Path) -> None:
    file = tmp_path / "many.jsonl"
    file.write_text('{"n": 1}\n{"n": 2}\n{"n": }}\n')
    last = list(records([str(file)]))[-1]
    with pytest.raises(InputError) as caught:
        last.judged(lambda d: d)
    span = caught.value.problems[0].span
    assert span is not None
    assert (span.file, span.line) == (str(file), 3)


def test_problems_of_the_work_on_a_line_are_placed_too(tmp_path: Path) -> None:
    from checker.car.declaration.loading import formula_of

    file = tmp_path / "many.jsonl"
    file.write_text('\n\n{"car": 1}\n')
    with pytest.raises(InputError) as caught:
        next(records([str(file)])).judged(formula_of)
    span = caught.value.problems[0].span
    assert span is not None
    assert span.line == span.end_line == 3


@pytest.mark.parametrize("name", ["absent.yaml", "absent.jsonl"])
def test_a_file_that_is_not_there_is_an_error_of_its_own(tmp_path: Path, name: str) -> None:
    [record] = records([str(tmp_path / name)])
    with pytest.raises(InputError) as caught:
        record.judged(lambda d: d)
    assert caught.value.problems[0].code == "CD110"


def test_a_declaration_is_read_only_when_its_turn_comes(tmp_path: Path) -> None:
    file = tmp_path / "car.yaml"
    [record] = records([str(file)])
    file.write_text("n: 3")

    def look(document: Document) -> object:
        return document.get(("n",))

    assert record == QueuedDeclaration(str(file))
    assert record.judged(look) == 3
