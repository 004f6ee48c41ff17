"""A mistake is told once, where it stands: names that could not be made are still known, and silent.

Without this, one misspelt unit in a fact would be followed by "unknown name" at every clause that uses the fact.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import Generic, TypeVar

from checker.pack.reading.scope import OnDemand, weight_bindings
from checker.pack.reading.source import PackSource
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import Binding, Entries, Field, TableFunction
from checker.reading.quick_dataclasses import replace

T = TypeVar("T")

ALL_FIELDS = "*"
"""Stands for every field of a list that could not be read."""


class _AnyName(Mapping[str, T], Generic[T]):
    """Has every name there is, each told already."""

    def __getitem__(self, name: str) -> T:
        raise FormulaError()

    def __contains__(self, name: object) -> bool:
        return True

    def __iter__(self) -> Iterator[str]:
        return iter(())

    def __len__(self) -> int:
        return 0


def bind_weights(bindings: OnDemand[Binding], *, course_given: bool) -> None:
    """Bind `weight.*` and `percentage.*`.

    A pack that does not say which way the course goes is refused inside, outside and cross (108) where it asks for
    them: a side taken for granted would judge half of all courses the wrong way round.
    """
    for name, binding in weight_bindings().items():
        which = name.partition(".")[2]
        sided = which == "cross" or which.endswith("side")
        bindings.later(name, _refusing(name) if sided and not course_given else partial(_same, binding))


def _same(binding: Binding) -> Binding:
    return binding


def _refusing(name: str) -> Callable[[], Binding]:
    def refuse() -> Binding:
        message = f"'{name}' asks for a side, and the pack does not say which side is inside"
        hint = "add course: anticlockwise (inside is left), or course: clockwise"
        raise FormulaError(FormulaProblem(108, message, hint=hint))

    return refuse


def silence(
    source: PackSource,
    told: Mapping[str, set[str]],
    bindings: OnDemand[Binding],
    entries: dict[str, tuple[Entries, OnDemand[Field]]],
    tables: OnDemand[TableFunction],
) -> None:
    """Let formulas that use what could not be made fail without a word.

    Args:
        source: The pack; its tables that are not among `tables` could not be made.
        told: Names of facts under "", of fields under their list's name; `ALL_FIELDS` for a whole list.
        bindings: Facts by full name; takes those that could not be made.
        entries: Lists by name; likewise.
        tables: Tables by name; likewise.
    """
    for list_name, names in told.items():
        if ALL_FIELDS in names:
            made, fields = entries[list_name]
            entries[list_name] = (replace(made, fields=_AnyName()), fields)
        for name in names:
            if list_name:
                entries[list_name][1].later(name, lambda: None)
            else:
                bindings.later(name, lambda: None)
    for name in source.mapping("tables"):
        if name not in tables:
            tables.later(name, lambda: None)
