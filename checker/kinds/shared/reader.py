"""Reading a check from a pack: where we stand in the file, what names mean there, and the problems found.

A kind's `compile` is handed a `CheckReader` that stands at its check. The reader compiles formulas in the
right scope, understands word lists, goes down into branches, and notes every mistake with its exact place.
After a mistake it hands back None and goes on, so that all mistakes of a pack are found in one reading.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from checker.car.vocabulary import Condition
from checker.quantities.formula.expression import (
    Expression,
    compile_formula,
    constant_number,
    constant_truth,
    constant_word,
    expect,
)
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import Binding, Scope
from checker.quantities.kind import Kind
from checker.quantities.words import fold
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path, Problems, Span

if TYPE_CHECKING:
    from checker.kinds.shared.check import Check
    from checker.reading.document import Document

FRAME_KEYS = (
    "within",
    "each",
    "pairs",
    "runs",
    "shortest",
    "longest",
    "where",
    "if_none",
    "when",
    "unless",
    "let",
    "condition",
    "of_several",
)
"""Keys that may stand beside any kind."""


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a check inherits from the pack and from the checks around it."""

    scope: Scope
    problems: Problems
    conditions: Mapping[str, Condition]
    tolerances: tuple[Expression, ...] = ()
    """The pack's default tolerances, one for each dimension."""
    default_condition: tuple[Condition, ...] = ()
    clause: str = ""
    item_list: str = ""
    """The list whose entry the check is made for; "" for none."""
    many: str = ""
    """within, each, pairs or runs, when a check around it goes through a list."""
    own_condition: tuple[Condition, ...] = ()
    """The condition that stands beside a combination around it."""
    of_several: str = ""
    known_by: Mapping[str, str] = field(default_factory=dict)
    """For each list the field that its entries are called by."""
    frame_condition: bool = False
    """A frame around this check already goes through the conditions."""


