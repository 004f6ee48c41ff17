"""The digits of a literal: whole numbers, decimals and fractions, exactly, and what is refused in them."""

from __future__ import annotations

import re
from fractions import Fraction

from checker.quantities.misread import CANNOT_BE_READ, LiteralError
from checker.reading.patterns import pattern

MOST_DIGITS = 40
"""The most digits that one number may have."""

FRACTION = pattern(r"(?:([0-9]+)[ \t\r\n]+)?([0-9]+)/([0-9]+)(?![0-9.])")
DECIMAL = pattern(r"([0-9]+)(?:\.([0-9]+))?")


def fraction_of(found: re.Match[str]) -> Fraction:
    """`5/8`, or `1 5/8` with its whole number."""
    above, below = _whole(found, 2), _whole(found, 3)
    if below == 0:
        raise LiteralError(CANNOT_BE_READ, f"{found[0]} divides by zero", "", found.start(), found.end())
    if found[1] is None:
        return Fraction(above, below)
    if above >= below:
        message = f"{found[0]} cannot be read: the fraction after a whole number is less than one"
        raise LiteralError(CANNOT_BE_READ, message, "write it as in 1 1/2", found.start(), found.end())
    return _whole(found, 1) + Fraction(above, below)


def decimal_of(found: re.Match[str]) -> Fraction:
    decimals = found[2] or ""
    if len(found[1] + decimals) > MOST_DIGITS:
        raise _too_many_digits(found, 0)
    return _whole(found, 1) + Fraction(int(decimals or "0"), 10 ** len(decimals))


def _whole(found: re.Match[str], group: int) -> int:
    digits = found[group]
    if len(digits) > MOST_DIGITS:
        raise _too_many_digits(found, group)
    if digits[0] == "0" and digits != "0":
        message, hint = f"{digits} begins with a zero too many", f"write {digits.lstrip('0') or '0'}"
        raise LiteralError(CANNOT_BE_READ, message, hint, *found.span(group))
    return int(digits)


def _too_many_digits(found: re.Match[str], group: int) -> LiteralError:
    message = f"{found[group][:12]}... has more than {MOST_DIGITS} digits"
    return LiteralError(CANNOT_BE_READ, message, "write it shorter", *found.span(group))
