"""Whether a slip is noticed is the same whether floats are asked first or the exact engine alone."""

from __future__ import annotations

from pathlib import Path

import pytest

import checker.studies.cases.noticing as noticing
from checker.cli.editions import edition_with_cases
from checker.studies.cases.casebook import Casebook, read_cases
from checker.studies.cases.running import run_cases
from checker.studies.cases.strength import strength_of
from checker.verdict.filtered import cleared
from tests.conftest import ROOT
from tests.studies.casebooks import PACK, book

WEIGHTS = PACK.replace(
    "clauses:\n",
    """\
conditions: {empty: {fuel: 0 L}, driven: {fuel: unusable to full, driver: aboard}}
clauses:
  "4": {title: Weight, check: {limit: weight.total, at_least: 100 kg, condition: empty}}
  "5": {title: Weight driven, check: {limit: weight.total, at_least: 170 kg, condition: driven}}
""",
)
CASES = "".join(
    f"""
- name: {name}
  from: car.yaml
  set: {{fuel.capacity: 9 L, fuel.unusable: {unusable} L, fuel.density: 0.75 kg/L, driver.mass: 70 kg,
         weighing.fuel: 0 L, weighing.driver: out, weighing.readings: [{{total: {total} kg}}]}}
  expect: {{"4": {light}, "5": {driven}}}
"""
    for name, unusable, total, light, driven in (
        ("on both", 0, 100, "pass", "{outcome: pass, margin: 0 kg}"),
        ("just below", 0, 99, "fail", "fail"),
        ("clear", 1, 120, "{outcome: pass, margin: 20 kg}", "pass"),
    )
)


def _both_ways(cases: Casebook, monkeypatch: pytest.MonkeyPatch) -> int:
    """That the same is noticed both ways; how many outcomes floats told."""
    runs, told = run_cases(cases), []

    def counted(*args: object, **named: object) -> object:
        told.append(cleared(*args, **named))  # type: ignore[arg-type]
        return told[-1]

    with monkeypatch.context() as patched:
        patched.setattr(noticing, "cleared", counted)
        first = strength_of(cases.edition, runs).every
    with monkeypatch.context() as patched:
        patched.setattr(noticing, "cleared", lambda *_, **__: {})
        assert strength_of(cases.edition, runs).every == first
    assert {True, False} <= set(first.values())
    return sum(map(bool, told))


def test_floats_and_the_engine_notice_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cases = book(tmp_path, CASES, WEIGHTS)
    assert all(run.came_out for run in run_cases(cases))
    assert _both_ways(cases, monkeypatch) > 10


@pytest.mark.deep
def test_of_the_sample_pack_too(monkeypatch: pytest.MonkeyPatch) -> None:
    assert _both_ways(read_cases(edition_with_cases(str(ROOT / "rulepacks/dunlin"))), monkeypatch) > 100


def test_floats_are_not_asked_of_a_clause_that_is_judged_in_one_state(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cases = book(tmp_path, '- {name: x, from: car.yaml, expect: {"1": pass}}')
    monkeypatch.delattr(noticing, "cleared")
    assert strength_of(cases.edition, run_cases(cases)).total > 1
