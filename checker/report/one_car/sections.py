"""Which sections the text of an inspection has, and what stands in them; the document made for it holds no more."""

from __future__ import annotations

from checker.kinds.judging.assessment import DISPENSATION, FAIL, NOT_APPLICABLE, NOT_SHOWN, PASS, TOO_CLOSE
from checker.pack.model import ADVISORY
from checker.report.amounts import Data

MANY = 8
"""Of more clauses that are not shown, what each lacks is told in one list."""

TIGHTEST = 5
"""How many of the clauses that are closest to their limits are listed."""

COUNTED = {
    "entrants_word": "{} on {}",
    "not_stated": "{} not stated and taken as usual",
    "scales": "{} about the scales",
    "no_error_stated": "readings without a stated error as exact",
}
"""What is assumed and only counted, unless all of it is asked for."""


def is_sketch(document: Data) -> bool:
    """Whether more clauses are not shown than are: then one screen tells what is known, what not, and what next."""
    counts = document["counts"]
    return bool(counts[NOT_SHOWN] > MANY and 2 * counts[NOT_SHOWN] > sum(counts.values()))


def is_told_of(outcome: Data) -> bool:
    """Whether there is more to say of a clause than that it is met: it is not, or only by an approval."""
    return outcome["outcome"] not in (PASS, NOT_APPLICABLE) or outcome["approval"] is not None


def is_by_approval(outcome: Data) -> bool:
    """Met only because the organising body has permitted it."""
    return outcome["approval"] is not None and outcome["outcome"] in (DISPENSATION, PASS)


def is_told_as_advice(outcome: Data) -> bool:
    return outcome["severity"] == ADVISORY and outcome["outcome"] in (FAIL, TOO_CLOSE, NOT_SHOWN)
