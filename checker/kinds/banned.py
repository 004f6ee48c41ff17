"""Kind `banned`: nothing looked at is one of the words, or belongs to one.

For clauses worded "no", "may not be used", "is forbidden". In a check on components it looks at `materials`
and `category`; without `within` or `each` it covers every component, nested parts too. A material that no
family knows is not shown: a ban is not dodged by a misspelling. The margin is minus the number of
offenders.
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
from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import Unknown, unite

KEY = "banned"
COVERS = "components"
"""What it covers where the check does not say."""
SCHEMA: dict[str, Any] = {
    "required": ["banned"],
    "properties": {
        "banned": {
            "type": ["array", "string"],
            "items": {"type": "string"},
            "description": "The words that fail, or a formula that gives them.",
        },
        "of": {
            "type": "string",
            "description": "What is looked at; in a check on components: `materials` and `category`.",
        },
    },
}
_MORE = "{categories: [brakes/disc], materials: {steel: [], light metal: [aluminium, exotic], exotic: [titanium]}}"
EXAMPLES = (
    Example(
        "nothing offends",
        check="{banned: [exotic]}",
        more=_MORE,
        car={"components": [{"name": "disc", "category": "brakes/disc", "materials": ["steel"]}]},
        outcome=PASS,
        margin="0",
    ),
    Example(
        "a banned family, in a part inside a component",
        check="{banned: [exotic]}",
        more=_MORE,
        car={
            "components": [
                {
                    "name": "disc",
                    "category": "brakes/disc",
                    "materials": ["steel"],
                    "parts": [{"name": "bell", "materials": ["titanium"]}],
                }
            ]
        },
        outcome=FAIL,
        margin="-1",
    ),
    Example(
        "a misspelt material",
        check="{banned: [exotic]}",
        more=_MORE,
        car={"components": [{"name": "disc", "category": "brakes/disc", "materials": ["titanum"]}]},
        outcome=NOT_SHOWN,
    ),
)


@dataclass(frozen=True, slots=True)
class Banned:
    """A compiled ban."""

    words: WordSet
    sources: tuple[Source, ...]
    one_item: bool
    kind: str = KEY

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:  # noqa: ARG002 (words are never near)
        words = self.words.of(scene)
        if isinstance(words, NoLimit):
            return NO_LIMIT
        if isinstance(words, Unknown):
            return not_shown(words)
        found = findings(self.sources, words, scene, only_own=True)
        offenders = [f for f in found if f.belongs_to]
        unknown = unite(f.unknown for f in found if f.unknown is not None)
        return offence(offenders, unknown, scene, self.one_item, self._act, self._text)

    def _act(self, bad: Finding) -> str:
        return f"remove or replace {_named(bad)}"

    def _text(self, bad: Finding) -> str:
        return f"{_named(bad)} is banned"

    def sentence(self) -> str:
        looked_at = " and ".join(s.expression.text for s in self.sources)
        return f"{looked_at}: no {self.words.text}"

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        return expressions_of(KEY, self.sources, self.words)

    def branches(self) -> tuple[Check, ...]:
        return ()

    def compared_with(self, older: Check) -> Comparison:
        if not isinstance(older, Banned):
            return Comparison("changed", (f"{older.sentence()} becomes {self.sentence()}",))
        before, after = (older.words, older.sources), (self.words, self.sources)
        return compare_lists(KEY, before, after, more_is_tighter=True)


def _named(bad: Finding) -> str:
    return bad.word if fold(bad.word) == fold(bad.belongs_to) else f"{bad.word} ({bad.belongs_to})"


def compile(reader: CheckReader) -> Banned | None:
    """Read a ban; None when it cannot be used (the problems are noted)."""
    sources = sources_of(reader, KEY, ("materials", "category"))
    if sources is None:
        return None
    words = read_words(reader, KEY, [s.kind for s in sources])
    if words is None:
        return None
    return Banned(words, sources, reader.around.many_here)
