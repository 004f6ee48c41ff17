"""Reads one single value by its type, without what may stand beside it."""

from __future__ import annotations

import re
from contextlib import suppress
from fractions import Fraction
from typing import Any, NamedTuple

from checker.car.described.stated import WHAT_IF
from checker.car.described.vocabulary import FactType
from checker.car.reading.mistakes import Reader, name_of
from checker.quantities.days import parse_day, parse_month, parse_year
from checker.quantities.display import show_value
from checker.quantities.folding import spelt_like
from checker.quantities.kind import NUMBER, kind_in_words
from checker.quantities.literal import parse_literal, parse_quantity
from checker.quantities.misread import LiteralError
from checker.quantities.units import Unit
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path
from checker.reading.values import Plain

_YEAR, _MONTH = re.compile(r"[0-9]{4}"), re.compile(r"[0-9]{4}-[0-9]{2}")
DATE_EXAMPLES = {"day": "2026-03-01", "month": "2026-03", "year": "2026"}


class Single(NamedTuple):
    value: Any
    written: str
    unit: Unit | None = None


def read_single(reader: Reader, fact: FactType, path: Path, data: Plain) -> Single | None:
    """The value; None, with a problem noted, where it cannot be read as the type asks."""
    if data is None:
        _nothing(reader, wanted(fact), path)
        return None
    if isinstance(data, dict | list):
        hint = "it takes one value only" if isinstance(data, list) and not fact.several else ""
        reader.not_wanted(202, wanted(fact), *path, hint=hint)
        return None
    if fact.kind.name == "truth":
        return _truth(reader, path, data)
    if fact.kind.name == "date":
        one = _day(reader, fact, path, data)
    elif fact.kind.is_word:
        return _word(reader, fact, path, data)
    elif fact.whole:
        one = _count(reader, path, data)
    else:
        one = _measure(reader, fact, path, data)
    return one if one is not None and _within_bounds(reader, fact, path, one) else None


def _nothing(reader: Reader, wanted: str, path: Path) -> None:
    hint = "state a value, or take the line away"
    reader.problem(202, f"nothing is written for {name_of(path)}; {wanted} was wanted", *path, hint=hint)


def _truth(reader: Reader, path: Path, data: object) -> Single | None:
    if isinstance(data, bool):
        return Single(data, "true" if data else "false")
    reader.not_wanted(210, "true or false", *path, hint="write true or false")
    return None


def _count(reader: Reader, path: Path, data: object) -> Single | None:
    number = None if isinstance(data, bool) or not isinstance(data, int | Fraction) else Fraction(data)
    if number is not None and number < 0:
        reader.problem(207, f"{name_of(path)} is {number}; a count is 0 or more", *path)
        return None
    if number is None or number.denominator != 1:
        hint = "write it as a plain whole number, without a unit or quotes"
        reader.not_wanted(210, "a whole number", *path, hint=hint)
        return None
    return Single(number, str(number))


def _measure(reader: Reader, fact: FactType, path: Path, data: object) -> Single | None:
    """A number, quantity, percentage or calendar time."""
    if isinstance(data, int | Fraction) and not isinstance(data, bool) and fact.kind == NUMBER:
        return Single(Fraction(data), reader.document.written(path))
    quoted_number = fact.kind == NUMBER and not reader.document.is_plain(path)
    if isinstance(data, bool) or quoted_number:
        hint = "write it without quotes" if quoted_number else ""
        reader.not_wanted(210, wanted(fact), *path, hint=hint)
        return None
    text = str(data) if isinstance(data, str) else reader.document.written(path)
    currency = reader.vocabulary.currency
    try:
        literal = parse_quantity(text, fact.kind, currency, fact.unit)
    except LiteralError as error:
        code = 204 if _is_other_measure(text, currency) else 203
        message, within = f"{name_of(path)}: {error.message}", (error.start, error.end)
        reader.problem(code, message, *path, hint=error.hint, within=within)
        return None
    return Single(literal.value, text, literal.unit)


def _is_other_measure(text: str, currency: str | None) -> bool:
    """Whether the text is a sound literal, though not of the kind wanted, and not for want of a unit."""
    try:
        return parse_literal(text, currency).kind != NUMBER
    except LiteralError:
        return False


