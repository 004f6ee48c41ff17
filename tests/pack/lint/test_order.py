"""Runs whose order an entrant may choose are told, with the field that would settle it."""

from __future__ import annotations

import pytest

from checker.pack.lint.order import unsorted
from tests.building import pack_of

LISTS = """
lists:
  lamps:
    known_by: name
    fields: {name: {type: text}, position: {unit: mm}, colour: {one_of: [red, amber]}, fitted: {type: date}}
"""


@pytest.mark.parametrize(
    ("check", "hint"),
    [
        ("{runs: lamps, limit: last(run).position - first(run).position, at_least: 5 mm}", "say `by: position`"),
        ("{runs: lamps, let: {gap: last(run).position - first(run).position}, limit: gap, at_least: 5 mm}", "say `by: position`"),
        ("{runs: lamps, limit: sum(x.position for x in run), at_least: 5 mm}", "say `by: position`"),
        ("{runs: lamps, limit: last(run).fitted - first(run).fitted, at_least: 5 days}", "say `by: fitted`"),
        ("{runs: lamps, by: position, limit: last(run).position - first(run).position, at_least: 5 mm}", ""),
        ("{runs: lamps, holds: last(run).colour != first(run).colour}", ""),
        ("{each: lamps, limit: position, at_least: 5 mm}", ""),
    ],
)  # fmt: skip
def test_a_run_that_nothing_sorts_is_told(check: str, hint: str) -> None:
    found = list(unsorted(pack_of(f'"1": {{title: T, check: {check}}}', LISTS)))
    assert [problem.hint for problem in found] == ([hint] if hint else [])
    assert all((problem.code, problem.warning) == ("PK510", True) for problem in found)


def test_a_run_in_a_branch_is_told_at_its_place() -> None:
    inner = "{runs: lamps, limit: last(run).position - first(run).position, at_least: 5 mm}"
    pack = pack_of(f'"1": {{title: T, check: {{all_of: [{inner}, {inner}]}}}}', LISTS)
    assert len({problem.span for problem in unsorted(pack)}) == 2
