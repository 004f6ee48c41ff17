"""One word for one thing: what a user reads never falls back to a word that was given up for a plainer one."""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

import pytest

from checker.kinds.judging.assessment import NOT_SHOWN
from checker.report.wording import outcome_word
from tests.conftest import ROOT
from tests.test_imports import MODULES
from tests.test_names import tree_of

GIVEN_UP = {
    r"\bnot shown\b(?! to)": "not declared, not yet checked (`outcome_word`); of a number, not known",
    r"^not settled|^unsettled \w|WEIGHT OPEN|cannot be said to": "undecided",
    r"taken as given": "assumed",
    r"\bgear (?:leaves|resolves|cannot|explains)|\bbetter gear\b|\bthe gear has\b|## Gear": (
        "measuring error; scales, gauges and tapes"
    ),
    r"with a probability": "so many chances in 100 (`chance_words`)",
    r"tightest margins?": "closest to the limit",
    r"what came of it|how it is judged|how it was worked out": "verdict, the check, working",
    r"advice, which": "advisory only",
    r"^older$": "earlier-built cars",
    r"look at again": "re-check",
    r"ballast in all\b|\brev cut\b|wheel mass|\bside bars\b|papers at hand|adjusting from": "the rulebook's titles",
    r"fuel unusable|unusable fuel": "fuel that can't be drawn",
    r"\bWGH\b": "weighed",
    r"whom the change": "who is affected",
    r"\bevery digit\b": "all digits typed",
}
"""Patterns of words that were given up, and what is said instead."""
RULES_OWN = ("checker/kinds/", "checker/pack/", "checker/quantities/", "checker/car/")
"""They read and word the language of rules, which has `unusable` and `not shown` as words of its own."""


@cache
def sentences(file: Path) -> tuple[str, ...]:
    """Every text in a module but docstrings, attributes' too; read once for all words."""
    tree = tree_of(file)
    told = {
        id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)
    }  # a text that stands alone is a docstring
    return tuple(
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told
    )


@pytest.mark.parametrize("given_up", GIVEN_UP)
def test_a_word_that_was_given_up_is_nowhere(given_up: str) -> None:
    found = [
        f"{file.relative_to(ROOT)}: {text.strip()[:80]}"
        for file in MODULES
        if not str(file.relative_to(ROOT)).startswith(RULES_OWN)
        for text in sentences(file)
        if re.search(given_up, text, re.IGNORECASE)
    ]
    assert found == [], GIVEN_UP[given_up]


def test_what_is_missing_is_called_by_who_is_told() -> None:
    assert outcome_word(NOT_SHOWN, "entrant") == "not declared"
    assert outcome_word(NOT_SHOWN, "official") == "not yet checked"
