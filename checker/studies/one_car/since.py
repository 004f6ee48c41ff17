"""What changed for a car since an earlier report, clause by clause.

Two inspections are compared as the documents that reports are made of, so that a report kept from last season
can be compared with today's inspection, whatever became of the pack and the declaration since.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from checker.kinds.judging.assessment import DISPENSATION, FAIL, NOT_APPLICABLE, NOT_SHOWN, PASS, TOO_CLOSE

Data = dict[str, Any]
"""Plain data, as of an inspection's document."""

VERSION = 1

_RANK = {FAIL: 0, NOT_SHOWN: 1, TOO_CLOSE: 2, DISPENSATION: 3, NOT_APPLICABLE: 4, PASS: 4}
"""How good an outcome is for a car: what does not apply is as good as met."""

BETTER, WORSE, CHANGED, ADDED, WITHDRAWN = "better", "worse", "changed", "added", "withdrawn"

_ALSO = ("title", "severity", "act", "text", "interpretation", "consequence", "penalty", "approval")
"""Words of an outcome that are told when they differ and nothing else does."""


def since(earlier: Data, now: Data) -> Data:
    """The document of what changed.

    Args:
        earlier, now: Inspection documents of one car, version 1.

    Returns:
        {document: since, version, car, earlier, now, changes, unchanged}; a change is {clause, title, change,
        outcome, value, bound, margin, by, condition, words}, each of the middle ones {earlier, now} or null
        where it is the same.
    """
    before = {o["clause"]: o for o in earlier["outcomes"]}
    after = {o["clause"]: o for o in now["outcomes"]}
    order = dict.fromkeys([*after, *before])
    changes = [change for number in order if (change := _change(before.get(number), after.get(number)))]
    return {
        "document": "since",
        "version": VERSION,
        "checker": now["checker"],
        "car": now["car"],
        "earlier": _heading(earlier),
        "now": _heading(now),
        "set_ups": None,
        "changes": changes,
        "unchanged": len(order) - len(changes),
    }


def _heading(document: Data) -> Data:
    """What a report was made of."""
    pack = document["pack"]
    return {
        "on": document["on"],
        "for": document["for"],
        "complies": document["complies"],
        "edition": pack["edition"],
        "bulletins": pack["bulletins"],
        "pack_sha256": pack["sha256"],
        "car_sha256": document["car"]["sha256"],
        "what_if": document["what_if"],
    }


def _change(before: Data | None, after: Data | None) -> Data | None:
    """What is different of one clause; None where nothing is."""
    if before is None or after is None:
        told = after or before or {}
        return _told(told, before, after, ADDED if before is None else WITHDRAWN, None)
    ranks = _RANK[before["outcome"]], _RANK[after["outcome"]]
    by = _by(before["margin"], after["margin"])
    if all(before[key] == after[key] for key in _COMPARED) and not any(_other_words(before, after)):
        return None
    if ranks[0] != ranks[1]:
        kind = BETTER if ranks[1] > ranks[0] else WORSE
    elif by is not None and Fraction(by["exact"]):
        kind = BETTER if Fraction(by["exact"]) > 0 else WORSE
    else:
        kind = CHANGED
    return _told(after, before, after, kind, by)


_COMPARED = ("outcome", "value", "bound", "margin", "condition")


def _told(clause: Data, before: Data | None, after: Data | None, kind: str, by: Data | None) -> Data:
    both: dict[str, object] = {}
    for key in _COMPARED:
        pair = (before[key] if before else None, after[key] if after else None)
        both[key] = None if pair[0] == pair[1] else {"earlier": pair[0], "now": pair[1]}
    words = [] if before is None or after is None else list(_other_words(before, after))
    return {
        "clause": clause["clause"],
        "title": clause["title"],
        "severity": clause["severity"],
        "change": kind,
        **both,
        "by": by,
        "words": words,
        "act": after["act"] if after else "",
    }


def _other_words(before: Data, after: Data) -> Iterator[Data]:
    for key in _ALSO:
        if before[key] != after[key] and not (key == "act" and _by_plan(before) != _by_plan(after)):
            yield {"what": key, "earlier": before[key], "now": after[key]}


def _by_plan(outcome: Data) -> bool:
    """Whether a plan told what to do: another way of telling it is no change of the car."""
    return any("at" in act for act in outcome.get("acts", ()))


def _by(before: Data | None, after: Data | None) -> Data | None:
    """How much more is in hand, in the margins' unit; None where the two cannot be compared."""
    if not before or not after or before["unit"] != after["unit"]:
        return None
    if not before["exact"] or not after["exact"]:
        return None
    more = Fraction(after["exact"]) - Fraction(before["exact"])
    return {"exact": f"{more.numerator}/{more.denominator}", "unit": after["unit"]}
