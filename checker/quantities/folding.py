"""Words compare without regard to case and doubled blanks."""

from __future__ import annotations


def fold(word: str) -> str:
    """The form in which two spellings of one word are equal."""
    return " ".join(word.split()).casefold()
