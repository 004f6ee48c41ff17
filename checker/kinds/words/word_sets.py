"""Sets of words in a check: written as a list, or given by a formula for each car.

A word that nothing can ever be is a mistake of the pack (204), with the nearest possible word as hint; so is one
that a formula may give, where its possible words are known (a table's cells).
"""

from __future__ import annotations

from collections.abc import Iterable

from checker.kinds.reading.listed_words import is_listed, listed_word, words_of
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.families import is_declared
from checker.quantities.formula.scope import Scope
from checker.quantities.kind import Kind, Unknown
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WordSet:
    """A set of words: fixed, or given by a formula for each car."""

    fixed: tuple[str, ...]
    formula: Expression | None

    def of(self, scene: object) -> tuple[str, ...] | Unknown:
        """The words, or Unknown (`NoLimit` where a table says so)."""
        if self.formula is None:
            return self.fixed
        found = self.formula.evaluate(scene)
        if isinstance(found, Unknown):
            return found
        return found if isinstance(found, tuple) else (found,)

    @property
    def is_declared(self) -> bool:
        """Whether its words are an entrant's, who may be vague."""
        kind = None if self.formula is None else self.formula.kind.element or self.formula.kind
        return kind is not None and is_declared(kind, self.formula is not None and self.formula.constant)

    @property
    def text(self) -> str:
        return ", ".join(self.fixed) if self.formula is None else self.formula.text


def read_words(reader: CheckReader, key: str, kinds: Iterable[Kind]) -> WordSet | None:
    """The words under `key`; None when they cannot be used (problems 204 and 302 noted).

    Args:
        kinds: What the words are compared with; a word must be possible for at least one of these.
    """
    value = reader.get(key)
    targets = tuple(kinds)
    if isinstance(value, str):
        return _from_formula(reader, key, value, targets)
    if not isinstance(value, list) or not value:
        reader.problem(302, f"`{key}` needs a list of words", key, hint=f"{key}: [first word, second word]")
        return None
    words = [_word(reader, key, place, word, targets) for place, word in enumerate(value)]
    return None if None in words else WordSet(tuple(w for w in words if w is not None), None)


def _word(reader: CheckReader, key: str, place: int, word: object, targets: tuple[Kind, ...]) -> str | None:
    if not isinstance(word, str):
        reader.problem(302, f"`{key}` needs words; this is none", key, place, hint="put it in quotes")
        return None
    possible = _possible(word, targets, reader.scope)
    if possible is None:
        _refuse(reader, word, targets, key, place)
    return possible


def _from_formula(reader: CheckReader, key: str, text: str, targets: tuple[Kind, ...]) -> WordSet | None:
    if any(listed_word(text, kind, reader.scope) for kind in targets):
        reader.problem(302, f"`{key}` needs a list of words", key, hint=f"{key}: [{text}]")
        return None
    expression = reader.formula(key)
    if expression is None:
        return None
    element = expression.kind.element if expression.kind.name == "list" else expression.kind
    if element is None or not element.is_word:
        reader.problem(302, f"`{key}` needs words; this formula gives {expression.kind}", key)
        return None
    strangers = [w for w in element.words or () if _possible(w, targets, reader.scope) is None]
    if strangers:
        _refuse(reader, strangers[0], targets, key)
        return None
    return WordSet((), expression)


def _refuse(reader: CheckReader, word: str, targets: tuple[Kind, ...], *keys: str | int) -> None:
    known = [w for kind in targets for w in words_of(kind, reader.scope)]
    named = " or ".join(dict.fromkeys(kind.tree or "possible word" for kind in targets))
    trees = {"category": "`categories`", "material": "`materials`"}
    sections = dict.fromkeys(trees[kind.tree] for kind in targets if kind.tree in trees)
    hint = did_you_mean(word, known) or (f"add it under {' or '.join(sections)}" if sections else "")
    reader.problem(204, f"'{word}' is no {named} of this pack", *keys, hint=hint)


def _possible(word: str, kinds: tuple[Kind, ...], scope: Scope) -> str | None:
    """The word as the pack writes it, if a value of one of the kinds can be it."""
    for kind in kinds:
        found = listed_word(word, kind, scope)
        if found is not None:
            return found
        if not is_listed(kind):
            return word
    return None
