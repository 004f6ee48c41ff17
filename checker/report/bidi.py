"""Names in letters that run from right to left, in sentences that run from left to right.

Each run of such letters is isolated, so that it turns no number or sign beside it round.
"""

from __future__ import annotations

from collections.abc import Callable

from checker.reading.patterns import pattern

_FROM_RIGHT = "[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff\U00010800-\U00010fff\U0001e800-\U0001efff]"
_RUN = pattern(f"{_FROM_RIGHT}(?:[^A-Za-z]*{_FROM_RIGHT})?")
_ISOLATE, _END = "\N{FIRST STRONG ISOLATE}", "\N{POP DIRECTIONAL ISOLATE}"


def isolated(text: str, around: Callable[[str], str] = lambda run: f"{_ISOLATE}{run}{_END}") -> str:
    """The text with each run of letters from right to left put apart by `around`."""
    return _RUN.sub(lambda run: around(run[0]), text)
