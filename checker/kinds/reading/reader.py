"""Reading a check from a pack: where we stand in the file, what names mean there, and the problems found.

A kind's `compile` is handed a `CheckReader` that stands at its check. The reader compiles formulas in the
right scope, understands word lists, goes down into branches, and notes every mistake with its exact place.
After a mistake it hands back None and goes on, so that all mistakes of a pack are found in one reading.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from checker.car.described.vocabulary import Condition
from checker.kinds.reading.listed_words import is_listed, is_plain_word, listed_word, words_of
from checker.quantities.formula.compiling import (
    compile_formula,
    constant_number,
    constant_truth,
    constant_word,
    expect,
)
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import Binding, Scope
from checker.quantities.formula.typed import Mark
from checker.quantities.kind import Kind
from checker.quantities.literal import as_meant, parse_literal
from checker.quantities.misread import LiteralError
from checker.quantities.units import TEMPERATURE_POINT, TEMPERATURE_STEP, difference_kind
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path, Problems, Span
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field, replace
from checker.reading.values import Plain

if TYPE_CHECKING:
    from checker.kinds.contract.check import Check
    from checker.reading.document import Document

FRAME_KEYS = (
    *("within", "each", "pairs", "runs", "by", "shortest", "longest", "where", "if_none"),
    *("when", "unless", "since", "until", "act", "let", "condition", "of_several"),
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
    _: KW_ONLY
    default_condition: tuple[Condition, ...] = ()
    clause: str = ""
    item_list: str = ""
    """The list whose entry the check is made for; "" for none."""
    many: str = ""
    """within, each, pairs or runs, when this check or one around it goes through a list."""
    many_here: bool = False
    """It is this check that does, not one around it."""
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
    compiler: Callable[[CheckReader], Check | None] | None = None
    """What compiles a check that stands inside this one."""
    data: Mapping[str, Plain] = field(init=False, compare=False)
    """What stands here; empty where it is no mapping."""

    def __post_init__(self) -> None:
        data = self.document.get(self.path)
        object.__setattr__(self, "data", data if isinstance(data, dict) else {})

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

    def knows(self, text: str) -> bool:
        """Whether a text can be read as a formula here."""
        try:
            compile_formula(text, self.scope)
        except FormulaError:
            return False
        return True

    def knowing(self, **changes: Any) -> CheckReader:
        """The same place with other surroundings."""
        return replace(self, around=replace(self.around, **changes))

    def problem(
        self, number: int, message: str, *keys: str | int, hint: str = "", warning: bool = False
    ) -> None:
        """Note a problem at a value below this check."""
        self._add(number, message, self.span(*keys), hint, warning)

    def key_problem(self, number: int, message: str, *keys: str | int, hint: str = "") -> None:
        """Note a problem at a key below this check."""
        self._add(number, message, self.key_span(*keys), hint)

    def _add(self, number: int, message: str, span: Span, hint: str, warning: bool = False) -> None:
        around = self.around
        around.problems.add(f"PK{number}", message, span, hint=hint, clause=around.clause, warning=warning)

    def note(self, error: FormulaError, keys: tuple[str | int, ...]) -> None:
        """Note the mistakes of a formula below this check; one without any was told already."""
        for found in error.problems:
            self._note_one(found, keys)

    def _note_one(self, found: FormulaProblem, keys: tuple[str | int, ...]) -> None:
        end = max(found.end, found.start + 1)
        span = self.document.span_within((*self.path, *keys), found.start, end)
        self._add(found.number, found.message, span, found.hint)

    def formula(self, *keys: str | int, expected: Kind | None = None, what: str = "") -> Expression | None:
        """The formula under `keys`: text is read as one, YAML numbers and truths are literals.

        Args:
            keys: Where it stands below the check.
            expected: The kind it must have.
            what: What to call it in messages; the last key by default.

        Returns:
            The compiled formula, or None when it cannot be used; the problems are noted.
        """
        value: object = self.document.get((*self.path, *keys))
        if isinstance(value, bool):
            expression = constant_truth(value)
        elif isinstance(value, (int, Fraction)):
            expression = constant_number(value, self.document.written((*self.path, *keys)))
        elif isinstance(value, str):
            if expected and expected.is_word and (word := listed_word(value, expected, self.scope)):
                return constant_word(word, expected)
            compiled = self._compiled(value, keys, expected)
            if compiled is None:
                return None
            expression = compiled
        elif isinstance(value, list) and expected is not None and expected.name == "list":
            return self._list(value, keys, expected)
        else:
            self.problem(103, f"`{keys[-1]}` needs a formula, a number or a quantity", *keys)
            return None
        if expected is None:
            return expression
        expression = _as_meant(expression, expected, self.scope.currency)
        if expected.is_word and expression.kind.is_word:
            return self._possible_words(expression, expected, keys)
        try:
            expect(expression, expected, what or f"`{keys[-1]}`")
        except FormulaError as error:
            unitless = expression.kind.name == "number" and expected.is_measure
            for found in error.problems:
                hint = found.hint or ("give the number a unit" if unitless else "")
                self._note_one(replace(found, hint=hint), keys)
            return None
        return expression

    def _compiled(self, text: str, keys: tuple[str | int, ...], expected: Kind | None) -> Expression | None:
        try:
            return compile_formula(text, self.scope)
        except FormulaError as error:
            if is_plain_word(text) and expected is not None and is_listed(expected):
                self._no_such_word(text, expected, keys)
            else:
                self.note(error, keys)
            return None

    def _possible_words(
        self, expression: Expression, expected: Kind, keys: tuple[str | int, ...]
    ) -> Expression | None:
        """Text where words of a list, or grades, are wanted: a literal must be one of them."""
        kind = expression.kind
        if expression.word is not None and is_listed(expected):
            listed = listed_word(expression.word, expected, self.scope)
            if listed is None:
                self._no_such_word(expression.word, expected, keys)
            return None if listed is None else constant_word(listed, expected)
        if expected.name != "grade" or kind.words == expected.words:
            return expression
        stranger = next((w for w in kind.words or () if not listed_word(w, expected, self.scope)), None)
        if stranger is not None:
            self._no_such_word(stranger, expected, keys)
            return None
        if kind.words is None:
            grades = ", ".join(expected.words or ())
            self.problem(302, f"`{keys[-1]}` is free text; a grade ({grades}) was expected", *keys)
            return None
        return expression

    def _no_such_word(self, word: str, expected: Kind, keys: tuple[str | int, ...]) -> None:
        known = words_of(expected, self.scope)
        hint = did_you_mean(word, known) or f"possible: {', '.join(known[:12])}"
        self.problem(204, f"'{word}' is not one of the possible words", *keys, hint=hint)

    def _list(self, given: list[Plain], keys: tuple[str | int, ...], expected: Kind) -> Expression | None:
        """A YAML list of literals or words."""
        element = expected.element
        assert element is not None
        found = [
            constant_word(one, element)
            if isinstance(one, str) and element.name == "text" and not is_listed(element)
            else self.formula(*keys, place, expected=element)
            for place, one in enumerate(given)
        ]
        known = [e for e in found if e is not None]
        if len(known) < len(found):
            return None
        strange = next((place for place, e in enumerate(known) if not e.constant), None)
        if strange is not None:
            self.problem(302, "a list holds words or literals, never formulas", *keys, strange)
            return None
        values = tuple(e.value for e in known)
        text, marks = ", ".join(e.text for e in known), known[0].marks if known else ()
        return Expression(expected, lambda _: values, text=text, constant=True, marks=marks)

    def gives_list(self, key: str) -> bool:
        """Whether what stands under `key` is a list, or a formula that gives one."""
        value = self.get(key)
        if not isinstance(value, str):
            return isinstance(value, list)
        try:
            return compile_formula(value, self.scope).kind.name == "list"
        except FormulaError:
            return False

    def optional(self, key: str, expected: Kind | None = None) -> Expression | None:
        """The formula under `key`, or None where there is none."""
        return self.formula(key, expected=expected) if self.has(key) else None

    def default_tolerance(self, kind: Kind) -> Expression | None:
        """The pack's tolerance for values of this kind."""
        measure = difference_kind(kind)
        return next((t for t in self.around.tolerances if t.kind.same_measure(measure)), None)

    # --- branches ------------------------------------------------------------------------------------------

    def branch(self, *keys: str | int) -> Check | None:
        """The check under `keys`, compiled in these surroundings."""
        around = replace(self.around, many_here=False) if self.around.many_here else self.around
        assert self.compiler is not None, "a reader that stands at a check comes from what compiles checks"
        return self.compiler(replace(self, path=(*self.path, *keys), around=around))

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


def _as_meant(expression: Expression, expected: Kind, currency: str | None) -> Expression:
    """A temperature or step that is written out, as the other where that is wanted."""
    if {expression.kind, expected} != {TEMPERATURE_POINT, TEMPERATURE_STEP} or not expression.constant:
        return expression
    try:
        found = as_meant(parse_literal(expression.text, currency), expected)
    except LiteralError:
        return expression
    if found is None:
        return expression
    value, unit = found.value, found.unit
    return replace(
        expression, kind=expected, evaluate=lambda _: value, marks=(Mark(expected, 0, lambda _: unit),)
    )
