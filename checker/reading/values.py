"""What a file can say, and how an unquoted word is understood.

The rules are the core schema of YAML 1.2 (section 10.3.2), which leaves `no`, `on`, `1:30` and `2026-03-01`
text; a number is exact, made from its digits and never by way of a binary float.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final, TypeAlias

from checker.reading.patterns import pattern

Plain: TypeAlias = "dict[str, Plain] | list[Plain] | str | int | Fraction | bool | None"
"""What a file can say; the keys of mappings are text."""

DEEPEST: Final = 40
"""Levels of lists and mappings inside each other that a file may have."""

MOST_DIGITS: Final = 40
LARGEST_EXPONENT: Final = 30

NOT_ONLY_TEXT: Final = frozenset("0123456789+-.nNtTfF~")
"""An unquoted word that begins with none of these is text for certain."""

WORDS: Final[dict[str, bool | None]] = {
    "": None,
    **dict.fromkeys(("null", "Null", "NULL", "~")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}
_DECIMAL: Final = pattern(r"([-+]?)(?:([0-9]+)(?:\.([0-9]*))?|\.([0-9]+))(?:[eE]([-+]?[0-9]+))?")
_OTHER_BASE: Final = pattern(r"0o[0-7]+|0x[0-9a-fA-F]+")
_NOT_FINITE: Final = pattern(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")


class NumberError(ValueError):
    """A number that is not finite or out of all proportion; its text is fit for a user."""


class NumberAsWritten(Fraction):
    """A number with a point or an exponent, with its text."""

    __slots__ = ("text",)
    text: str


def number_in(text: str) -> int | NumberAsWritten | None:
    """The number that a text means, which tells how it is written; None where it is none, or does not tell.

    Raises:
        NumberError: As `understand`.
    """
    number = understand(text)
    if type(number) is int:
        return number if str(number) == text else None
    if type(number) is not Fraction:
        return None
    written = NumberAsWritten(number)
    written.text = text
    return written


def text_of_number(value: Plain) -> str | None:
    """How a number of `number_in` is written; None of anything else."""
    if type(value) is NumberAsWritten:
        return value.text
    return str(value) if type(value) is int else None


def understand(word: str) -> str | int | Fraction | bool | None:
    """What an unquoted word means.

    A number with a point or an exponent is a `Fraction`, also where it is whole.

    Raises:
        NumberError: It is infinite, not a number, or longer or larger than any measurement.
    """
    if word in WORDS:
        return WORDS[word]
    found = _DECIMAL.fullmatch(word)
    if found is None:
        return _rarely(word)
    sign, whole, after_point, only_after_point, exponent = found.groups()
    decimals = after_point or only_after_point or ""
    digits = (whole or "") + decimals
    if len(digits) > MOST_DIGITS:
        raise NumberError(f"this number has {len(digits)} digits; at most {MOST_DIGITS} are read")
    number = int(sign + digits)
    if exponent is None and after_point is None and only_after_point is None:
        return number
    power = 0
    if exponent is not None:
        if len(exponent) > 9 or abs(int(exponent)) > LARGEST_EXPONENT:
            raise NumberError(
                f"the exponent of this number is beyond {LARGEST_EXPONENT}: it is no measurement"
            )
        power = int(exponent)
    power -= len(decimals)
    return Fraction(number, 10**-power) if power < 0 else Fraction(number * 10**power)


def _rarely(word: str) -> str | int:
    if _OTHER_BASE.fullmatch(word):
        if len(word) - 2 > MOST_DIGITS:
            raise NumberError(f"this number has {len(word) - 2} digits; at most {MOST_DIGITS} are read")
        return int(word, 0)
    if _NOT_FINITE.fullmatch(word):
        raise NumberError(f"{word} is not a number that anything can measure")
    return word
