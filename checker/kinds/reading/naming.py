"""What can be a name in formulas."""

from __future__ import annotations

RESERVED = frozenset({"and", "or", "not", "in", "if", "else", "for", "true", "false"})
"""Words that formulas are made of."""


def is_name(word: str) -> bool:
    """Whether formulas can name something so: letters of ASCII, digits and `_`, beginning with a letter."""
    return word.isascii() and word.isidentifier() and not word.startswith("_") and word not in RESERVED
