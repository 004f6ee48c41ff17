"""Runs whose order an entrant may choose are told, with the field that would settle it."""

from __future__ import annotations

from checker.pack.lint.order import picked_by_place, unsorted
from tests.building import pack_of
from tests.examples import each_row

LISTS = """
lists:
  lamps:
    known_by: name
    fields: {name: {type: text}, position: {unit: mm}, colour: {one_of: [red, amber]}, fitted: {type: date}}
"""


@each_row(
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


SEVERAL = (
    LISTS
    + """facts:
  brakes.pad: {unit: mm, several: true}
  lamps_.order: {type: text, several: true}
  tests.days: {type: date, several: true}
"""
)


@each_row(
    ("check", "hint"),
    [
        ("{limit: first(brakes.pad), at_least: 5 mm}", "say min(brakes.pad) or max(brakes.pad), if that is meant"),
        ("{limit: last(tests.days), at_least: 2026-01-01}", "say min(tests.days) or max(tests.days), if that is meant"),
        (
            '{limit: "nth(2, brakes.pad)", at_least: 5 mm}',
            "say nth_smallest(2, brakes.pad) or nth_largest(2, brakes.pad), if that is meant",
        ),
        ("{let: {worn: first(brakes.pad)}, limit: worn, at_least: 5 mm}", "say min(brakes.pad) or max(brakes.pad), if that is meant"),
        (
            '{limit: "min(b.position - a.position for a, b in neighbours(lamps))", at_least: 5 mm}',
            "say neighbours(lamps, position)",
        ),
        ('{limit: "min(b.position - a.position for a, b in neighbours(lamps, position))", at_least: 5 mm}', ""),
        ("{any_of: [{limit: first(brakes.pad), at_least: 5 mm}, {limit: min(brakes.pad), at_least: 4 mm}]}", "say min(brakes.pad) or max(brakes.pad), if that is meant"),
        ("{limit: last(lamps).position, at_least: 5 mm}", "say nth_smallest(1, (x.position for x in lamps)), or nth_largest, if that is meant"),
        ('{limit: "nth(2, lamps).position", at_least: 5 mm}', "say nth_smallest(2, (x.position for x in lamps)), or nth_largest, if that is meant"),
        ("{holds: \"first(lamps).colour == 'red'\"}", ""),
        ('{limit: "nth_smallest(1, (x.position for x in lamps))", at_least: 5 mm}', ""),
        ("{limit: first(lamps_.order), exactly: \"'red'\"}", ""),
        ('{limit: "nth_smallest(2, brakes.pad)", at_least: 5 mm}', ""),
    ],
)  # fmt: skip
def test_what_is_picked_by_a_place_that_an_entrant_may_choose_is_told(check: str, hint: str) -> None:
    found = list(picked_by_place(pack_of(f'"1": {{title: T, check: {check}}}', SEVERAL)))
    assert [problem.hint for problem in found] == ([hint] if hint else [])
    assert all((problem.code, problem.warning) == ("PK510", True) for problem in found)
    if hint and "neighbours" not in hint and "lamps" not in hint:
        cured = check.replace("first(", "min(").replace("last(", "max(").replace("nth(2", "nth_smallest(2")
        assert not list(picked_by_place(pack_of(f'"1": {{title: T, check: {cured}}}', SEVERAL)))
