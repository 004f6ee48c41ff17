"""`new_pack`: what it writes lints clean, its cases come out, and its car is accepted."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from checker.pack.editions.edition import Edition
from checker.pack.editions.finding import open_folder
from checker.pack.editions.loading import load_edition
from checker.pack.editors.beginnings import BEGINNINGS
from checker.pack.editors.new_pack import NAME, new_pack
from checker.pack.lint.everything import lint
from checker.studies.cases.casebook import read_cases
from checker.studies.cases.running import run_cases
from checker.verdict.run import Request, inspect_request
from tests.examples import quick_first
from tests.pack.editors.test_pack_schema import accepts, read
from tests.pack.folders import write
from tests.studies.casebooks import problems_of


@pytest.fixture(params=quick_first(["", *BEGINNINGS]))
def folder(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    return write(tmp_path / "spring-cup", dict(new_pack("spring-cup", request.param)))


def test_it_lints_clean(folder: Path) -> None:
    assert lint(folder) == ()


def test_its_cases_come_out_and_each_clause_has_one_on_its_limit(folder: Path) -> None:
    runs = run_cases(read_cases(Edition(open_folder(folder), str(folder / "pack.yaml"))))
    assert [(run.case.name, problems_of(run)) for run in runs if not run.came_out] == []
    zero = {e.clause for run in runs for e in run.case.expectations if str(e.margin).startswith("0")}
    fails = {e.clause for run in runs for e in run.case.expectations if e.outcome == "fail"}
    assert zero == fails == set(load_edition(str(folder / "pack.yaml")).clauses)
    assert len(zero) in (5, 7)


def test_a_schema_that_no_longer_fits_is_told_with_what_renews_it(folder: Path) -> None:
    text = (folder / "pack.yaml").read_text(encoding="utf-8")
    (folder / "pack.yaml").write_text(
        text.replace("\nfacts:\n", "\nfacts:\n  body.height: {unit: mm, optional: true}\n")
    )
    (found,) = [problem for problem in lint(folder) if problem.code == "PK710"]
    assert found.warning
    assert found.hint == f"checker pack schema {folder} --output {folder / 'declaration.schema.json'}"


@pytest.mark.deep
def test_its_car_complies(folder: Path) -> None:
    inspection = inspect_request(Request(str(folder / "car.yaml"), pack=str(folder)))
    assert inspection.complies is True
    assert all(outcome.outcome == "pass" for outcome in inspection.outcomes)


def test_its_files_are_accepted_by_the_schemas_they_point_to(folder: Path) -> None:
    for name in ("pack.yaml", "cases.yaml", "car.yaml"):
        first = (folder / name).read_text(encoding="utf-8").splitlines()[0]
        schema = json.loads((folder / first.partition("$schema=")[2]).read_text(encoding="utf-8"))
        assert accepts(schema, read(folder / name))


def test_what_a_pack_may_be_called() -> None:
    assert NAME.fullmatch("spring-cup")
    assert not any(NAME.fullmatch(name) for name in ("", "Cup", "-cup", "my cup", "../cup", "cüp", "c" * 41))


def test_each_beginning_has_a_car_of_its_own_sort() -> None:
    weights = {
        name: re.findall(r"(?:front|rear)_\w+: (\S+) kg", new_pack("cup", name)["car.yaml"])[:4]
        for name in BEGINNINGS
    }
    totals = {name: sum(map(float, loads)) for name, loads in weights.items()}
    assert totals == {"electric": 752, "kart": 82.5, "oval": 1068, "hillclimb": 429}
    assert "damper" not in "".join(new_pack("cup", "kart").values()).lower().replace("suspension/damper", "")
