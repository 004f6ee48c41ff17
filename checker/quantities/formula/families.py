"""Words by what they belong to: a word or what stands below it is in, what stands above it may be, all else is out.

What an entrant declares may be vague, never what a rule names: `light metal` may be magnesium, so whether it is banned
is not known until it is said which.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from functools import lru_cache

from checker.quantities.folding import fold, spelt_like
from checker.quantities.formula.scope import WordTree
from checker.quantities.kind import Kind, Unknown, unite
from checker.quantities.reason import NoValue
from checker.reading.nearest import nearest

MOST_REMEMBERED = 4096
"""Answers on words that are remembered."""

WordTest = Callable[[str, Sequence[str]], "str | Unknown | None"]
"""From a word and a set to the word of the set that it is or belongs to; None for none; Unknown where it may be one."""


def word_test(tree: WordTree | None, *, vague: bool = False) -> WordTest:
    """How words are looked for in sets.

    Args:
        tree: The tree that the words stand in; None: words that belong to nothing but themselves.
        vague: The words of the set are declared too, so that a family among them is not known either.
    """

    def found(word: str, words: Sequence[str]) -> str | Unknown | None:
        if tree is None or not vague:
            return _found_by_rule(tree, word, tuple(words))
        unsure = [w for w in words if tree.meant(w) and (tree.belongs(word, w) or tree.belongs(w, word))]
        surely = _found_by_rule(tree, word, tuple(w for w in words if w not in unsure))
        return unite(may_be(w, tree.meant(w)) for w in unsure) if unsure and surely is None else surely

    return found


@lru_cache(maxsize=MOST_REMEMBERED)
def _found_by_rule(tree: WordTree | None, word: str, words: tuple[str, ...]) -> str | Unknown | None:
    """The same words are asked for of car after car."""
    same = spelt_like(word, words)
    if same is not None or tree is None:
        return same
    strange = [not_known(tree, one) for one in (word, *words) if tree.canonical(one) is None]
    family = next((one for one in words if tree.belongs(word, one)), None)
    if family is not None:
        return family
    meant = below(tree, word, words)
    doubts = [*strange, may_be(word, meant)] if meant else strange
    return unite(doubts) if doubts else None


def is_one_of(
    tree: WordTree | None, word: str, words: Sequence[str], *, vague: bool = False
) -> bool | Unknown:
    """Whether a word is or belongs to one of a set; `vague`: of words that are declared too."""
    found = word_test(tree, vague=vague)(word, words)
    return found if isinstance(found, Unknown) else found is not None


def same_word(
    words: tuple[str, str], trees: tuple[WordTree | None, WordTree | None], declared: tuple[bool, bool]
) -> bool | Unknown:
    """Whether two words are one; unknown where a word that is declared may be meant otherwise, or nobody knows it."""
    x, y = words
    if fold(x) == fold(y):
        meant = trees[0].meant(x) if trees[0] is not None and all(declared) else ()
        return may_be(x, meant) if meant else True
    doubts = []
    for tree, word, other, vague in zip(trees, (x, y), (y, x), declared, strict=True):
        if tree is not None and tree.canonical(word) is None:
            doubts.append(not_known(tree, word))
        elif tree is not None and vague and below(tree, word, (other,)):
            doubts.append(may_be(word, (other,)))
    return unite(doubts) if doubts else False


def is_declared(kind: Kind, constant: bool) -> bool:
    """Whether words of that kind are an entrant's, who may be vague; a rule's are written out, or cells of a table."""
    return not constant and kind.words is None


def below(tree: WordTree, word: str, others: Collection[str]) -> list[str]:
    """The words of a set that a vague word may stand for, or what else it may that belongs to one of them."""
    meant = tree.meant(word)
    others = [one for one in others if not tree.belongs(word, one)]
    named = [one for one in others if tree.canonical(one) in meant]
    return named or [one for one in meant if any(tree.belongs(one, other) for other in others)]


MOST_NAMED = 5
"""Of the members of a family that may be meant, in a sentence."""


def may_be(word: str, meant: Sequence[str]) -> Unknown:
    """What a word is that stands above others: nothing is told of it until it is said which of them is meant."""
    named = meant if len(meant) <= MOST_NAMED else [*meant[: MOST_NAMED - 1], "another"]
    told = " or ".join(filter(None, (", ".join(named[:-1]), named[-1])))
    return Unknown.because(NoValue.MAY_BE, word, told)


def not_known(tree: WordTree, word: str) -> Unknown:
    """What a word is that its tree does not know: it may be misspelt, so nothing is told of it."""
    meant = nearest(word, tree.words)
    if meant is None:
        return Unknown.because(NoValue.NOT_KNOWN, word, tree.what)
    return Unknown.because(NoValue.MISSPELT, word, tree.what, meant)


class Kin(str):
    """A word with the words it belongs to, folded, the nearest first: it finds a table's row for any of them."""

    __slots__ = ("families",)
    families: tuple[str, ...]

    @classmethod
    def of(cls, word: str, tree: WordTree) -> object:
        made = cls(word)
        nearest_first = sorted(tree.families(word), key=lambda family: -len(tree.families(family)))
        made.families = tuple(map(fold, nearest_first))
        return made


def nearness(word: object, words: Collection[object]) -> int | None:
    """How far above a value the nearest of some words or values stands, 0 for itself; None where none does."""
    kin = (fold(word), *getattr(word, "families", ())) if isinstance(word, str) else (word,)
    return next((place for place, one in enumerate(kin) if one in words), None)
