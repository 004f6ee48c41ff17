"""Comparing two checks of one kind: which way a change goes for a car."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from checker.kinds.shared.bounds import BoundExpression
from checker.kinds.shared.check import SAME, Comparison
from checker.kinds.shared.wording import phrase
from checker.quantities.display import show
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Unknown
from checker.quantities.words import fold

_RISING = ("at_least", "above", "minus")
_WIDENING = ("plus", "minus")


def compare_text(what: str, older: str, newer: str) -> Comparison:
    """A part that either stayed or changed, without a direction."""
    if older == newer:
        return SAME
    if not older:
        return Comparison("changed", (f"{what} {newer} is new",))
    if not newer:
        return Comparison("changed", (f"{what} {older} is gone",))
    return Comparison("changed", (f"{what}: {older} becomes {newer}",))


def compare_bounds(older: Sequence[BoundExpression], newer: Sequence[BoundExpression]) -> list[Comparison]:
    """Bound by bound: a bound that is new tightens, one that is gone relaxes, one that moved does either."""
    old, new = {b.sense: b.expression for b in older}, {b.sense: b.expression for b in newer}
    found: list[Comparison] = []
    for strict, loose in (("above", "at_least"), ("below", "at_most")):
        found.extend(_strictness(old, new, strict, loose))
    for sense in dict.fromkeys([*old, *new]):
        if sense not in new:
            found.append(Comparison("relaxed", (f"{phrase(sense, old[sense].text)} is gone",)))
        elif sense not in old:
            found.append(Comparison("tightened", (f"{phrase(sense, new[sense].text)} is new",)))
        else:
            found.append(_moved(sense, old[sense], new[sense]))
    return found


def _strictness(
    old: dict[str, Expression], new: dict[str, Expression], strict: str, loose: str
) -> list[Comparison]:
    """`at_least 5` against `above 5`: the same bound, now strict or no longer so."""
    for before, after, change in ((loose, strict, "tightened"), (strict, loose, "relaxed")):
        if before in old and after in new and before not in new and after not in old:
            a, b = old.pop(before), new.pop(after)
            words = f"{phrase(before, a.text)} becomes {phrase(after, b.text)}"
            moved = _moved(before, a, b)
            same = moved.change in ("same", change)
            return [Comparison(change if same else "changed", (words,), moved.by)]
    return []


def _moved(sense: str, older: Expression, newer: Expression) -> Comparison:
    a, b = _constant(older), _constant(newer)
    if older.text == newer.text or (a is not None and a == b and older.kind.same_measure(newer.kind)):
        return SAME
    words = f"{phrase(sense, older.text)} becomes {newer.text}"
    if a is None or b is None or type(a) is not type(b):
        return Comparison("changed", (words,))
    if sense in ("exactly", "nominal"):
        return Comparison("changed", (words,))
    rises = _place(b, newer) > _place(a, older)
    tighter = not rises if sense in _WIDENING else rises == (sense in _RISING)
    return Comparison("tightened" if tighter else "relaxed", (words,), _by(a, b, newer))


def _place(value: Any, expression: Expression) -> Any:
    if isinstance(value, str):
        order = [fold(word) for word in expression.kind.words or ()]
        return order.index(fold(value)) if fold(value) in order else 0
    return value


def _by(a: Any, b: Any, newer: Expression) -> str:
    if isinstance(a, Fraction) and isinstance(b, Fraction):
        unit = newer.written_unit(None, (0,))
        return show(abs(b - a), unit) if unit is not None else str(abs(b - a))
    if isinstance(a, str):
        return ""
    return f"{abs((b - a).days)} days"


def _constant(expression: Expression) -> Any:
    if not expression.constant:
        return None
    value = expression.value
    return None if isinstance(value, Unknown) else value


def compare_words(what: str, older: Sequence[str], newer: Sequence[str], more_is_tighter: bool) -> Comparison:
    """Two sets of words: what came, what went, and which way that goes."""
    old, new = {fold(w): w for w in older}, {fold(w): w for w in newer}
    came = [new[w] for w in new if w not in old]
    went = [old[w] for w in old if w not in new]
    if not came and not went:
        return SAME
    words = []
    if came:
        words.append(f"{what}: {', '.join(came)} added")
    if went:
        words.append(f"{what}: {', '.join(went)} taken out")
    if came and went:
        return Comparison("changed", tuple(words))
    return Comparison("tightened" if bool(came) == more_is_tighter else "relaxed", tuple(words))