@dataclass(frozen=True, slots=True)
class CheckReader:
    """Stands at one check of a pack."""

    document: Document
    path: Path
    around: Surroundings

    # --- looking -------------------------------------------------------------------------------------------

    @property
    def data(self) -> dict[str, Any]:
        data = self.document.get(self.path)
        return data if isinstance(data, dict) else {}

    @property
    def scope(self) -> Scope:
        return self.around.scope

    def has(self, key: str) -> bool:
        return key in self.data

    def get(self, key: str) -> Any:
        return self.data.get(key)

    def span(self, *keys: str | int) -> Span:
        return self.document.span((*self.path, *keys))

    def key_span(self, *keys: str | int) -> Span:
        return self.document.key_span((*self.path, *keys))

    def knowing(self, **changes: Any) -> CheckReader:
        """The same place with other surroundings."""
        return replace(self, around=replace(self.around, **changes))

    # --- problems ------------------------------------------------------------------------------------------

    def problem(
        self, number: int, message: str, *keys: str | int, hint: str = "", warning: bool = False
    ) -> None:
        """Note a problem at a value below this check."""
        span = self.span(*keys)
        self.around.problems.add(
            f"PK{number}", message, span, hint=hint, clause=self.around.clause, warning=warning
        )

    def key_problem(self, number: int, message: str, *keys: str | int, hint: str = "") -> None:
        """Note a problem at a key below this check."""
        span = self.key_span(*keys)
        self.around.problems.add(f"PK{number}", message, span, hint=hint, clause=self.around.clause)

    def _note(self, error: FormulaError, keys: tuple[str | int, ...]) -> None:
        for found in error.problems:
            self._note_one(found, keys)

    def _note_one(self, found: FormulaProblem, keys: tuple[str | int, ...]) -> None:
        path = (*self.path, *keys)
        span = self.document.span_within(path, found.start, max(found.end, found.start + 1))
        self.around.problems.add(
            f"PK{found.number}", found.message, span, hint=found.hint, clause=self.around.clause
        )

    # --- formulas ------------------------------------------------------------------------------------------

    def formula(self, *keys: str | int, expected: Kind | None = None, what: str = "") -> Expression | None:
        """The formula under `keys`: text is read as one, YAML numbers and truths are literals.

        Args:
            keys: Where it stands below the check.
            expected: The kind it must have.
            what: What to call it in messages; the last key by default.

        Returns:
            The compiled formula, or None when it cannot be used; the problems are noted.
        """
        value: Any = self.document.get((*self.path, *keys))
        if isinstance(value, bool):
            expression = constant_truth(value)
        elif isinstance(value, (int, Fraction)):
            expression = constant_number(value, self.document.written((*self.path, *keys)))
        elif isinstance(value, str):
            if (
                expected is not None
                and expected.is_word
                and (word := listed_word(value, expected, self.scope))
            ):
                return constant_word(word, expected)
            try:
                expression = compile_formula(value, self.scope)
            except FormulaError as error:
                self._note(error, keys)
                return None
        else:
            self.problem(103, f"`{keys[-1]}` needs a formula, a number or a quantity", *keys)
            return None
        if expected is not None:
            try:
                expect(expression, expected, what or f"`{keys[-1]}`")
            except FormulaError as error:
                hint = (
                    "give the number a unit"
                    if expression.kind.name == "number" and expected.is_measure
                    else ""
                )
                for found in error.problems:
                    self._note_one(replace(found, hint=found.hint or hint), keys)
                return None
        return expression

    def optional(self, key: str, expected: Kind | None = None) -> Expression | None:
        """The formula under `key`, or None where there is none."""
        return self.formula(key, expected=expected) if self.has(key) else None

    # --- words ---------------------------------------------------------------------------------------------

    def words(self, key: str, kinds: Iterable[Kind]) -> WordSet | None:
        """The words under `key`: a list of plain words, or a formula (text) that gives words.

        Args:
            key: `allowed`, `banned` or `required`.
            kinds: What the words are compared with; a word must be possible for at least one of these.
        """
        value = self.get(key)
        targets = list(kinds)
        if isinstance(value, str):
            expression = self.formula(key)
            if expression is None:
                return None
            element = expression.kind.element if expression.kind.name == "list" else expression.kind
            if element is None or not element.is_word:
                self.problem(302, f"`{key}` needs words; this formula gives {expression.kind}", key)
                return None
            return WordSet((), expression)
        if not isinstance(value, list) or not value:
            self.problem(302, f"`{key}` needs a list of words", key, hint=f"{key}: [first word, second word]")
            return None
        words: list[str] = []
        failed = False
        for place, word in enumerate(value):
            if not isinstance(word, str):
                self.problem(302, f"`{key}` needs words; this is none", key, place, hint="put it in quotes")
                failed = True
                continue
            canonical = self._possible(word, targets)
            if canonical is None:
                known = [w for kind in targets for w in _words_of(kind, self.scope)]
                named = " or ".join(dict.fromkeys(_named(kind) for kind in targets))
                self.problem(
                    204, f"'{word}' is no {named} of this pack", key, place, hint=did_you_mean(word, known)
                )
                failed = True
                continue
            words.append(canonical)
        return None if failed else WordSet(tuple(words), None)

    def _possible(self, word: str, kinds: list[Kind]) -> str | None:
        for kind in kinds:
            found = listed_word(word, kind, self.scope)
            if found is not None:
                return found
            if kind.tree is None and kind.words is None:
                return word
        return None

    # --- branches ------------------------------------------------------------------------------------------

    def branch(self, *keys: str | int) -> Check | None:
        """The check under `keys`, compiled in these surroundings."""
        from checker.kinds.shared.framing import compile_check

        return compile_check(replace(self, path=(*self.path, *keys)))

    def branch_list(self, *keys: str | int) -> tuple[Check, ...] | None:
        """The list of checks under `keys`; None when any cannot be used."""
        value = self.document.get((*self.path, *keys))
        if not isinstance(value, list) or not value:
            self.problem(501, f"`{keys[-1]}` needs a list of checks", *keys)
            return None
        compiled = [self.branch(*keys, place) for place in range(len(value))]
        whole = tuple(c for c in compiled if c is not None)
        return whole if len(whole) == len(compiled) else None

    def having(self, names: Mapping[str, Binding]) -> CheckReader:
        return self.knowing(scope=self.scope.having(names))


@dataclass(frozen=True, slots=True)
class WordSet:
    """A set of words: fixed, or given by a formula for each car."""

    fixed: tuple[str, ...]
    formula: Expression | None

    def of(self, scene: Any) -> Any:
        """The words, or Unknown."""
        from checker.quantities.kind import Unknown

        if self.formula is None:
            return self.fixed
        found = self.formula.evaluate(scene)
        if isinstance(found, Unknown):
            return found
        return found if isinstance(found, tuple) else (found,)

    @property
    def text(self) -> str:
        return ", ".join(self.fixed) if self.formula is None else self.formula.text


def listed_word(word: str, kind: Kind, scope: Scope) -> str | None:
    """The word as the pack writes it, if a value of `kind` can be it and its words are listed."""
    if kind.tree is not None:
        return scope.trees[kind.tree].canonical(word)
    return next((w for w in kind.words or () if fold(w) == fold(word)), None)


def _words_of(kind: Kind, scope: Scope) -> tuple[str, ...]:
    return scope.trees[kind.tree].words if kind.tree is not None else (kind.words or ())


def _named(kind: Kind) -> str:
    return kind.tree or "possible word"
