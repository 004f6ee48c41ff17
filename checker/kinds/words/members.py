"""What a check on words looks at: the materials and category of a component, or whatever `of` names.

A material that no family knows is not shown, never "not banned": a ban is not dodged by a misspelling.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from typing import Any

from checker.car.described.standard import BEGINS
from checker.car.described.stated import Entry
from checker.car.scene import ITEM, Scene
from checker.kinds.judging.reasons import NotJudged
from checker.kinds.reading.reader import CheckReader
from checker.kinds.words.word_sets import WordSet
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.families import WordTest, not_known, word_test
from checker.quantities.formula.scope import WordTree
from checker.quantities.kind import Kind, Unknown
from checker.reading.quick_dataclasses import dataclass, replace

COMPONENTS = "components"


@dataclass(frozen=True, slots=True)
class WordSource:
    """One place where words are found."""

    expression: Expression
    kind: Kind
    """Of one word."""
    field: str = ""
    """For entries of a list: the field that is looked at."""
    tree: WordTree | None = None

    def words(self, scene: Scene) -> Iterator[tuple[str, int, Any, Unknown | None]]:
        """Whose word it is, how often that entry stands, the word, or Unknown in its place, and why the entry may not
        be there yet."""
        found = self.expression.evaluate(scene)
        if isinstance(found, Unknown):
            yield "", 1, found, None
        elif self.field:
            for entry in found:
                to_come = _to_come(entry)
                words = self._each(entry.value(self.field))
                yield from ((entry.label, entry.standing, word, to_come) for word in words)
        else:
            yield from (("", 1, word, None) for word in self._each(found))

    def _each(self, value: object) -> Iterator[object]:
        """One word or several. Everything is made of something: no materials at all say nothing."""
        if not isinstance(value, tuple):
            yield value
        elif value or self.kind.tree != "material":
            yield from value
        else:
            yield Unknown.because(NotJudged.NO_MATERIALS)

    def knows(self, word: str) -> bool:
        """Whether a word of the set can be found here: each word only in its own tree."""
        return self.tree is None or self.tree.canonical(word) is not None


@dataclass(frozen=True, slots=True)
class WordFound:
    """A word looked at and whether it is, or belongs to, one of the set."""

    owner: str
    word: str
    belongs_to: str
    """The word of the set; "" when it belongs to none."""
    unknown: Unknown | None = None
    standing: int = 1
    """How often the entry stands whose word it is."""


def sources_of(
    reader: CheckReader, key: str, default_fields: tuple[str, ...]
) -> tuple[WordSource, ...] | None:
    """Where a check without `of` looks: the fields of the component it is made for.

    Args:
        default_fields: Fields of a component that are looked at.
    """
    if reader.around.item_list != COMPONENTS or reader.around.many in ("pairs", "runs") or not default_fields:
        hint = "say `of:` and a fact or field, or check components with `within:`"
        reader.key_problem(502, f"`{key}` does not say what it looks at", key, hint=hint)
        return None
    found: list[WordSource] = []
    for name in default_fields:
        binding = reader.scope.names[name]
        own = frozenset({ITEM})
        expression = Expression(binding.kind, binding.read, text=name, locals=own, uses=binding.uses)
        found.append(_source(reader, expression, binding.kind))
    return tuple(found)


def _source(reader: CheckReader, expression: Expression, kind: Kind, field: str = "") -> WordSource:
    word = kind.element or kind
    return WordSource(expression, word, field, reader.scope.trees.get(word.tree or ""))


def sources_in(reader: CheckReader, expression: Expression) -> tuple[WordSource, ...] | None:
    """Where a check looks that says it: words of a fact or field, or what the entries of a list are known by."""
    kind = expression.kind
    if kind.name == "items":
        name = kind.items or ""
        known_by = reader.around.known_by.get(name, "")
        if not known_by:
            reader.problem(302, f"entries of {name} have no `known_by` field to look at", "of")
            return None
        return (_source(reader, expression, reader.scope.entries[name].fields[known_by].kind, known_by),)
    if not (kind.element or kind).is_word:
        reader.problem(302, f"`of` needs words or values; '{expression.text}' is {kind}", "of")
        return None
    return (_source(reader, expression, kind),)


def all_categories(reader: CheckReader) -> tuple[WordSource, ...]:
    """The categories of all components: what `required` looks at where `of` is not given."""
    entries = reader.scope.entries[COMPONENTS]
    kind = Kind("items", items=COMPONENTS)
    expression = Expression(
        kind, lambda scene: entries.read(scene, True), text=COMPONENTS, uses=frozenset({COMPONENTS})
    )
    return (_source(reader, expression, entries.fields["category"].kind, "category"),)


def findings(
    sources: tuple[WordSource, ...],
    words: tuple[str, ...],
    scene: Scene,
    *,
    only_own: bool = False,
    vague: bool = False,
    at_hand: bool = False,
) -> list[WordFound]:
    """Every word looked at, with the word of the set that it belongs to.

    Args:
        only_own: Leave out sources in whose tree no word of the set stands: a ban on a category does not care
            what a thing is made of.
        vague: The words of the set are declared too.
        at_hand: Things must be there: what was made or issued after the day judged is not, for all that is known.
    """
    found: list[WordFound] = []
    for source in sources:
        test = word_test(source.tree, vague=vague)
        wanted = [w for w in words if source.knows(w) or not any(s.knows(w) for s in sources)]
        if only_own and not wanted:
            continue
        for owner, standing, word, to_come in source.words(scene):
            if isinstance(word, Unknown):
                found.append(WordFound(owner, "", "", word))
                continue
            one = _finding(owner, standing, word, wanted, test, source)
            if at_hand and to_come is not None and one.belongs_to:
                one = replace(one, belongs_to="", unknown=to_come)
            found.append(one)
    return found


def _to_come(entry: Entry) -> Unknown | None:
    """Why an entry may not be there yet: the day on which it, or what it is a part of, came to be does not count."""
    days = (entry.stated(name) for name in BEGINS)
    own = next((day.value for day in days if day is not None and isinstance(day.value, Unknown)), None)
    return own if own is not None or entry.parent is None else _to_come(entry.parent)


def _finding(
    owner: str, standing: int, word: str, wanted: list[str], test: WordTest, source: WordSource
) -> WordFound:
    found = test(word, wanted)
    if not wanted and source.tree is not None and not source.knows(word):
        found = not_known(source.tree, word)
    if isinstance(found, Unknown):
        return WordFound(owner, word, "", found, standing)
    return WordFound(owner, word, found or "", None, standing)


def looked_at(words: WordSet, sources: tuple[WordSource, ...], scene: Scene) -> tuple[Hashable, ...]:
    """All words that the outcome and margin of a check rest on, each with how often its entry stands; none where any is
    not known, or not at hand yet."""
    wanted = words.of(scene)
    every = [(place, *one[1:]) for place, source in enumerate(sources) for one in source.words(scene)]
    doubtful = any(isinstance(word, Unknown) or to_come is not None for _, _, word, to_come in every)
    return () if doubtful or isinstance(wanted, Unknown) else (wanted, *every)
