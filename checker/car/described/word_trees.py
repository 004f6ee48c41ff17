"""Words that belong to words: materials in families, categories in paths.

`aluminium` belongs to `light metal`; `brakes/disc` belongs to `brakes`. A word that no tree knows
belongs to nothing *as far as we can tell*: the answer is unknown, not no, so that a misspelt alloy
does not slip past a ban.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from checker.quantities.folding import fold


class Tree:
    """A closed set of words and which of them belong to which.

    Args:
        what: "material" or "category", for messages.
        members: each word with the words that stand directly below it.
        things: words with others below them that are things of their own too, not families alone.
    """

    __slots__ = ("_above", "_known", "_meant", "what")

    def __init__(self, what: str, members: Mapping[str, Iterable[str]], things: Iterable[str] = ()) -> None:
        self.what = what
        self._known: dict[str, str] = {}
        parents: dict[str, set[str]] = {}
        for word, below in members.items():
            self._known.setdefault(fold(word), word)
            for member in below:
                self._known.setdefault(fold(member), member)
                parents.setdefault(fold(member), set()).add(fold(word))
        self._above = {word: _all_above(word, parents) for word in self._known}
        self._meant: dict[str, list[str]] = {}
        single = {fold(word) for word in things}
        for word, above in self._above.items():
            for family in above - single:
                self._meant.setdefault(family, []).append(self._known[word])

    @classmethod
    def of_paths(cls, what: str, paths: Iterable[str]) -> Tree:
        """A tree of slash-separated paths; every leading part is a word, and a family unless it is a path itself."""
        paths = list(paths)
        members: dict[str, list[str]] = {}
        for path in paths:
            parts = path.split("/")
            for end in range(1, len(parts) + 1):
                word = "/".join(parts[:end])
                members.setdefault(word, [])
                if end > 1:
                    members["/".join(parts[: end - 1])].append(word)
        return cls(what, members, paths)

    @property
    def words(self) -> tuple[str, ...]:
        return tuple(self._known.values())

    def same_as(self, other: Tree) -> bool:
        """Whether both know the same words, and the same of each."""
        return self._known == other._known and self._above == other._above

    def canonical(self, word: str) -> str | None:
        """The word as the pack writes it, or None if the tree does not know it."""
        return self._known.get(fold(word))

    def belongs(self, word: str, family: str) -> bool | None:
        """Whether `word` is `family` or stands below it; None when the tree does not know the word."""
        a, b = fold(word), fold(family)
        if a == b:
            return True
        if a not in self._known:
            return None
        return b in self._above[a]

    def families(self, word: str) -> tuple[str, ...]:
        """The words that `word` belongs to, without itself."""
        return tuple(self._known[w] for w in self._known if w in self._above.get(fold(word), ()))

    def meant(self, word: str) -> Sequence[str]:
        """The words that a vague one may stand for: all below a family; none for what is a thing of its own."""
        return self._meant.get(fold(word), ())


def _all_above(word: str, parents: Mapping[str, set[str]]) -> frozenset[str]:
    above: set[str] = set()
    waiting = list(parents.get(word, ()))
    while waiting:
        parent = waiting.pop()
        if parent not in above:
            above.add(parent)
            waiting.extend(parents.get(parent, ()))
    return frozenset(above)
