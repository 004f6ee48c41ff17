"""What the combining kinds share: branches, their sentence and their comparison."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any

from checker.kinds.comparing.meaning import meaning
from checker.kinds.frame.framed import Framed, compare_checks
from checker.kinds.judging.assessment import (
    FAIL,
    NOT_APPLICABLE,
    NOT_SHOWN,
    PASS,
    TOO_CLOSE,
    Amount,
    Assessment,
    not_shown,
)
from checker.kinds.judging.check import Check, Comparison, together
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import NUMBER, unite


def list_schema(key: str, what: str) -> dict[str, Any]:
    """Schema of a combination that is a list of checks."""
    return {
        "required": [key],
        "properties": {
            key: {"type": "array", "minItems": 1, "items": {"$ref": "#/$defs/check"}, "description": what}
        },
    }


def count_schema(key: str, what: str) -> dict[str, Any]:
    """Schema of a combination that is a count and a list of checks."""
    return {
        "required": [key],
        "properties": {
            key: {
                "type": "object",
                "required": ["count", "of"],
                "additionalProperties": False,
                "description": what,
                "properties": {
                    "count": {"type": "integer", "minimum": 0},
                    "of": {"type": "array", "minItems": 1, "items": {"$ref": "#/$defs/check"}},
                },
            }
        },
    }


def joined(checks: Sequence[Check], word: str) -> str:
    """The sentences of branches in one."""
    return f" {word} ".join(f"({c.sentence()})" if len(checks) > 1 else c.sentence() for c in checks)


def no_expressions() -> Iterator[tuple[str, Expression]]:
    return iter(())


def compare_branches(older: Sequence[Check], newer: Sequence[Check], more_is_tighter: bool) -> Comparison:
    """Branches in whatever order: each against its like, then what came or went."""
    gone, extra = list(older), list(newer)
    found: list[Comparison] = []
    for alike in (_same, _same_subject, _same_kind):
        for new in list(extra):
            old = next((one for one in gone if alike(one, new)), None)
            if old is not None:
                gone.remove(old)
                extra.remove(new)
                found.append(compare_checks(new, old))
    more, less = ("tightened", "relaxed") if more_is_tighter else ("relaxed", "tightened")
    found.extend(Comparison(more, (f"{one.sentence()} is new",)) for one in extra)
    found.extend(Comparison(less, (f"{one.sentence()} is gone",)) for one in gone)
    return together(found)


def _same(older: Check, newer: Check) -> bool:
    return older.kind == newer.kind and compare_checks(newer, older).change == "same"


def _same_subject(older: Check, newer: Check) -> bool:
    """Whether both speak of the same thing."""
    return older.kind == newer.kind and _subject(older) == _subject(newer)


def _subject(check: Check) -> list[object]:
    inner = check.check if isinstance(check, Framed) else check
    return [meaning(e) for role, e in inner.expressions() if role in ("limit", "of", "valid", "holds")]


def _same_kind(older: Check, newer: Check) -> bool:
    return older.kind == newer.kind


def at_most_met(found: list[Assessment], count: int, words: str) -> Assessment:
    """At most `count` branches are met: decided if the undecided ones cannot change it.

    The margin is `count` minus the branches known to be met, in branches.
    """
    found = open_to_choice(found)
    met = [a for a in found if a.outcome == PASS]
    open_ = [a for a in found if a.outcome in (NOT_SHOWN, TOO_CLOSE)]
    margin = Amount(Fraction(count - len(met)), NUMBER)
    if len(met) > count:
        told = ", ".join(a.item or a.text or "one branch" for a in met)
        return Assessment(
            FAIL,
            margin=margin,
            branches=tuple(found),
            unknown=unite(a.unknown for a in open_),
            act=f"give up {'one' if len(met) - count == 1 else len(met) - count} of: {told}",
            text=f"{words}; {len(met)} are met",
        )
    if len(met) + len(open_) <= count:
        return Assessment(PASS, margin=margin, branches=tuple(found))
    outcome = NOT_SHOWN if any(a.outcome == NOT_SHOWN for a in open_) else TOO_CLOSE
    if len(met) + sum(a.outcome == NOT_SHOWN for a in open_) <= count:
        outcome = TOO_CLOSE
    return Assessment(outcome, branches=tuple(found), unknown=unite(a.unknown for a in open_))


def open_to_choice(found: Sequence[Assessment]) -> list[Assessment]:
    """Branches to choose from: one of which it is not known whether it is open to the car is not shown.

    A branch that may be closed to the car must not be what it passes by.
    """
    return [
        a
        if a.doubt is None or a.outcome == NOT_APPLICABLE
        else not_shown(unite([a.doubt, a.unknown]), branches=(a,))
        for a in found
    ]


def applicable(found: Sequence[Assessment]) -> list[Assessment]:
    """Branches that are open to this car."""
    return [a for a in found if a.outcome != NOT_APPLICABLE]


def reversed_comparison(comparison: Comparison) -> Comparison:
    """What makes a branch easier to meet makes it harder to meet none: the other way round, for the whole."""
    swap = {"tightened": "relaxed", "relaxed": "tightened"}
    return Comparison(swap.get(comparison.change, comparison.change), comparison.words, comparison.by)
