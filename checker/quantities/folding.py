"""Words compare without regard to case and doubled blanks."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache


@lru_cache(4096)
def fold(word: str) -> str:
    """The form in which two spellings of one word are equal."""
    return " ".join(word.split()).casefold()


def spelt_like(word: str, words: Iterable[str]) -> str | None:
    """The first of some words that is the same as this one, as it is spelt there; None where none is."""
    return next((one for one in words if fold(one) == fold(word)), None)
