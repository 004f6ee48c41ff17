"""Plain data of every kind, for laws."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from checker.reading.problems import Path
from checker.reading.values import Plain

WORDS_WITH_A_CATCH = (
    "",
    " ",
    "null",
    "~",
    "true",
    "no",
    "on",
    "3.1",
    "3.10",
    "1:30",
    "1_000",
    "0o17",
    "0x1F",
    "1e3",
    ".inf",
    ".nan",
    "-",
    "- a",
    "?",
    "a: b",
    "a:b",
    "a:",
    "a #b",
    "#a",
    "&a",
    "*a",
    "!a",
    "|",
    ">",
    "'a'",
    '"a"',
    "%a",
    "@a",
    "`a`",
    "{a}",
    "[a]",
    "---",
    "...",
    "<<",
    "=",
    "2026-03-01",
    "a\nb",
    "a\nb\n",
    "a\n\nb",
    "\na",
    " a\nb",
    "a \nb",
    "a\n",
    "a\n\n",
    "a\tb",
    "\t",
    "a\x1b[31m",
    "\x00",
    "\x85",
    "\u2028",
    "\ufeff",
    "\u202e",
    "é",
    "日本",
    "🏁",
    "\\",
    "k" * 200,
    "k" * 2000,
)
"""Texts that a careless writer or reader of YAML takes for something else."""

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12) | st.sampled_from(WORDS_WITH_A_CATCH)

decimals = st.builds(
    lambda digits, places: Fraction(digits, 10**places),
    st.integers(-(10**12), 10**12),
    st.integers(0, 9),
)

scalars = st.none() | st.booleans() | st.integers(-(10**39), 10**39) | decimals | texts

plain_data: st.SearchStrategy[Plain] = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4),
    max_leaves=15,
)

paths: st.SearchStrategy[Path] = st.lists(texts | st.integers(0, 999), max_size=5).map(tuple)


def same(left: object, right: object) -> bool:
    """Equal, and of the same types: 1 is not True, and 2 is not 2.0."""
    if isinstance(left, dict) and isinstance(right, dict):
        return list(left) == list(right) and all(same(left[key], right[key]) for key in left)
    if isinstance(left, list) and isinstance(right, list):
        return len(left) == len(right) and all(map(same, left, right))
    return type(left) is type(right) and left == right
