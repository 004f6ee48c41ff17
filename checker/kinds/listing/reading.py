"""Reading a closed list of values: each must be of the kind that is looked at."""

from __future__ import annotations

from checker.kinds.listing.value_list import Values
from checker.kinds.reading.listed_words import is_plain_word
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Kind


def value_kind(looked_at: Expression) -> Kind | None:
    """The kind of one of the values looked at; None where these are no values but words or entries."""
    element = looked_at.kind.element or looked_at.kind
    return element if element.is_measure or element.name in ("date", "truth") else None


def read_values(reader: CheckReader, key: str, kind: Kind) -> Values | None:
    """The list under `key`; None when it cannot be used (the problems are noted)."""
    given = reader.get(key)
    if isinstance(given, list) and given:
        found = [_value(reader, key, place, kind) for place in range(len(given))]
        known = tuple(one for one in found if one is not None)
        if len(known) < len(found):
            return None
        moving = next((place for place, one in enumerate(known) if not one.constant), None)
        if moving is not None:
            hint = f"write a formula that gives the whole list, {key}: lengths(class), or a limit"
            reader.problem(302, "a list holds values, never formulas", key, moving, hint=hint)
            return None
        return Values(known, None, kind)
    formula = reader.formula(key) if isinstance(given, str) else None
    if formula is None:
        if not isinstance(given, str):
            hint = f"{key}: [first value, second value]"
            reader.problem(302, f"`{key}` needs a list of values", key, hint=hint)
        return None
    element = formula.kind.element if formula.kind.name == "list" else formula.kind
    if formula.constant or element is None or not element.same_measure(kind):
        message = f"`{key}` needs a list of values of the kind of `of`, {kind}; this is {formula.kind}"
        reader.problem(302, message, key, hint=f"{key}: [{given}]" if formula.constant else "")
        return None
    return Values((), formula, kind)


def _value(reader: CheckReader, key: str, place: int, kind: Kind) -> Expression | None:
    """One value of the list; None when it is none (the problem is noted)."""
    written = reader.get(key)[place]
    if isinstance(written, str) and is_plain_word(written) and not reader.knows(written):
        reader.problem(302, f"'{written}' is a word, and `of` looks at {kind}", key, place)
        return None
    return reader.formula(key, place, expected=kind, what=f"`{key}`")
