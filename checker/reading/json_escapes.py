"""Surrogate pairs: how JSON escapes a character beyond U+FFFF, as in `"\\ud83c\\udfc1"`.

YAML takes JSON for a part of itself, but libyaml refuses these escapes, which many programs write. Each half
is hidden from it as an escape, of the same length, for a character of the private use area that the text does
not have; so all places stay right, and what libyaml reads can be restored exactly.
"""

from __future__ import annotations

import re
from typing import Final

from checker.reading.events import NextEvent, ParserEvent
from checker.reading.patterns import pattern

_PAIR: Final = pattern(r"\\\\|\\u([dD][89abAB][0-9a-fA-F]{2})\\u([dD][c-fC-F][0-9a-fA-F]{2})")
_BY_ITSELF: Final = pattern(r"[\ue000-\uf8ff]|\\(?:u|U0000)([ef][0-9a-f]{3})", re.IGNORECASE)
_PRIVATE_USE: Final = range(0xE000, 0xF8FF + 1)


class HiddenPairs:
    """A text with its surrogate pairs hidden, and the way back. `text` is as long as the original."""

    def __init__(self, original: str) -> None:
        taken = {int(found[1], 16) if found[1] else ord(found[0]) for found in _BY_ITSELF.finditer(original)}
        self._free = (code for code in _PRIVATE_USE if code not in taken)
        self._high: dict[str, str] = {}
        self._low: dict[str, str] = {}
        self.text = _PAIR.sub(self._hide, original)
        self._spelling = {stand_in: half for half, stand_in in (*self._high.items(), *self._low.items())}
        high, low = (
            "".join(chr(int(code, 16)) for code in half.values()) for half in (self._high, self._low)
        )
        self._pair = re.compile(f"([{high}])([{low}])") if high and low else None

    def _hide(self, found: re.Match[str]) -> str:
        if found[1] is None:
            return found[0]
        return f"\\u{self._stand_in(self._high, found[1])}\\u{self._stand_in(self._low, found[2])}"

    def _stand_in(self, halves: dict[str, str], half: str) -> str:
        if half not in halves:
            code = next(self._free, None)
            if code is None:
                return half  # libyaml will refuse it
            halves[half] = f"{code:04x}"
        return halves[half]

    def restored(self, value: str, in_double_quotes: bool) -> str:
        """What a scalar of the original says, by what libyaml read of the hidden text."""
        if self._pair is None:
            return value
        if in_double_quotes:
            return self._pair.sub(self._character, value)
        return re.sub(
            r"\\u([ef][0-9a-f]{3})", lambda found: f"\\u{self._spelling.get(found[1], found[1])}", value
        )

    def _character(self, found: re.Match[str]) -> str:
        high, low = (int(self._spelling[f"{ord(half):04x}"], 16) for half in found.groups())
        return chr(0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00))


def hide_surrogate_pairs(text: str) -> HiddenPairs | None:
    """The text with its pairs hidden; None where it has none."""
    return HiddenPairs(text) if "\\u" in text and _PAIR.search(text) else None


def restoring(next_event: NextEvent, hidden: HiddenPairs) -> NextEvent:
    """`next_event` for a hidden text, as if it were for the original."""

    def next_restored() -> ParserEvent:
        event = next_event()
        value = getattr(event, "value", None)
        if value is not None:
            event.value = hidden.restored(value, event.style == '"')
        return event

    return next_restored
