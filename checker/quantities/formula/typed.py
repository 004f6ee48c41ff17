"""A node of a formula after its kind is known: what it is, and the plain function that computes it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import chain
from typing import Any, TypeVar

from checker.quantities.formula.form import CONSTANT, Form, function_of
from checker.quantities.kind import Kind, where_known
from checker.quantities.units import Unit
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, replace

_Part = TypeVar("_Part")

Run = Callable[[Any], Any]
"""From the scene that a formula is evaluated in to the exact value, or Unknown."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A unit that a part of a formula is written in, to choose what a result is shown in."""

    kind: Kind
    rank: int
    """0 a literal, 1 a table's cell, 2 a fact or field, 3 a derived value: the lowest rank, then the first, is
    taken."""
    unit: Callable[[Any], Unit | None]


@dataclass(frozen=True, slots=True)
class Typed:
    """One expression: kind, function, and what else is known of it."""

    kind: Kind
    evaluate: Run
    """From a scene to the exact value, or Unknown."""
    form: Form = CONSTANT
    _: KW_ONLY
    constant: bool = False
    """Its value is known when the pack is read: without a car, or a scene."""
    locals: frozenset[str] = frozenset()
    """Names made by a check or a `for` that it uses; the fields of a check's entry count as the name "" of the
    entry."""
    uses: frozenset[str] = frozenset()
    """Full names of the facts, lists, tables and derived values behind it."""
    irrational: bool = False
    """Made with roots or angles: differences below 10^-25 of the value count as none."""
    marks: tuple[Mark, ...] = ()
    denominators: tuple[Run, ...] = ()
    """Divisors that change with the condition: `form` holds only while they keep their sign."""
    word: str | None = None
    """The text of a text literal, or of one plain word."""
    degree: int = 1
    """The power that products and exponents amount to, also through the names used: it bounds how long numbers grow."""
    counts_all: bool = False
    """It counts all that is stated somewhere, so no error of measurement moves it."""
    height: int = 1
    """How deep its evaluation goes, also through the names used."""

    @property
    def value(self) -> Any:
        """The value of a constant."""
        return self.evaluate(None)

    @property
    def follows_condition(self) -> bool:
        """Its value depends on the condition that the car is in."""
        return not self.form.is_constant


def shared(*parts: Iterable[_Part]) -> tuple[_Part, ...]:
    """What several parts have, each once: a name that is used often brings the same again and again."""
    return tuple(dict.fromkeys(chain.from_iterable(parts)))


def of_known(operation: Callable[..., Any], *runs: Run) -> Run:
    """An operation on values that are all known; unknown where any is not."""
    return lambda scene: where_known(operation, *[run(scene) for run in runs])


def merged(kind: Kind, run: Run, parts: Sequence[Typed], form: Form | None = None, **changes: Any) -> Typed:
    """A node made of others: what they use, it uses. What is made of constants alone is worked out at once.

    Args:
        form: None: as any function of them.
    """
    settled: dict[str, Any] = {
        "constant": all(p.constant for p in parts),
        "locals": frozenset().union(*(p.locals for p in parts)),
        "uses": frozenset().union(*(p.uses for p in parts)),
        "irrational": any(p.irrational for p in parts),
        "marks": shared(*(p.marks for p in parts)),
        "denominators": shared(*(p.denominators for p in parts)),
        "degree": max(p.degree for p in parts),
        "height": 1 + max(p.height for p in parts),
    }
    its_form = function_of(*(p.form for p in parts)) if form is None else form
    made = Typed(kind, run, its_form, **{**settled, **changes})
    if not made.constant:
        return made
    value = made.value
    return replace(made, evaluate=lambda _: value)
