"""Bulletins and approvals whose own papers are not in order."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.lint.everything import lint
from checker.reading.problems import InputError, Problem

EDITION = """\
pack: kart
edition: "1"
title: Kart rules
in_force: {from: 2026-01-01, until: 2026-12-31}
facts: {frame.width: {unit: mm}, frame.length: {unit: mm}}
clauses:
  "1": {title: Width, check: {limit: frame.width, at_most: 1400 mm}}
  "2": {title: Length, check: {limit: frame.length, at_most: 1900 mm}}
"""
APPROVAL = "reference: A-1, clauses: [{clause}], cars: ['27'], from: 2026-06-01, until: 2026-12-31, reason: R"
CHANGE = "{{change: '{clause}', at: check.at_most, for: {bound}, read: 2000 mm}}"
BULLETIN = """\
bulletin: B1
amends: {pack: kart, edition: "1"}
in_force: {from: 2026-06-01}
"""


def told(folder: Path, name: str, text: str) -> list[tuple[str, int, int]]:
    """Code, line and column of what reading the pack on a day reports; lint reports the same."""
    (folder / "edition.yaml").write_text(EDITION, encoding="utf-8")
    (folder / name).write_text(text, encoding="utf-8")
    try:
        load_pack(open_folder(folder), date(2026, 7, 1))
    except InputError as error:
        found = [place(problem) for problem in error.problems]
        assert [place(p) for p in lint(folder) if not p.warning] == found
        return found
    return []


def place(problem: Problem) -> tuple[str, int, int]:
    assert problem.span is not None
    return problem.code, problem.span.line, problem.span.column


@pytest.mark.parametrize(
    ("clause", "changes", "expected"),
    [
        ("'1'", "", []),
        ("'11'", "", [("PK602", 2, 32)]),
        ("'1'", CHANGE.format(clause="1", bound="1400 mm"), []),
        ("'1'", CHANGE.format(clause="1", bound="1300 mm"), [("PK630", 2, 148)]),
        ("'1'", CHANGE.format(clause="2", bound="1900 mm"), [("PK602", 2, 119)]),
    ],
    ids=["sound", "unknown clause", "with a change", "stale change", "change of a clause it is not for"],
)
def test_an_approval_is_held_against_the_pack_from_its_first_day(
    tmp_path: Path, clause: str, changes: str, expected: list[tuple[str, int, int]]
) -> None:
    entry = APPROVAL.format(clause=clause) + (f", changes: [{changes}]" if changes else "")
    assert told(tmp_path, "approvals.yaml", f"approvals:\n  - {{{entry}}}\n") == expected


@pytest.mark.parametrize(
    ("rest", "expected"),
    [
        ("reason: Supply\nchanges:\n  - {withdraw: '2'}\n", []),
        ("changes:\n  - {withdraw: '2'}\n", [("PK108", 1, 1)]),
        ("reason: Supply\nchanges: []\n", [("PK108", 5, 10)]),
        ("reason: Supply\nchanges:\n  - {withdraw: '3'}\n", [("PK602", 6, 16)]),
        ("reason: Supply\nchanges:\n  - {chang: '2', read: {}}\n", [("PK108", 6, 5)]),
    ],
    ids=["sound", "no reason", "no changes", "no such clause", "no such verb"],
)
def test_a_bulletin_says_what_and_why(
    tmp_path: Path, rest: str, expected: list[tuple[str, int, int]]
) -> None:
    assert told(tmp_path, "b1.yaml", BULLETIN + rest) == expected
