"""The language reference keeps its word: every example in it is read and judged, and its table of codes is the program's."""

from __future__ import annotations

import re
import shlex
import shutil
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from checker.car.declaration import load_car
from checker.cli.main import main
from checker.pack.codes import CODES
from checker.pack.edition import newest
from checker.pack.finding import open_folder
from checker.pack.in_force import load_pack
from checker.pack.lint import lint
from checker.pack.loading import build_pack
from checker.reading.strict_yaml import parse_document
from checker.studies.casebook import read_cases
from checker.studies.cases import run_cases
from checker.verdict.inspection import inspect_car

ROOT = Path(__file__).parent.parent
REFERENCE = ROOT / "rulepacks" / "README.md"
HEAD = 'pack: dunlin\nedition: "2026.1"\ntitle: T\nin_force: {from: 2026-03-01}\ncourse: anticlockwise\ncurrency: GBP\n'
CLAUSE = 'clauses: {"1": {title: T, check: {limit: fuel.capacity, at_most: 24 L}}}\n'
KINDS = ("pack", "formula", "tables", "conditions", "facts", "dimensions", "cases", "bulletin")


def blocks() -> dict[str, str]:
    """The YAML examples by the word they begin with."""
    found = re.findall(
        r"^```yaml\n(.*?)^```", REFERENCE.read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE
    )
    return {block.partition(":")[0]: block for block in found}


def pack_in(text: str, folder: Path):  # type: ignore[no-untyped-def]
    """A pack made of an example, with the files that it names."""
    (folder / "exotic.yaml").write_text("[titanium, magnesium]\n")
    return build_pack(parse_document(text.encode(), str(folder / "pack.yaml"), "PK"))


def test_every_example_is_one_that_is_tested() -> None:
    assert tuple(blocks()) == KINDS


def test_the_first_pack_reads_without_a_mistake(tmp_path: Path) -> None:
    file = tmp_path / "pack.yaml"
    file.write_text(blocks()["pack"])
    assert {problem.code for problem in lint(str(file))} == {"PK704"}, (
        "only its cases are still to be written"
    )


def test_the_first_car_is_judged_by_the_first_pack(tmp_path: Path) -> None:
    pack = pack_in(blocks()["pack"], tmp_path)
    car = load_car(parse_document(blocks()["formula"].encode(), "car.yaml", "CD"), pack.vocabulary)
    judged = {
        o.clause.number: o.outcome for o in inspect_car(pack, car, date(2026, 5, 3), "entrant").outcomes
    }
    assert judged == {
        "3.1": "not_shown",
        "3.3": "not_shown",
        "5.1": "pass",
        "5.6": "not_shown",
        "9.1": "not_shown",
    }


@pytest.mark.parametrize("section", ["tables", "conditions", "facts"])
def test_sections_read_as_parts_of_a_pack(section: str, tmp_path: Path) -> None:
    assert pack_in(HEAD + blocks()[section] + CLAUSE, tmp_path).clauses


def test_facts_are_declared_as_sections_and_keys(tmp_path: Path) -> None:
    pack = pack_in(HEAD + blocks()["facts"] + CLAUSE, tmp_path)
    text = 'formula: dunlin\ncar: {number: "27"}\n' + blocks()["dimensions"]
    car = load_car(parse_document(text.encode(), "car.yaml", "CD"), pack.vocabulary)
    assert car.value("dimensions.rear_width_over_tyres") == Fraction("1768.475")
    assert car.approvals == ("A-2026-014",)


def test_the_case_comes_out_on_the_pack_that_it_is_about(tmp_path: Path) -> None:
    folder = tmp_path / "rulepacks" / "dunlin"
    shutil.copytree(ROOT / "rulepacks" / "dunlin", folder)
    shutil.copytree(ROOT / "samples" / "cars", tmp_path / "samples" / "cars")
    lines = blocks()["cases"].splitlines(keepends=True)[1:]
    (folder / "2026.1.cases.yaml").write_text("".join(line[2:] for line in lines))
    runs = run_cases(read_cases(newest(open_folder(folder))))
    assert [run.problems for run in runs] == [()]


def test_the_bulletin_changes_the_first_pack(tmp_path: Path) -> None:
    (tmp_path / "pack.yaml").write_text(blocks()["pack"])
    (tmp_path / "b3.yaml").write_text(blocks()["bulletin"])
    before, after, later = (
        load_pack(open_folder(tmp_path), day)
        for day in (date(2026, 5, 31), date(2026, 6, 1), date(2027, 1, 1))
    )
    assert list(before.clauses) == list(later.clauses) == ["3.1", "3.3", "5.1", "5.6", "9.1"]
    assert sorted(after.clauses) == ["10.1", "3.1", "3.3", "5.1", "9.1"]
    assert "52.5 %" in after.clauses["3.3"].check.sentence()


def commands() -> list[list[str]]:
    """The whole commands of part A's first section, in order."""
    section = REFERENCE.read_text(encoding="utf-8").partition("## Your first pack")[2].partition("\n## ")[0]
    found = [shlex.split(command) for command in re.findall(r"`checker ([^`]+)`", section)]
    return [["heron/car.yaml" if word == "CARS" else word for word in command] for command in found]


def test_the_commands_of_the_first_ten_minutes_run_in_their_order(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    ended = {" ".join(command): main(command) for command in commands()}
    assert len(ended) >= 9
    assert set(ended.values()) == {0}, {command: code for command, code in ended.items() if code}
    assert "Heron technical regulations" in capsys.readouterr().out


def table_of_codes() -> str:
    rows = [
        f"| {code} | {about.wrong}{' (warning)' if about.warning else ''} | {about.cure} |"
        for code, about in CODES.items()
    ]
    return "\n".join(["| code | what is wrong | cure |", "|---|---|---|", *rows])


def test_the_table_of_codes_is_the_programs(request: pytest.FixtureRequest) -> None:
    text = REFERENCE.read_text(encoding="utf-8")
    whole = re.compile(r"<!-- codes -->\n.*<!-- /codes -->", re.DOTALL)
    wanted = f"<!-- codes -->\n{table_of_codes()}\n<!-- /codes -->"
    if request.config.getoption("--accept"):
        text = whole.sub(lambda _: wanted, text)
        REFERENCE.write_text(text, encoding="utf-8")
    found = whole.search(text)
    assert found is not None
    assert found.group() == wanted
