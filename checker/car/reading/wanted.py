"""What the type of a value asks for, in words."""

from __future__ import annotations

from datetime import date
from typing import Any

from checker.car.described.vocabulary import FactType
from checker.quantities.display import decimal_text, show
from checker.quantities.kind import kind_in_words

DATE_EXAMPLES = {"day": "2026-03-01", "month": "2026-03", "year": "2026"}


def wanted(fact: FactType) -> str:
    """What the type asks for, in words."""
    kind = fact.kind
    if fact.whole:
        return "a whole number"
    if kind.name == "date":
        return "a " + " or ".join(fact.precision)
    if kind.is_word:
        return "a word" if kind.words else "a text"
    if kind.name == "truth":
        return "true or false"
    return kind_in_words(kind)


def expected_range(fact: FactType) -> str:
    low, high = (_in_unit(fact, bound) for bound in (fact.low, fact.high))
    if fact.low is None:
        return f"at most {high}"
    return f"at least {low}" if fact.high is None else f"{low} to {high}"


def _in_unit(fact: FactType, bound: Any) -> str:
    if bound is None or isinstance(bound, date):
        return str(bound)
    return show(bound, fact.unit) if fact.unit else decimal_text(bound)
