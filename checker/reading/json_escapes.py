"""Surrogate pairs: how JSON escapes a character beyond U+FFFF, as in `"\\ud83c\\udfc1"`.

YAML takes JSON for a subset of itself, but libyaml refuses these escapes, which many programs write. They
are hidden from it as escapes of the same length for characters of the private use area, so that all places
stay right, and restored in what it reads.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, Final

_PAIR: Final = re.compile(
    r"\\\\|\\u([dD])([89abAB])([0-9a-fA-F]{2})\\u([dD])([c-fC-F])([0-9a-fA-F]{2})",
)
_IN_THE_WAY: Final = re.compile(r"[\ue000-\uedff]|\\(?:u|U0000)[eE][0-9a-dA-D]")
_HIDDEN_PAIR: Final = re.compile(r"([\ue000-\ue5ff])([\ue600-\uedff])")
_HIDDEN_ESCAPE: Final = re.compile(r"(\\u)([eE])([0-9a-d])")

# The second hexadecimal digit of a surrogate, in either case, and the one that stands for it.
_HIDE: Final = dict(zip("89aAbBcCdDeEfF", "0123456789abcd", strict=True))
_RESTORE: Final = {hidden: digit for digit, hidden in _HIDE.items()}


def hide_surrogate_pairs(text: str) -> str | None:
    """`text` with the pairs hidden, of the same length; None where there is nothing to hide.

    A text that uses the same private characters itself is left alone: then libyaml refuses the pairs.
    """
    if "\\u" not in text or _IN_THE_WAY.search(text):
        return None
    hidden = _PAIR.sub(_hide, text)
    return None if hidden == text else hidden


def _hide(found: re.Match[str]) -> str:
    if found[0] == "\\\\":
        return found[0]
    letters = {"d": "e", "D": "E"}
    high = f"\\u{letters[found[1]]}{_HIDE[found[2]]}{found[3]}"
    return f"{high}\\u{letters[found[4]]}{_HIDE[found[5]]}{found[6]}"


def restoring(next_event: Callable[[], Any]) -> Callable[[], Any]:
    """`next_event`, with the hidden pairs in what it returns restored."""

    def next_restored() -> Any:
        event = next_event()
        value = getattr(event, "value", None)
        if value is not None:
            if event.style == '"':
                event.value = _HIDDEN_PAIR.sub(_character, value)
            else:
                event.value = _HIDDEN_ESCAPE.sub(_escape, value)
        return event

    return next_restored


def _character(found: re.Match[str]) -> str:
    high, low = (
        0xD000 + int(f"{_RESTORE[format(ord(half), 'x')[1]]}00", 16) + (ord(half) & 0xFF)
        for half in found.groups()
    )
    return chr(0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00))


def _escape(found: re.Match[str]) -> str:
    return found[1] + {"e": "d", "E": "D"}[found[2]] + _RESTORE[found[3]]
