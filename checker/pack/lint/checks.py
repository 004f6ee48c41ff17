"""Checks that every value meets or none, and clauses that no value meets together.

Told only where it can be told for certain: constant bounds against the range, words or nature of what is limited.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date
from fractions import Fraction
from itertools import combinations
from types import MappingProxyType

from checker.car.described.vocabulary import FactType
from checker.kinds.comparing.monotonic import choices
from checker.kinds.contract.check import Check, Combining
from checker.kinds.contract.values import Passing, ValueInterval, constant, place_of
from checker.kinds.frame.framed import Framed
from checker.pack.model import Clause, Pack
from checker.quantities.formula.expression import Expression
from checker.reading.patterns import pattern
from checker.reading.problems import Path, Problem
from checker.reading.quick_dataclasses import dataclass, replace

_TABLE = pattern(r"([A-Za-z]\w*)\([^()]*\)(?:\.(\w+))?", re.DOTALL)
"""A formula that is nothing but a table's cell."""


_Names = Mapping[str, Expression]
"""What `let` names."""


def _placed(
    check: Check, path: Path, many: str = "", names: _Names = MappingProxyType({})
) -> Iterator[tuple[Check, Path, str, _Names]]:
    """Every check with its place in the document, the list whose entries it is made for, and what `let` names there."""
    if isinstance(check, Framed):
        list_name = check.many.list_name if check.many else many
        yield from _placed(check.check, path, list_name, {**names, **dict(check.names)})
        return
    yield check, path, many, names
    for branch, place in zip(check.branches(), check.places(), strict=True):
        yield from _placed(branch, (*path, *place), many, names)


# --- always or never -----------------------------------------------------------------------------------------


def always_or_never(pack: Pack) -> Iterator[Problem]:
    """Checks that no value can fail, or none can pass (507)."""
    for number, clause in pack.clauses.items():
        for check, path, many, names in _placed(clause.check, ("clauses", number, "check")):
            said = check.always_or_never(_Values(pack, many, names))
            if said is not None:
                message, key = said
                span = pack.document.span((*path, key))
                yield Problem("PK507", message, span, clause=number, warning=True)


@dataclass(frozen=True, slots=True)
class _Values:
    """What can be told of the values of a pack's formulas without a car."""

    pack: Pack
    many: str
    """The list whose entries a check is made for; "" for none."""
    names: _Names

    def __call__(self, limit: Expression) -> ValueInterval | None:
        if (value := place_of(constant(limit), limit.kind)) is not None:
            return ValueInterval(value, value)
        fact = self._fact(limit)
        if fact is not None:
            return _range(fact)
        if limit.text.startswith("percentage.") and limit.uses == {limit.text}:
            return ValueInterval(Fraction(0), Fraction(1))
        return ValueInterval(low=Fraction(0)) if limit.text.startswith("count(") else None

    def written(self, bound: Expression) -> ValueInterval | None:
        if bound.constant:
            value = place_of(constant(bound), bound.kind)
            return None if value is None else ValueInterval(value, value)
        found = [
            place for value in self._several(bound) if (place := place_of(value, bound.kind)) is not None
        ]
        return ValueInterval(min(found), max(found)) if found else None

    def is_stated(self, limit: Expression) -> bool:
        return self._fact(limit) is not None

    def _fact(self, limit: Expression) -> FactType | None:
        its_list = self.pack.vocabulary.lists.get(self.many)
        field = its_list.fields.get(limit.text) if its_list is not None else None
        return field if field is not None else self.pack.vocabulary.facts.get(limit.text)

    def _several(self, bound: Expression) -> tuple[object, ...]:
        """The sides of a choice between fixed values, or the cells of a table that is asked with one column."""
        name, _, column = bound.text.partition(".")
        named = self.names.get(name)
        if named is not None and not column:
            return self._several(named)
        called = _TABLE.fullmatch(bound.text if named is None else f"{named.text}.{column}")
        table = self.pack.tables.get(called[1]) if called else None
        if table is None:
            return choices(bound)
        column = called[2] or "value" if called else ""
        return tuple(row.results[column].value for row in table.read if column in row.results)


def _range(fact: FactType) -> ValueInterval | None:
    if fact.kind.name == "grade":
        return ValueInterval(Fraction(0), Fraction(len(fact.kind.words or ()) - 1))
    low = fact.low
    if low is None and (fact.whole or fact.positive):
        low = Fraction(0)
    return None if low is None and fact.high is None else ValueInterval(low, fact.high)


# --- contradictions ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Demand:
    """What an unguarded check of a clause lets pass."""

    clause: Clause
    about: tuple[str, ...]
    """What is held to it, over which entries, in which conditions."""
    passing: Passing
    path: Path


def contradictions(pack: Pack) -> Iterator[Problem]:
    """Two demands on one quantity that no value satisfies (508)."""
    by_subject: dict[tuple[str, ...], list[Demand]] = {}
    for number, clause in pack.clauses.items():
        for demand in _demands(clause, clause.check, ("clauses", number, "check"), ()):
            by_subject.setdefault(demand.about, []).append(demand)
    for demands in by_subject.values():
        for first, second in combinations(demands, 2):
            if _together(first.clause, second.clause) and first.passing.excludes(second.passing):
                span = pack.document.span((*second.path, second.passing.key))
                other = pack.document.span((*first.path, first.passing.key))
                yield Problem(
                    "PK508",
                    f"no value of {second.passing.about[0]} satisfies both this and clause {first.clause.number}",
                    span,
                    clause=second.clause.number,
                    related=((f"clause {first.clause.number}", other),),
                    warning=True,
                )


def _demands(clause: Clause, check: Check, path: Path, frame: tuple[str, ...]) -> Iterator[Demand]:
    if isinstance(check, Framed):
        if check.when is not None or check.unless is not None:
            return
        if (days := check.days) is not None:
            since = max(clause.since or date.min, days.since or date.min)
            clause = replace(clause, since=since, until=min(clause.until or date.max, days.until or date.max))
        many = check.many
        more = (
            "" if many is None else f"{many.words} {many.shortest} {many.longest}",
            "" if check.where is None else check.where.text,
            " and ".join(sorted(condition.name for condition in check.conditions)),
            ", ".join(f"{name} = {expression.text}" for name, expression in check.names),
        )
        yield from _demands(clause, check.check, path, (*frame, *more) if any(more) else frame)
    elif (passing := check.passing()) is not None:
        yield Demand(clause, (*passing.about, *frame), passing, path)
    elif check.combines is Combining.ALL:
        for branch, place in zip(check.branches(), check.places(), strict=True):
            yield from _demands(clause, branch, (*path, *place), frame)


def _together(a: Clause, b: Clause) -> bool:
    """Whether both ever bind a car on one day."""
    if a.number in b.instead_of or b.number in a.instead_of:
        return False
    starts, ends = (
        max(a.since or date.min, b.since or date.min),
        min(a.until or date.max, b.until or date.max),
    )
    return starts <= ends
