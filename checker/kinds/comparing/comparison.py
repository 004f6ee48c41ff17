"""What a change of a check means for a car."""

from __future__ import annotations

from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Comparison:
    change: str
    """same, tightened, relaxed or changed."""
    words: tuple[str, ...] = ()
    """What changed, each in a phrase: "at most 53.0 % becomes 52.4 %"."""
    by: str = ""
    """By how much, with unit, where it can be told."""


SAME = Comparison("same")


def together(comparisons: list[Comparison]) -> Comparison:
    """Several changes of one check as one."""
    real = [c for c in comparisons if c.change != "same"]
    if not real:
        return SAME
    kinds = {c.change for c in real}
    change = kinds.pop() if len(kinds) == 1 else "changed"
    by = "; ".join(dict.fromkeys(c.by for c in real if c.by))
    return Comparison(change, tuple(w for c in real for w in c.words), by)
