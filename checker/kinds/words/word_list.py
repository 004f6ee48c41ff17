"""A list of words that alone may be used, or that may not: one idea with two signs, `allowed` and `banned`."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from fractions import Fraction
from typing import ClassVar, Self, TypeVar

from checker.car.scene import ITEM, Scene
from checker.kinds.comparing.changes import compare_formulas, compare_sources, compare_words
from checker.kinds.comparing.comparison import Comparison, together
from checker.kinds.contract.check import Check, uses
from checker.kinds.contract.values import Occurring
from checker.kinds.contract.writing import Writing
from checker.kinds.judging.acts import Act, Do, all_of
from checker.kinds.judging.assessment import (
    FAIL,
    NO_LIMIT,
    NOT_SHOWN,
    PASS,
    Amount,
    Assessment,
    DecisionRule,
    not_shown,
)
from checker.kinds.judging.findings import Offends, all_found
from checker.kinds.listing.reading import read_values, value_kind
from checker.kinds.listing.value_list import ValueList
from checker.kinds.reading.reader import CheckReader
from checker.kinds.words.members import WordFound, WordSource, findings, looked_at, sources_in, sources_of
from checker.kinds.words.word_sets import WordSet, read_words
from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import NUMBER, TEXT, Kind, Unknown, unite
from checker.reading.quick_dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class WordList(Check):
    """Words that are looked at, and a list that they may not, or may alone, belong to."""

    bans: ClassVar[bool]
    """What belongs to the list offends; else what does not."""
    kind: ClassVar[str]
    summed: ClassVar[bool] = True

    words: WordSet
    sources: tuple[WordSource, ...]
    one_item: bool
    """It stands directly in a check for many: an entry offends once, however many of its words do."""

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:  # noqa: ARG002 (words are never near)
        words = self.words.of(scene)
        if isinstance(words, NoLimit):
            return NO_LIMIT
        if isinstance(words, Unknown):
            return not_shown(words)
        found = findings(self.sources, words, scene, only_own=self.bans, vague=self.words.is_declared)
        offenders = [f for f in found if f.unknown is None and bool(f.belongs_to) == self.bans]
        unknown = unite(f.unknown for f in found if f.unknown is not None)
        if offenders:
            return self._offence(offenders, unknown, scene, words)
        if unknown.is_told:
            return Assessment(NOT_SHOWN, unknown=unknown)
        return Assessment(PASS, margin=Amount(Fraction(0), NUMBER), met_by_nature=True)

    def _offence(
        self, offenders: list[WordFound], unknown: Unknown, scene: Scene, words: tuple[str, ...]
    ) -> Assessment:
        count = self._standing(scene) or sum(bad.standing for bad in offenders)
        return Assessment(
            FAIL,
            margin=Amount(Fraction(-count), NUMBER),
            met_by_nature=True,
            unknown=unknown,
            act=all_of(self._act(bad, words) for bad in offenders),
            finding=all_found(*(self._told(bad) for bad in offenders)),
        )

    def _standing(self, scene: Scene) -> int:
        """How often the entry stands that is looked at; 0: each word counts."""
        return int(getattr(scene.names.get(ITEM), "standing", 1)) if self.one_item else 0

    def _act(self, bad: WordFound, words: tuple[str, ...]) -> Act:
        if self.bans:
            do = Do.MAKE_OF_ANOTHER if self._is_material(bad.word) else Do.REMOVE_OR_REPLACE
            return Act(do, start=bad.owner, options=(replace(self._told(bad), owner=""),))
        return Act(Do.REPLACE, bad.word, start=bad.owner, wanted=tuple(Amount(w, TEXT) for w in words))

    def _is_material(self, word: str) -> bool:
        """It is what a thing is made of: the thing itself may have to stay."""
        return {s.kind.tree for s in self.sources if s.knows(word)} == {"material"}

    def _told(self, bad: WordFound) -> Offends:
        family = "" if not self.bans or fold(bad.word) == fold(bad.belongs_to) else bad.belongs_to
        return Offends(bad.word, bad.owner, family, self.bans)

    def write_outcome(self, write: Writing) -> str:
        return write.remembered(self, uses(self), self._rests_on)

    def _rests_on(self, scene: Scene) -> tuple[Hashable, ...]:
        words = looked_at(self.words, self.sources, scene)
        return (self._standing(scene), *words) if words else ()

    def margin_kinds(self) -> frozenset[Kind]:
        return frozenset({NUMBER})

    def sentence(self) -> str:
        looked_at = " and ".join(s.expression.text for s in self.sources)
        return f"{looked_at}: {'no' if self.bans else 'only'} {self.words.text}"

    def words_named(self) -> tuple[str, ...]:
        return self.words.fixed

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        return expressions_of(self.kind, self.sources, self.words)

    def subject(self) -> tuple[Expression, ...]:
        return tuple(source.expression for source in self.sources)

    @property
    def longer_list_tightens(self) -> bool:
        return self.bans

    larger_family_tightens = longer_list_tightens

    def compared_with(self, older: Self) -> Comparison:
        before, after = older.words, self.words
        return together(
            [
                compare_words(self.kind, before.fixed, after.fixed, more_is_tighter=self.bans),
                compare_formulas(self.kind, before.formula, after.formula),
                compare_sources(older.subject(), self.subject()),
            ]
        )

    def always_or_never(self, occurring: Occurring) -> tuple[str, str] | None:  # noqa: ARG002 (words have no ends)
        source = self.sources[0]
        if len(self.sources) > 1 or source.kind.words is None or self.words.formula is not None:
            return None
        if not {fold(word) for word in source.kind.words} <= {fold(word) for word in self.words.fixed}:
            return None
        says = "never" if self.bans else "always"
        return f"{says} true: these are all the words that {source.expression.text} can be", self.kind


def expressions_of(
    key: str, sources: tuple[WordSource, ...], words: WordSet
) -> Iterator[tuple[str, Expression]]:
    """The formulas of a check on words: where it looks, and the words where a formula gives them."""
    for source in sources:
        yield "of", source.expression
    if words.formula is not None:
        yield key, words.formula


Of = TypeVar("Of", bound=WordList)


def read_list(reader: CheckReader, made: type[Of], default_fields: tuple[str, ...]) -> Check | None:
    """The list under the key of a kind, of words or of values; None when it cannot be used (the problems are noted).

    Args:
        default_fields: What is looked at of a component where `of` is not given.
    """
    looked_at = reader.optional("of")
    if looked_at is not None and (kind := value_kind(looked_at)) is not None:
        values = read_values(reader, made.kind, kind)
        tolerance = reader.default_tolerance(kind)
        return None if values is None else ValueList(made.kind, made.bans, looked_at, values, tolerance)
    if reader.has("of"):
        sources = None if looked_at is None else sources_in(reader, looked_at)
    else:
        sources = sources_of(reader, made.kind, default_fields)
    if sources is None:
        return None
    words = read_words(reader, made.kind, [s.kind for s in sources])
    return None if words is None else made(words, sources, reader.around.many_here)
