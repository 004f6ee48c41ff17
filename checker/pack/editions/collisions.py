"""Bulletins of one day that touch one place."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TypeAlias

from checker.pack.editions.bulletins import Amendment, Bulletin, named
from checker.reading.problems import Path, Problems

Touch: TypeAlias = "tuple[Path, Bulletin, Amendment]"
"""A place in the pack, and the change of a bulletin that touches it."""


def refuse_collisions(touched: Sequence[Touch], problems: Problems) -> None:
    """Two bulletins of one first day may not touch one path: neither would speak before the other (631).

    Each place is looked up by its path and by those above it, so work grows with the number of changes alone.
    """
    at: dict[tuple[date, Path], dict[int, Touch]] = {}
    below: dict[tuple[date, Path], dict[int, Touch]] = {}
    for touch in touched:
        path, bulletin, _ = touch
        day = bulletin.first_day
        above = [(day, path[:n]) for n in range(len(path))]
        near = [at.get(key, {}) for key in (*above, (day, path))] + [below.get((day, path), {})]
        for earlier in (one for by_bulletin in near for one in by_bulletin.values()):
            if earlier[1] is not bulletin:
                _collision(earlier, touch, problems)
        at.setdefault((day, path), {}).setdefault(id(bulletin), touch)
        for key in above:
            below.setdefault(key, {}).setdefault(id(bulletin), touch)


def _collision(earlier: Touch, later: Touch, problems: Problems) -> None:
    (a, first, one), (b, second, other) = earlier, later
    message = (
        f"bulletins {first.name} and {second.name}, both of {first.first_day.isoformat()}, touch"
        f" {named(min(a, b, key=len))}"
    )
    where = second.document.span((*other.place, other.verb))
    related = (("the other change", first.document.span((*one.place, one.verb))),)
    hint = "put both changes into one bulletin, or give one a later first day"
    problems.add("PK631", message, where, hint=hint, related=related)
