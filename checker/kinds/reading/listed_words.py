"""Words that a value can be, where a pack lists them: those of a tree, or of `one_of`."""

from __future__ import annotations

from checker.quantities.folding import fold
from checker.quantities.formula.scope import Scope
from checker.quantities.kind import Kind
from checker.reading.patterns import pattern

_PLAIN_WORDS = pattern(r"[A-Za-z][A-Za-z0-9_/ -]*\Z")
"""Text that may have been meant as a word, not as a formula."""
_OPERATORS = pattern(r"\b(if|else|and|or|not|in)\b")


def is_plain_word(text: str) -> bool:
    """Whether a text may have been meant as a word, not as a formula."""
    return bool(_PLAIN_WORDS.match(text)) and not _OPERATORS.search(text)


def is_listed(kind: Kind) -> bool:
    """Whether the words of this kind are known."""
    return kind.tree is not None or kind.words is not None


def listed_word(word: str, kind: Kind, scope: Scope) -> str | None:
    """The word as the pack writes it, if a value of `kind` can be it and its words are listed."""
    if kind.tree is not None:
        return scope.trees[kind.tree].canonical(word)
    return next((w for w in kind.words or () if fold(w) == fold(word)), None)


def words_of(kind: Kind, scope: Scope) -> tuple[str, ...]:
    """The words that a value of this kind can be; none where they are not known."""
    return scope.trees[kind.tree].words if kind.tree is not None else (kind.words or ())
