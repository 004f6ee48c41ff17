"""One input and what it holds: from the value in a file to what stands in the fields, and back.

An amount stands in two fields, number and unit, wherever it can be put together again exactly; else it stands whole in
the first, as it is written.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from checker.pages.form.parts import Input
from checker.quantities.kind import NUMBER, TEXT
from checker.reading.patterns import pattern
from checker.reading.printer import number_text
from checker.reading.values import NumberError, Plain, understand

Filled = dict[str, list[str]]
"""What stands in the fields of a form, by their names; a field that may stand several times has several texts."""

UNIT: Final = "|unit"
KEY: Final = "|key"
WITH: Final = "|with"
PLUS_MINUS: Final = "|uncertainty"
NONE: Final = "|none"
DROP: Final = "|drop"
ORDER: Final = "|order"
MORE: Final = "|more"
WAY: Final = "|way"
"""Behind a field's name: its unit, the key that it stands under, and what else is asked of it."""

MOST_OF_ONE: Final = 200
"""So many texts of one field are looked at."""

_AMOUNT = pattern(r"([-+0-9./ ]*[0-9.])\s*")
_BARE = pattern(r"[-+]?[0-9./ ]*[0-9.]\s*")


def shown(part: Input, value: Plain, name: str) -> Filled | None:
    """What stands in the fields for a value; None where no field can hold it."""
    found: Filled = {}
    if isinstance(value, dict):
        if not part.instrumented or "value" not in value or value.keys() - {"value", "with", "uncertainty"}:
            return None
        beside = {WITH: value.get("with"), PLUS_MINUS: value.get("uncertainty")}
        for end, told in beside.items():
            if told is not None and not isinstance(told, str):
                return None
            found[name + end] = [told or ""]
        value = value["value"]
    if isinstance(value, list) and not part.fact.several:
        return None
    values = value if isinstance(value, list) else [value]
    if part.fact.kind == TEXT and any(isinstance(one, bool | int | Fraction) for one in values):
        return None  # 7 is no text and "7" is: typed anew, it is the text
    texts = [_text(one) for one in values]
    whole = [text for text in texts if text is not None]
    if len(whole) < len(texts) or len(whole) > MOST_OF_ONE or not all(map(_fits, whole)):
        return None
    if value == [] and part.fact.several:
        found[name + NONE] = ["yes"]
    unit = _common_unit(part, whole)
    if part.units:
        found[name + UNIT] = [unit if unit is not None else _first_unit(part, whole)]
    found[name] = [text.removesuffix(f" {unit}") for text in whole] if unit else whole
    if part.keys:
        found[name + KEY] = [part.key]
    return found


def taken(part: Input, filled: Filled, name: str) -> Plain:
    """The value that the fields tell; None where they are empty."""
    texts = [text.strip() for text in filled.get(name, ())][:MOST_OF_ONE]
    unit = one_of(filled, name + UNIT)
    values = [_value(part, text, unit) for text in texts if text]
    if not values:
        return [] if part.fact.several and one_of(filled, name + NONE) else None
    value: Plain = list(values) if part.fact.several else values[0]
    beside = {"with": one_of(filled, name + WITH), "uncertainty": one_of(filled, name + PLUS_MINUS)}
    if not any(beside.values()):
        return value
    return {"value": value, **{key: told for key, told in beside.items() if told}}


def one_of(filled: Mapping[str, list[str]], name: str) -> str:
    """The text of a field that stands once."""
    return next(iter(filled.get(name, ())), "").strip()


def _text(value: Plain) -> str | None:
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None or isinstance(value, str):
        return value or ""
    if isinstance(value, int | Fraction):
        return number_text(value)
    return None


def _fits(text: str) -> bool:
    """Whether a field keeps the text as it is: a browser drops what ends a line."""
    return text == text.strip() and text.isprintable()


def _common_unit(part: Input, texts: list[str]) -> str | None:
    """The unit that all texts end in, which can be put behind their numbers again; None where there is none."""
    units = {text[found.end() :] for text in texts if (found := _AMOUNT.match(text))}
    unit = next(iter(units)) if len(units) == 1 else ""
    if unit not in part.units or not texts:
        return None
    return (
        unit
        if all(text.endswith(f" {unit}") and _is_bare(text.removesuffix(f" {unit}")) for text in texts)
        else None
    )


def _first_unit(part: Input, texts: list[str]) -> str:
    """The unit that is offered: the first; none where texts that are written otherwise bear their own."""
    return "" if any(texts) and all(map(_is_bare, filter(None, texts))) else part.units[0]


def _is_bare(text: str) -> bool:
    return _BARE.fullmatch(text) is not None and text == text.strip()


def _value(part: Input, text: str, unit: str) -> Plain:
    kind, fact = part.fact.kind, part.fact
    if kind.name == "truth":
        return {"true": True, "false": False}.get(text, text)
    if fact.whole or kind == NUMBER:
        return _number(text)
    if part.units and unit and _is_bare(text):
        return f"{text} {unit}"
    return text


def _number(text: str) -> Plain:
    try:
        number = understand(text)
    except NumberError:
        return text
    return number if isinstance(number, int | Fraction) and not isinstance(number, bool) else text
