"""What stands in another notation, found where a mistake is: rules of patterns, the first of which speaks.

For messages only, so loaded when something is wrong.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass

FREE = r"(?<![\w.,])"
"""Nothing of a name or number stands before."""
Cure = str | None
Rule = tuple["re.Pattern[str]", str | Callable[["re.Match[str]", str | None], Cure]]
"""A pattern, and the cure: as a template of what was found, or made from that and the pack's currency."""


@dataclass(frozen=True, slots=True)
class OtherWay:
    """What was written another way: from where to where, and the cure."""

    start: int
    end: int
    hint: str


def first_of(
    rules: tuple[Rule, ...], text: str, start: int, end: int, currency: str | None
) -> OtherWay | None:
    """What the first rule says that finds something at the mistake, or right before it."""
    searched = masked(text)
    for rule, cure in rules:
        for found in rule.finditer(searched):
            stop = found.end() + len(searched[found.end() :]) - len(searched[found.end() :].lstrip())
            if found.start() >= max(end, start + 1) or start > stop:
                continue
            if hint := found.expand(cure) if isinstance(cure, str) else cure(found, currency):
                return OtherWay(*found.span(), unmasked(hint))
    return None


def masked(text: str) -> str:
    """The text with its texts in quotes as signs that no rule looks for, as long as it was."""
    return _TEXT.sub(lambda found: "".join(map(_hidden, found[0])), text)


def _hidden(sign: str) -> str:
    return chr(_HIDDEN + ord(sign)) if ord(sign) < _HIDEABLE else sign


def unmasked(text: str) -> str:
    """What `masked` hid, again as it was."""
    return "".join(
        chr(ord(sign) - _HIDDEN) if 0 <= ord(sign) - _HIDDEN < _HIDEABLE else sign for sign in text
    )


_HIDDEN = 0xF0000
"""Where signs of private use begin that no keyboard has."""
_HIDEABLE = 0x10000
"""How many those are. No rule looks for signs beyond the first so many."""
_TEXT = pattern(r"(?<![0-9])'[^']*'|(?<![0-9])\"[^\"]*\"")
"""A text in quotes, in which nothing is an amount. Behind a digit the mark is one of feet or inches."""
