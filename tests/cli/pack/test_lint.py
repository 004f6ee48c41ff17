"""`checker pack lint`, `checker pack schema` and `checker pack new` from the outside."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema_rs import meta

from tests.cli.running import run
from tests.examples import quick_first
from tests.pack.folders import EDITION, write

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

DUNLIN, SHORT = "rulepacks/dunlin", "tests/pack/packs/short"


@pytest.fixture
def broken(tmp_path: Path) -> str:
    text = EDITION.replace("at_most: 125 cc", "at_most: 125 kg")
    return str(write(tmp_path, {"edition.yaml": text}) / "edition.yaml")


@pytest.mark.parametrize("pack", quick_first([SHORT, DUNLIN], 1))
def test_a_clean_pack(capsys: Capsys, pack: str) -> None:
    ran = run(capsys, "pack", "lint", pack)
    assert (ran.code, ran.out, ran.err) == (0, "nothing found\n", "")
    assert run(capsys, "pack", "lint", pack, "--format", "gnu").out == ""


def test_mistakes_are_shown_with_their_line(broken: str, capsys: Capsys) -> None:
    ran = run(capsys, "pack", "lint", broken)
    assert (ran.code, ran.err) == (3, "")
    assert "PK301" in ran.out
    assert "at_most: 125 kg" in ran.out
    assert ran.out.endswith("1 mistake, 0 warnings\n")


def test_a_line_for_each_as_editors_read_it(broken: str, capsys: Capsys) -> None:
    (line,) = run(capsys, "pack", "lint", broken, "--format", "gnu").out.splitlines()
    assert line.startswith(f"{broken}:26:46: error: ")
    assert line.endswith("[PK301]")


def test_one_document(broken: str, tmp_path: Path, capsys: Capsys) -> None:
    ran = run(capsys, "pack", "lint", broken, SHORT, "--format", "json")
    document = json.loads(ran.out)
    assert (ran.code, document["errors"], document["warnings"]) == (3, 1, 0)
    assert document["problems"][0]["code"] == "PK301"
    assert document["problems"][0]["clause"] == "10"
    target = tmp_path / "lint.json"
    assert run(capsys, "pack", "lint", broken, "--format", "json", "--output", str(target)).out == ""
    assert json.loads(target.read_text(encoding="utf-8"))["errors"] == 1


def test_warnings_alone_are_advice(tmp_path: Path, capsys: Capsys) -> None:
    write(tmp_path, {"edition.yaml": EDITION})
    ran = run(capsys, "pack", "lint", str(tmp_path))
    assert ran.code == 0
    assert "PK704" in ran.out
    assert ran.out.endswith("0 mistakes, 1 warning\n")


def test_a_pack_that_is_not_there(capsys: Capsys) -> None:
    ran = run(capsys, "pack", "lint", "absent", SHORT)
    assert ran.code == 3
    assert "PK110" in ran.out
    assert run(capsys, "pack", "lint").code == 2


def test_the_schema_of_declarations(tmp_path: Path, capsys: Capsys) -> None:
    ran = run(capsys, "pack", "schema", DUNLIN, "--on", "2026-05-03")
    schema = json.loads(ran.out)
    meta.validate(schema)
    assert (ran.code, ran.err) == (0, "")
    assert "capacity" in schema["properties"]["engine"]["properties"]
    target = tmp_path / "s.json"
    run(capsys, "pack", "schema", DUNLIN, "--on", "2026-05-03", "--output", str(target))
    assert json.loads(target.read_text(encoding="utf-8")) == schema


def test_the_schema_of_packs(capsys: Capsys) -> None:
    ran = run(capsys, "pack", "schema", DUNLIN, "--for", "pack")
    schema = json.loads(ran.out)
    meta.validate(schema)
    assert "check_limit" in schema["$defs"]


def test_a_new_pack(tmp_path: Path, capsys: Capsys) -> None:
    folder = tmp_path / "new" / "cup"
    ran = run(capsys, "pack", "new", "spring-cup", "--output", str(folder))
    assert (ran.code, ran.err) == (0, "")
    assert "checker pack lint" in ran.out
    assert run(capsys, "pack", "lint", str(folder)).out == "nothing found\n"
    assert run(capsys, "inspect", str(folder / "car.yaml"), "--pack", str(folder)).code == 0
    again = run(capsys, "pack", "new", "spring-cup", "--output", str(folder))
    assert again.code == 2
    assert "there already" in again.err


@pytest.mark.parametrize("name", ["Spring Cup", "../cup", ""])
def test_a_name_that_cannot_be(name: str, capsys: Capsys) -> None:
    assert run(capsys, "pack", "new", name).code == 2
