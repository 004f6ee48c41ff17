"""Kind `allowed`: everything looked at is one of the words, or belongs to one.

For clauses worded "only", "must be of", "from the list". In a check on components it looks at `materials`;
elsewhere `of` says what it looks at. The margin is minus the number of offenders.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from checker.car.scene import Scene
from checker.kinds.judging.assessment import (
    FAIL,
    NO_LIMIT,
    NOT_SHOWN,
    PASS,
    Assessment,
    DecisionRule,
    not_shown,
)
from checker.kinds.judging.check import Check, Comparison
from checker.kinds.judging.examples import Example
from checker.kinds.reading.reader import CheckReader
from checker.kinds.words.members import Finding, Source, findings, sources_of
from checker.kinds.words.offenders import compare_lists, expressions_of, offence
from checker.kinds.words.word_sets import WordSet, read_words
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import Unknown, unite

KEY = "allowed"
SCHEMA: dict[str, Any] = {
    "required": ["allowed"],
    "properties": {
        "allowed": {
            "type": ["array", "string"],
            "items": {"type": "string"},
            "description": "The words that pass, or a formula that gives them.",
        },
        "of": {"type": "string", "description": "What is looked at; in a check on components: `materials`."},
    },
}
_MORE = "{categories: [seat], materials: {steel: [], light metal: [aluminium]}}"
EXAMPLES = (
    Example(
        "a member of an allowed family",
        check="{within: seat, allowed: [light metal]}",
        more=_MORE,
        car={"components": [{"name": "seat", "category": "seat", "materials": ["aluminium"]}]},
        outcome=PASS,
        margin="0",
    ),
    Example(
        "one of two materials is not on the list",
        check="{within: seat, allowed: [light metal]}",
        more=_MORE,
        car={"components": [{"name": "seat", "category": "seat", "materials": ["aluminium", "steel"]}]},
        outcome=FAIL,
        margin="-1",
    ),
    Example(
        "a material that no family knows",
        check="{within: seat, allowed: [light metal]}",
        more=_MORE,
        car={"components": [{"name": "seat", "category": "seat", "materials": ["alumnium"]}]},
        outcome=NOT_SHOWN,
    ),
)


@dataclass(frozen=True, slots=True)
class Allowed:
    """A compiled list of what is allowed."""

    words: WordSet
    sources: tuple[Source, ...]
    one_item: bool
    """It stands directly in a check for many: an entry offends once, however many of its words do."""
    kind: str = KEY

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:  # noqa: ARG002 (words are never near)
        words = self.words.of(scene)
        if isinstance(words, NoLimit):
            return NO_LIMIT
        if isinstance(words, Unknown):
            return not_shown(words)
        found = findings(self.sources, words, scene)
        offenders = [f for f in found if not f.belongs_to and f.unknown is None]
        unknown = unite(f.unknown for f in found if f.unknown is not None)
        return offence(
            offenders, unknown, scene, self.one_item, lambda bad: self._act(bad, words), self._text
        )

    def _act(self, bad: Finding, words: tuple[str, ...]) -> str:
        return f"replace {bad.word} by {' or '.join(words)}"

    def _text(self, bad: Finding) -> str:
        return f"{bad.word} is not allowed"

    def sentence(self) -> str:
        looked_at = " and ".join(s.expression.text for s in self.sources)
        return f"{looked_at}: only {self.words.text}"

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        return expressions_of(KEY, self.sources, self.words)

    def branches(self) -> tuple[Check, ...]:
        return ()

    def compared_with(self, older: Check) -> Comparison:
        if not isinstance(older, Allowed):
            return Comparison("changed", (f"{older.sentence()} becomes {self.sentence()}",))
        before, after = (older.words, older.sources), (self.words, self.sources)
        return compare_lists(KEY, before, after, more_is_tighter=False)


def compile(reader: CheckReader) -> Allowed | None:
    """Read a list of what is allowed; None when it cannot be used (the problems are noted)."""
    sources = sources_of(reader, KEY, ("materials",))
    if sources is None:
        return None
    words = read_words(reader, KEY, [s.kind for s in sources])
    if words is None:
        return None
    return Allowed(words, sources, reader.around.many_here)
