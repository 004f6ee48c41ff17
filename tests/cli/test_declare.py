"""`checker declare` from the outside."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.running import run
from tests.pack.editors.test_pack_schema import accepts, read

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]


def test_a_blank_can_be_inspected_with_a_number_and_without(capsys: Capsys, tmp_path: Path) -> None:
    file = tmp_path / "car.yaml"
    assert run(capsys, "declare", "--formula", "Dunlin", "--output", str(file)).code == 0
    assert run(capsys, "inspect", str(file), "--on", "2026-05-03").code == 4
    file.write_text(file.read_text().replace('number: ""', 'number: "7"'))
    ran = run(capsys, "inspect", str(file), "--on", "2026-05-03")
    assert ran.code == 4
    assert "clauses are not declared" in " ".join(ran.out.split())


def test_the_day_that_was_asked_for_is_the_one_it_is_judged_for(capsys: Capsys, tmp_path: Path) -> None:
    file = tmp_path / "car.yaml"
    assert run(capsys, "declare", "--pack", "dunlin", "--on", "2026-05-03", "--output", str(file)).code == 0
    assert json.loads(run(capsys, "inspect", str(file), "--format", "json").out)["on"] == "2026-05-03"


def test_what_is_written_names_the_schema_that_stands_beside_it(capsys: Capsys, tmp_path: Path) -> None:
    file = tmp_path / "car.yaml"
    assert run(capsys, "declare", "--pack", "dunlin", "--output", str(file)).code == 0
    first = file.read_text().splitlines()[0]
    assert first == "# yaml-language-server: $schema=dunlin.schema.json"
    schema = json.loads((tmp_path / "dunlin.schema.json").read_text())
    assert accepts(schema, read(file))
    assert not accepts(schema, {**read(file), "colour": "red"})


def test_what_is_printed_names_no_schema_that_is_not_there(capsys: Capsys) -> None:
    for more in ((), ("--output", "/dev/null")):
        ran = run(capsys, "declare", "--pack", "dunlin", *more)
        assert (ran.code, "$schema" in ran.out) == (0, False)
    assert not Path("/dev/dunlin.schema.json").exists()


def test_by_formula_or_by_pack_it_is_the_same(capsys: Capsys) -> None:
    by_name = run(capsys, "declare", "--formula", "dunlin", "--on", "2026-05-03")
    by_path = run(capsys, "declare", "--pack", "rulepacks/dunlin/2026.1.yaml", "--on", "2026-05-03")
    assert by_name.out == by_path.out
    assert by_name.code == by_path.code == 0


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        ((), 2, "give either --pack PATH or --formula NAME"),
        (("--formula", "a", "--pack", "b"), 2, "give either"),
        (("--formula", "dunlim"), 3, "Did you mean 'dunlin'?"),
        (("--pack", "absent"), 3, "there is no pack"),
        (("--formula", "dunlin", "--on", "2020-01-01"), 3, "no edition is in force"),
        (("--formula", "dunlin", "--output", "samples"), 2, "is a folder"),
    ],
)
def test_what_is_wrong_is_told(arguments: tuple[str, ...], code: int, told: str, capsys: Capsys) -> None:
    ran = run(capsys, "declare", *arguments)
    assert (ran.code, ran.out) == (code, "")
    assert told in ran.err