def _day(reader: Reader, fact: FactType, path: Path, data: object) -> Single | None:
    text = data.strip() if isinstance(data, str) else reader.document.written(path)
    if _YEAR.fullmatch(text):
        precision, parse = "year", parse_year
    elif _MONTH.fullmatch(text):
        precision, parse = "month", parse_month
    else:
        precision, parse = "day", parse_day
    if precision not in fact.precision and precision != "day":
        message = f"{name_of(path)}: {text} is only a {precision}; {wanted(fact)} was wanted"
        hint = f"write it as in {DATE_EXAMPLES[fact.precision[0]]}"
        if precision == "month" and fact.precision == ("day",):
            with suppress(ValueError):  # no month of the calendar
                hint = f"write the day too, {text}-01 to {parse_month(text).isoformat()}"
        reader.problem(206, message, *path, hint=hint)
        return None
    try:
        value = parse(text)
    except ValueError as error:
        less = next((word for word in fact.precision if word != "day" and precision == "day"), None)
        hint = "" if less is None else f"a {less} will do, as in {DATE_EXAMPLES[less]}"
        reader.problem(206, f"{name_of(path)}: {error}", *path, hint=hint)
        return None
    if precision not in fact.precision:
        message = f"{name_of(path)}: {text} is a day; {wanted(fact)} was wanted"
        reader.problem(206, message, *path, hint=f"write it as in {DATE_EXAMPLES[fact.precision[0]]}")
        return None
    return Single(value, text)


def _word(reader: Reader, fact: FactType, path: Path, data: object) -> Single | None:
    kind = fact.kind
    if isinstance(data, str) and len(data) > LONGEST_TEXT:
        message = f"{name_of(path)} is a text of {len(data)} characters; at most {LONGEST_TEXT} are read"
        reader.problem(117, message, *path, hint="keep what names it, and the rest in a comment")
        return None
    tree = reader.vocabulary.tree(kind)
    if kind.words is not None:
        written = data if isinstance(data, str) else reader.document.written(path)
        if (word := spelt_like(written, kind.words)) is not None:
            return Single(word, written)
        allowed = ", ".join(kind.words)
        hint = did_you_mean(written, kind.words) or f"write one of: {allowed}"
        message = f"{name_of(path)}: {written!r} is not among the words; allowed are {allowed}"
        reader.problem(205, message, *path, hint=hint)
        return None
    if isinstance(data, str) and not data.strip():
        _nothing(reader, "a text", path)
        return None
    if not isinstance(data, str):
        hint = "put it in quotes" if isinstance(data, int | Fraction) else ""
        reader.not_wanted(210, "a text", *path, hint=hint)
        return None
    if tree is None:
        return Single(data, data)
    known = tree.canonical(data)
    is_category = tree is reader.vocabulary.categories
    if known is None and (is_category or (fact.known_only and tree.words)):
        message = f"{name_of(path)}: the pack has no {tree.what} {data!r}"
        reader.problem(217 if is_category else 205, message, *path, hint=did_you_mean(data, tree.words))
        return None
    return Single(known or data, data)


def _within_bounds(reader: Reader, fact: FactType, path: Path, one: Single) -> bool:
    if fact.positive and one.value < 0:
        reader.problem(207, f"{name_of(path)} is {one.written}; it cannot be below zero", *path)
    elif fact.of_a_thing and one.value == 0 and reader.origin_at(path) != WHAT_IF:
        message = f"{name_of(path)} is {one.written}, taken for a slip: what is there weighs something"
        reader.problem(208, message, *path, hint="state what it weighs, or take the line away")
    elif (fact.low is not None and one.value < fact.low) or (fact.high is not None and one.value > fact.high):
        told = f"{name_of(path)} is {one.written}, taken for a slip: {expected_range(fact)} was expected"
        reader.problem(208, told, *path)
    else:
        return True
    return False


def wanted(fact: FactType) -> str:
    """What the type asks for, in words."""
    kind = fact.kind
    if fact.whole:
        return "a whole number"
    if kind.name == "date":
        return "a " + " or ".join(fact.precision)
    if kind.is_word:
        return "a word" if kind.words else "a text"
    if kind.name == "truth":
        return "true or false"
    return kind_in_words(kind)


def expected_range(fact: FactType) -> str:
    low, high = (show_value(bound, fact.kind, fact.unit) for bound in (fact.low, fact.high))
    if fact.low is None:
        return f"at most {high}"
    return f"at least {low}" if fact.high is None else f"{low} to {high}"


LONGEST_TEXT = 500
"""Characters of a fact: it must fit a line of a report."""
