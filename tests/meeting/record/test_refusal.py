"""Every code is in the table, every code of the table is used, and every one that can be met is met in a test."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from checker.meeting.record.refusal import CODES, problem
from tests.conftest import ROOT

_CODE = re.compile(r"\bMT(\d{3})\b")
_READERS = {f"MT{number}" for number in (100, *range(110, 122))}
"""Codes of `checker.reading.strict_yaml` and `file_bytes`, for files that this folder reads."""


def codes_in(folder: Path) -> set[str]:
    text = "".join(file.read_text("utf-8") for file in folder.rglob("*.py") if file.name != "refusal.py")
    return {f"MT{number}" for number in re.findall(r"[\"']MT(?:[\"'], )?(\d{3})\b", text)}


def test_every_code_that_is_raised_stands_in_the_table_and_the_other_way_round() -> None:
    used = codes_in(ROOT / "checker" / "meeting")
    assert used - set(CODES) == set()
    assert set(CODES) - used - _READERS == set()


def test_every_code_is_met_in_a_test() -> None:
    tests = "".join(
        file.read_text("utf-8")
        for folder in ("meeting", "cli", "report")
        for file in (ROOT / "tests" / folder).rglob("test_*.py")
        if file.name != "test_refusal.py"
    )
    met = {f"MT{number}" for number in _CODE.findall(tests)}
    assert set(CODES) - met - _READERS == set()


def test_a_code_that_is_not_in_the_table_cannot_be_used() -> None:
    with pytest.raises(KeyError):
        problem("MT999", "no such code")
