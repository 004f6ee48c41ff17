"""Patterns that are compiled when they are first used: few runs use many of them, and compiling takes its time."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

__all__ = ["pattern"]


class _Pattern:
    """A pattern that will be compiled; then its methods are those of the compiled one."""

    def __init__(self, text: str, flags: int = 0) -> None:
        self._given = text, flags

    def __getattr__(self, name: str) -> Any:
        found = getattr(re.compile(*self._given), name)
        setattr(self, name, found)
        return found


if TYPE_CHECKING:
    from re import compile as pattern
else:
    pattern = _Pattern
