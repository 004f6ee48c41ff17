"""What the kinds on words share: who offends and what to do, their formulas, and how two lists compare."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from checker.car.scene import ITEM, Scene
from checker.kinds.comparing.changes import compare_formulas, compare_sources, compare_words
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, PASS, Amount, Assessment
from checker.kinds.judging.check import Comparison, together
from checker.kinds.words.members import Finding, Source
from checker.kinds.words.word_sets import WordSet
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import NUMBER, Unknown


def offence(
    offenders: list[Finding],
    unknown: Unknown,
    scene: Scene,
    one_item: bool,
    act: Callable[[Finding], str],
    text: Callable[[Finding], str],
) -> Assessment:
    """Judge the words that were looked at.

    Args:
        offenders: Words that break the rule for certain.
        unknown: What is not shown about the others.
        scene: Where the entry stands, for its name and how often it stands.
        one_item: Count entries, not words.
        act: What to do about one offender.
        text: What is wrong with it.
    """
    entry = scene.names.get(ITEM)
    standing = int(getattr(entry, "standing", 1))
    if not offenders:
        if unknown.says:
            return Assessment(NOT_SHOWN, unknown=unknown)
        return Assessment(PASS, margin=Amount(Fraction(0), NUMBER), met_by_nature=True)
    count = standing if one_item else len(offenders)
    acts = dict.fromkeys(act(bad) + (f" in {bad.owner}" if bad.owner else "") for bad in offenders)
    texts = dict.fromkeys((f"{bad.owner}: " if bad.owner else "") + text(bad) for bad in offenders)
    return Assessment(
        FAIL,
        margin=Amount(Fraction(-count), NUMBER),
        met_by_nature=True,
        unknown=unknown,
        act="; ".join(acts),
        text="; ".join(texts),
    )


def expressions_of(key: str, sources: tuple[Source, ...], words: WordSet) -> Iterator[tuple[str, Expression]]:
    """The formulas of a check on words: where it looks, and the words where a formula gives them."""
    for source in sources:
        yield "of", source.expression
    if words.formula is not None:
        yield key, words.formula


def compare_lists(
    key: str,
    older: tuple[WordSet, tuple[Source, ...]],
    newer: tuple[WordSet, tuple[Source, ...]],
    *,
    more_is_tighter: bool,
) -> Comparison:
    """Two lists of words and where they look: what came, what went, and which way that goes."""
    (old_words, old_sources), (new_words, new_sources) = older, newer
    return together(
        [
            compare_words(key, old_words.fixed, new_words.fixed, more_is_tighter=more_is_tighter),
            compare_formulas(key, old_words.formula, new_words.formula),
            compare_sources([s.expression for s in old_sources], [s.expression for s in new_sources]),
        ]
    )
