"""How the frame of a check differs from that of an older one."""

from __future__ import annotations

from collections.abc import Iterator

from checker.car.described.vocabulary import Condition
from checker.kinds.comparing.changes import compare_formulas, compare_text
from checker.kinds.comparing.comparison import SAME, Comparison
from checker.kinds.frame.frame import Frame
from checker.reading.quick_dataclasses import replace


def compare_frames(older: Frame, newer: Frame) -> Iterator[Comparison]:
    """What has become of each part of the frame."""
    yield compare_text("goes through", _many_words(older), _many_words(newer))
    yield compare_formulas("where", older.where, newer.where)
    yield compare_formulas("when", older.when, newer.when)
    yield compare_formulas("unless", older.unless, newer.unless)
    yield _conditions(older.conditions, newer.conditions)
    yield compare_text("binds", *("" if side.days is None else side.days.words for side in (older, newer)))
    before, after = dict(older.names), dict(newer.names)
    for name in dict.fromkeys([*before, *after]):
        yield compare_formulas(f"{name} =", before.get(name), after.get(name))


def _many_words(check: Frame) -> str:
    if check.many is None:
        return ""
    lengths = (
        f" of {check.many.shortest} to {check.many.longest or 'all'}" if check.many.mode == "runs" else ""
    )
    if_none = f", if none: {check.many.if_none}" if check.many.if_none else ""
    return f"{check.many.words}{lengths}{if_none}"


def _conditions(older: tuple[Condition, ...], newer: tuple[Condition, ...]) -> Comparison:
    """A condition more tightens, one less relaxes; what a condition is called does not matter, but what it is."""
    before, after = ([replace(c, name="", words="") for c in side] for side in (older, newer))
    gone = [c for c, bare in zip(older, before, strict=True) if bare not in after]
    new = [c for c, bare in zip(newer, after, strict=True) if bare not in before]
    words = tuple(
        f"in {c.name}{f' ({c.words})' if c.words else ''} is {said}"
        for side, said in ((gone, "gone"), (new, "new"))
        for c in side
    )
    if gone and new:
        return Comparison("changed", words)
    return Comparison("tightened" if new else "relaxed", words) if words else SAME
