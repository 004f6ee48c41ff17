"""Comparing two checks of one kind: which way a change goes for a car."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from checker.kinds.comparing.comparison import SAME, Comparison
from checker.kinds.comparing.meaning import same_meaning
from checker.kinds.comparing.monotonic import Shift, choices, shift
from checker.kinds.judging.bounds import BoundExpression, phrase
from checker.quantities.display import decimal_text, show
from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Unknown
from checker.quantities.sense import Sense
from checker.quantities.units import Unit


def compare_text(what: str, older: str, newer: str) -> Comparison:
    """A part that either stayed or changed, without a direction."""
    if older == newer:
        return SAME
    if not older:
        return Comparison("changed", (f"{what} {newer} is new",))
    if not newer:
        return Comparison("changed", (f"{what} {older} is gone",))
    return Comparison("changed", (f"{what}: {older} becomes {newer}",))


def compare_formulas(what: str, older: Expression | None, newer: Expression | None) -> Comparison:
    """A formula that either still means the same or changed, without a direction."""
    if same_meaning(older, newer):
        return SAME
    return compare_text(what, _text(older), _text(newer))


def _text(expression: Expression | None) -> str:
    return "" if expression is None else expression.text


def compare_moving(words: str, older: Expression, newer: Expression, rising_is_tighter: bool) -> Comparison:
    """A formula that is higher or lower than before: which way that goes, and by how much where it can be told."""
    if same_meaning(older, newer):
        return SAME
    a, b = _constant(older), _constant(newer)
    if a is not None and type(a) is type(b) and not isinstance(a, (bool, tuple)):
        rises = _place(b, newer) > _place(a, older)
        by = _by(a, b, newer)
    elif (moved := shift(older, newer)) is not None:
        rises, by = moved.sign > 0, _shift_by(moved)
    elif (apart := _apart(older, newer)) is not None:
        rises, by = apart
    else:
        return Comparison("changed", (words,))
    return Comparison("tightened" if rises == rising_is_tighter else "relaxed", (words,), by)


def _apart(older: Expression, newer: Expression) -> tuple[bool, str] | None:
    """Whether every amount that the newer may give lies above (or below) every amount of the older, and by how much."""
    before, after = choices(older), choices(newer)
    if not before or not after or not all(isinstance(value, Fraction) for value in (*before, *after)):
        return None
    if min(after) >= max(before):
        rises, least, most = True, min(after) - max(before), max(after) - min(before)
    elif max(after) <= min(before):
        rises, least, most = False, min(before) - max(after), max(before) - min(after)
    else:
        return None
    unit = newer.written_unit(None, (0,)) or older.written_unit(None, (0,))
    return rises, " to ".join(_shown(size, unit) for size in dict.fromkeys((least, most)))


def _shown(size: Fraction, unit: Unit | None) -> str:
    return decimal_text(size) if unit is None else show(size, unit.step)


def _shift_by(moved: Shift) -> str:
    if moved.by is None:
        return ""
    literal = moved.literal
    is_day = literal is not None and literal.kind.name == "date"
    return _shown(moved.by, None if literal is None else literal.unit) + (" days" if is_day else "")


def compare_bounds(older: Sequence[BoundExpression], newer: Sequence[BoundExpression]) -> list[Comparison]:
    """Bound by bound: a bound that is new tightens, one that is gone relaxes, one that moved does either."""
    old, new = {b.sense: b.expression for b in older}, {b.sense: b.expression for b in newer}
    found: list[Comparison] = []
    for strict, loose in ((Sense.ABOVE, Sense.AT_LEAST), (Sense.BELOW, Sense.AT_MOST)):
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
    old: dict[Sense, Expression], new: dict[Sense, Expression], strict: Sense, loose: Sense
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


def _moved(sense: Sense, older: Expression, newer: Expression) -> Comparison:
    words = f"{phrase(sense, older.text)} becomes {newer.text}"
    if sense in (Sense.EXACTLY, Sense.NOMINAL):
        return SAME if same_meaning(older, newer) else Comparison("changed", (words,))
    return compare_moving(words, older, newer, sense.is_lower)


def _place(value: object, expression: Expression) -> Any:
    if isinstance(value, str):
        order = [fold(word) for word in expression.kind.words or ()]
        return order.index(fold(value)) if fold(value) in order else 0
    return value


def _constant(expression: Expression) -> object:
    return expression.value if expression.constant and not isinstance(expression.value, Unknown) else None


def _by(a: Any, b: Any, newer: Expression) -> str:
    if isinstance(a, Fraction):
        return _shown(abs(b - a), newer.written_unit(None, (0,)))
    if isinstance(a, str):
        return ""
    days = abs((b - a).days)
    return f"{days} day{'' if days == 1 else 's'}"


def compare_sources(older: Sequence[Expression], newer: Sequence[Expression]) -> Comparison:
    """What a check on words looks at."""
    if len(older) == len(newer) and all(map(same_meaning, older, newer)):
        return SAME
    return compare_text("of", *(" and ".join(e.text for e in side) for side in (older, newer)))


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
