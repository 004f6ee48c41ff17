"""Words compare without regard to case and doubled blanks."""

from __future__ import annotations

from functools import lru_cache


@lru_cache(4096)
def fold(word: str) -> str:
    """The form in which two spellings of one word are equal."""
    return " ".join(word.split()).casefold()
