"""Kind `required`: enough of the words, or something that belongs to them, are found.

For clauses worded "must be fitted", "must be at hand", "at least two of". Without `of` it looks at the
categories of all components; `of: documents` looks at each document's kind. A better thing serves as a
lesser when it stands below it in the tree. The margin is the words found minus the words needed, at most 0; of
counts, sizes, days and truths it is the distance to the nearest of those looked at.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from fractions import Fraction
from functools import partial
from typing import ClassVar, Self

from checker.car.scene import Scene
from checker.kinds.comparing.changes import compare_formulas, compare_sources, compare_words
from checker.kinds.comparing.comparison import SAME, Comparison, together
from checker.kinds.contract.check import Check, uses
from checker.kinds.contract.example import Example
from checker.kinds.contract.schema import LISTED, KindSchema
from checker.kinds.contract.values import Occurring
from checker.kinds.contract.writing import Writing
from checker.kinds.judging.acts import Act, Do
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
from checker.kinds.judging.findings import NotFound
from checker.kinds.listing.reading import read_values, value_kind
from checker.kinds.listing.value_list import RequiredValues, Values
from checker.kinds.reading.reader import CheckReader
from checker.kinds.words.members import WordSource, all_categories, findings, looked_at, sources_in
from checker.kinds.words.word_list import expressions_of
from checker.kinds.words.word_sets import WordSet, read_words
from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import NUMBER, TEXT, Kind, Unknown, unite
from checker.reading.quick_dataclasses import dataclass

KEY = "required"
SCHEMA: KindSchema = {
    "required": ["required"],
    "properties": {
        "required": {
            **LISTED,
            "description": "The words or values that must be found, or a formula that gives them.",
        },
        "of": {
            "type": "string",
            "description": "Where they are looked for; without it: categories of components.",
        },
        "at_least": {
            "type": ["integer", "string"],
            "description": "How many of the words; without it: all of them.",
        },
    },
}
_example = partial(Example, check="{required: [log book, receipt], of: documents}")
EXAMPLES = (
    _example(
        "both documents at hand",
        car={"documents": [{"kind": "log book"}, {"kind": "receipt"}]},
        outcome=PASS,
        margin="0",
    ),
    _example("one of two is absent", car={"documents": [{"kind": "log book"}]}, outcome=FAIL, margin="-1"),
    _example("no list of documents", car={}, outcome=NOT_SHOWN),
)


@dataclass(frozen=True, slots=True)
class Required(Check):
    kind: ClassVar[str] = KEY
    longer_list_tightens: ClassVar[bool] = True
    larger_family_tightens: ClassVar[bool] = False
    words: WordSet
    sources: tuple[WordSource, ...]
    at_least: Expression | None

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:  # noqa: ARG002 (words are never near)
        words = self.words.of(scene)
        if isinstance(words, NoLimit):
            return NO_LIMIT
        if isinstance(words, Unknown):
            return not_shown(words)
        needed = Fraction(len(words)) if self.at_least is None else self.at_least.evaluate(scene)
        if isinstance(needed, Unknown):
            return not_shown(needed)
        missing: list[str] = []
        perhaps: dict[str, Unknown] = {}
        for word in words:
            found = findings(self.sources, (word,), scene, vague=self.words.is_declared, at_hand=True)
            if any(f.belongs_to for f in found):
                continue
            unknown = unite(f.unknown for f in found if f.unknown is not None)
            if unknown.is_told:
                perhaps[word] = unknown
            else:
                missing.append(word)
        margin = min(Fraction(0), Fraction(len(words) - len(missing)) - needed)
        if margin == 0 and len(words) - len(missing) - len(perhaps) < needed:
            not_found = tuple(word for word in words if word in missing or word in perhaps)
            return Assessment(
                NOT_SHOWN, unknown=unite(perhaps.values()), finding=NotFound(not_found, so_far=True)
            )
        wanted = tuple(Amount(w, TEXT) for w in missing)
        act = Act(Do.PROVIDE, amount=Amount(-margin, NUMBER), wanted=wanted, sets=self._where(scene))
        return Assessment(
            PASS if margin == 0 else FAIL,
            margin=Amount(margin, NUMBER),
            met_by_nature=True,
            unknown=unite(perhaps.values() if margin else ()),
            act=act if margin else None,
            finding=NotFound(tuple(missing)) if margin else None,
        )

    def _where(self, scene: Scene) -> tuple[tuple[str, ...], ...]:
        """Where what is provided would be stated: in a list, or in a fact."""
        source = self.sources[0]
        name = source.expression.text
        if source.field and name in scene.car.all_entries:
            return ((name, "", source.field),)
        return ((name,),) if name in scene.car.facts else ()

    def write_outcome(self, write: Writing) -> str:
        return write.remembered(self, uses(self), self._rests_on)

    def _rests_on(self, scene: Scene) -> tuple[Hashable, ...]:
        words = looked_at(self.words, self.sources, scene)
        return (self.at_least and self.at_least.evaluate(scene), *words) if words else ()

    def sentence(self) -> str:
        looked_at = " and ".join(s.expression.text for s in self.sources)
        count = f"at least {self.at_least.text} of " if self.at_least is not None else ""
        return f"{looked_at}: {count}{self.words.text} required"

    def margin_kinds(self) -> frozenset[Kind]:
        return frozenset({NUMBER})

    def words_named(self) -> tuple[str, ...]:
        return self.words.fixed

    def subject(self) -> tuple[Expression, ...]:
        return tuple(source.expression for source in self.sources)

    def always_or_never(self, occurring: Occurring) -> tuple[str, str] | None:  # noqa: ARG002 (words have no ends)
        few = self.at_least is not None and self.at_least.constant and self.at_least.value <= 0
        return ("none of these words is required: always true", "at_least") if few else None

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        yield from expressions_of(KEY, self.sources, self.words)
        if self.at_least is not None:
            yield "at_least", self.at_least

    def compared_with(self, older: Self) -> Comparison:
        return together([_demands(older, self), compare_sources(older.subject(), self.subject())])


def _demands(older: Required, newer: Required) -> Comparison:
    """Which words, and how many of them: tighter where whatever meets the new demand meets the old one too."""
    old, new = _fixed(older), _fixed(newer)
    if old is None or new is None:
        parts = [
            compare_words("required", older.words.fixed, newer.words.fixed, more_is_tighter=True),
            compare_formulas("required", older.words.formula, newer.words.formula),
            compare_formulas("at least", older.at_least, newer.at_least),
        ]
        found = together(parts)
        return found if found is SAME else Comparison("changed", found.words)
    before, needed_before = old
    after, needed_after = new
    tighter = needed_after - len(after - before) >= needed_before
    looser = needed_before - len(before - after) >= needed_after
    if tighter and looser:
        return SAME
    words = compare_words("required", older.words.fixed, newer.words.fixed, more_is_tighter=True).words
    words += _how_many(older, newer)
    return Comparison("tightened" if tighter else "relaxed" if looser else "changed", words)


def _fixed(check: Required) -> tuple[frozenset[str], int] | None:
    """The words and how many of them, where both are fixed."""
    words = frozenset(map(fold, check.words.fixed))
    if check.words.formula is not None:
        return None
    if check.at_least is None:
        return words, len(words)
    return (words, int(check.at_least.value)) if check.at_least.constant else None


def _how_many(older: Required, newer: Required) -> tuple[str, ...]:
    before, after = (
        "all of them" if check.at_least is None else f"at least {check.at_least.text}"
        for check in (older, newer)
    )
    return () if before == after else (f"{before} becomes {after}",)


def compile(reader: CheckReader) -> Check | None:
    looked_at = reader.optional("of")
    if reader.has("of") and looked_at is None:
        return None
    at_least = reader.optional("at_least", NUMBER)
    sound = at_least is not None or not reader.has("at_least")
    if looked_at is not None and (kind := value_kind(looked_at)) is not None:
        values = read_values(reader, KEY, kind)
        if values is None or not sound or _too_many(reader, at_least, values):
            return None
        return RequiredValues(KEY, False, looked_at, values, reader.default_tolerance(kind), at_least)
    sources = all_categories(reader) if looked_at is None else sources_in(reader, looked_at)
    words = None if sources is None else read_words(reader, KEY, [s.kind for s in sources])
    if sources is None or words is None or not sound or _too_many(reader, at_least, words):
        return None
    return Required(words, sources, at_least)


def _too_many(reader: CheckReader, at_least: Expression | None, listed: WordSet | Values) -> bool:
    """Whether more are to be found than are listed (503 noted)."""
    if at_least is None or not at_least.constant or listed.formula is not None:
        return False
    if at_least.value <= len(listed.fixed):
        return False
    what = "words" if isinstance(listed, WordSet) else "values"
    reader.problem(503, f"{at_least.text} of {len(listed.fixed)} {what} can never be found", "at_least")
    return True
