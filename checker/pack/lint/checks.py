"""Checks that every value meets or none, and clauses that no value meets together.

Told only where it can be told for certain: constant bounds against the range, words or nature of what is limited.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import combinations
from typing import Any

from checker.car.described.vocabulary import FactType
from checker.kinds.allowed import Allowed
from checker.kinds.at_least_of import AtLeastOf
from checker.kinds.at_most_of import AtMostOf
from checker.kinds.banned import Banned
from checker.kinds.frame.framed import Framed
from checker.kinds.judging.bounds import LOWER_SENSES, UPPER_SENSES
from checker.kinds.judging.check import Check
from checker.kinds.limit import Limit
from checker.kinds.required import Required
from checker.pack.model import Clause, Pack
from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Kind, Unknown
from checker.reading.problems import Path, Problem

Ordered = Any
"""A Fraction, a day, or the place of a grade: whatever a bound can be."""


@dataclass(frozen=True, slots=True)
class Interval:
    """The values that pass, or that can occur. None: no end."""

    low: Ordered = None
    high: Ordered = None
    low_open: bool = False
    high_open: bool = False

    def meets(self, other: Interval) -> bool:
        """Whether some value lies in both."""
        return _below(self.low, self.low_open, other.high, other.high_open) and _below(
            other.low, other.low_open, self.high, self.high_open
        )

    def holds(self, other: Interval) -> bool:
        """Whether every value of the other lies in this one."""
        return _reaches(self.low, self.low_open, other.low, other.low_open, 1) and _reaches(
            self.high, self.high_open, other.high, other.high_open, -1
        )


def _below(low: Ordered, low_open: bool, high: Ordered, high_open: bool) -> bool:
    if low is None or high is None or low < high:
        return True
    return bool(low == high and not (low_open or high_open))


def _reaches(outer: Ordered, outer_open: bool, inner: Ordered, inner_open: bool, sign: int) -> bool:
    if outer is None:
        return True
    if inner is None:
        return False
    if outer == inner:
        return inner_open or not outer_open
    return bool((outer < inner) == (sign > 0))


def _placed(check: Check, path: Path, many: str = "") -> Iterator[tuple[Check, Path, str]]:
    """Every check with its place in the document and the list whose entries it is made for."""
    if isinstance(check, Framed):
        yield check, path, many
        yield from _placed(check.check, path, check.many.list_name if check.many else many)
        return
    yield check, path, many
    of = ("of",) if isinstance(check, (AtLeastOf, AtMostOf)) else ()
    for place, branch in enumerate(check.branches()):
        yield from _placed(branch, (*path, check.kind, *of, place), many)


# --- always or never -----------------------------------------------------------------------------------------


def always_or_never(pack: Pack) -> Iterator[Problem]:
    """Checks that no value can fail, or none can pass (507)."""
    for number, clause in pack.clauses.items():
        for check, path, many in _placed(clause.check, ("clauses", number, "check")):
            said = _verdict(check, many, pack)
            if said is not None:
                message, key = said
                span = pack.document.span((*path, key))
                yield Problem("PK507", message, span, clause=number, warning=True)


def _verdict(check: Check, many: str, pack: Pack) -> tuple[str, str] | None:
    if isinstance(check, Limit):
        return _of_limit(check, many, pack)
    if isinstance(check, (Allowed, Banned)):
        return _of_words(check)
    if isinstance(check, Required) and check.at_least is not None and check.at_least.constant:
        return (
            ("none of these words is required: always true", "at_least")
            if check.at_least.value <= 0
            else None
        )
    if isinstance(check, AtLeastOf) and check.count == 0:
        return "at least 0 are always met", check.kind
    if isinstance(check, AtMostOf) and check.count >= len(check.checks):
        return f"at most {check.count} of {len(check.checks)} are always met", check.kind
    return None


def _of_limit(check: Limit, many: str, pack: Pack) -> tuple[str, str] | None:
    passing, occurring = passes(check), _occurs(check.limit, many, pack)
    if occurring is None:
        return None
    constant = all(b.expression.constant for b in check.bounds)
    sense = check.bounds[0].sense
    if passing is not None and not passing.meets(occurring):
        return f"never true: {check.limit.text} can only be {_words(occurring, check.limit.kind)}", sense
    if passing is not None and constant and passing.holds(occurring):
        return f"always true: {check.limit.text} can only be {_words(occurring, check.limit.kind)}", sense
    return None


def _words(interval: Interval, kind: Kind) -> str:
    from checker.kinds.judging.wording import show_value
    from checker.quantities.units import base_unit

    def shown(value: Ordered) -> str:
        if kind.name == "grade" and isinstance(value, Fraction):
            return str((kind.words or ())[int(value)])
        unit = base_unit(kind, None) if kind.name in ("quantity", "percent") else None
        return show_value(value, kind, unit)

    if interval.low == interval.high:
        return shown(interval.low)
    if interval.high is None:
        return f"{shown(interval.low)} or more"
    return (
        f"{shown(interval.low)} to {shown(interval.high)}"
        if interval.low is not None
        else f"at most {shown(interval.high)}"
    )


def _of_words(check: Allowed | Banned) -> tuple[str, str] | None:
    source = check.sources[0]
    if len(check.sources) > 1 or source.kind.words is None or check.words.formula is not None:
        return None
    if {fold(w) for w in source.kind.words} <= {fold(w) for w in check.words.fixed}:
        says = "always" if isinstance(check, Allowed) else "never"
        return f"{says} true: these are all the words that {source.expression.text} can be", check.kind
    return None


def _occurs(limit: Expression, many: str, pack: Pack) -> Interval | None:
    """The values that what is limited can take; None where nothing is known of them."""
    if (value := _place(_constant(limit), limit.kind)) is not None:
        return Interval(value, value)
    fact = pack.vocabulary.facts.get(limit.text)
    if fact is None and many and (its_list := pack.vocabulary.lists.get(many)) is not None:
        fact = its_list.fields.get(limit.text)
    if fact is not None:
        return _range(fact)
    return Interval(low=Fraction(0)) if limit.text.startswith("count(") else None


def _range(fact: FactType) -> Interval | None:
    if fact.kind.name == "grade":
        return Interval(Fraction(0), Fraction(len(fact.kind.words or ()) - 1))
    low = fact.low
    if low is None and (fact.whole or fact.positive):
        low = Fraction(0)
    return None if low is None and fact.high is None else Interval(low, fact.high)


def passes(check: Limit) -> Interval | None:
    """The values that pass, as far as bounds are constant; None where nothing is known of them."""
    tolerance = Fraction(0) if check.tolerance is None else _constant(check.tolerance)
    if check.rounding is not None or not isinstance(tolerance, Fraction):
        return None
    bounds = {b.sense: _place(_constant(b.expression), check.limit.kind) for b in check.bounds}
    if "nominal" in bounds or "exactly" in bounds:
        middle = bounds.get("nominal", bounds.get("exactly"))
        plus, minus = bounds.get("plus", Fraction(0)), bounds.get("minus", Fraction(0))
        if middle is None or plus is None or minus is None:
            return None
        return _widened(Interval(middle, middle), minus + tolerance, plus + tolerance)
    low = next(((s, v) for s, v in bounds.items() if s in LOWER_SENSES and v is not None), (None, None))
    high = next(((s, v) for s, v in bounds.items() if s in UPPER_SENSES and v is not None), (None, None))
    if low[1] is None and high[1] is None:
        return None
    return _widened(Interval(low[1], high[1], low[0] == "above", high[0] == "below"), tolerance, tolerance)


def _widened(interval: Interval, below: Fraction, above: Fraction) -> Interval:
    def moved(value: Ordered, by: Fraction) -> Ordered:
        if not by or value is None:
            return value
        if isinstance(value, date):
            return date.fromordinal(value.toordinal() + int(by))
        return value + by

    return Interval(
        moved(interval.low, -below), moved(interval.high, above), interval.low_open, interval.high_open
    )


def _constant(expression: Expression) -> Any:
    if not expression.constant:
        return None
    value = expression.value
    return None if isinstance(value, Unknown) else value


def _place(value: Any, kind: Kind) -> Ordered:
    """A value on a scale: grades by their place. Words and truths stand on none."""
    if kind.name == "grade" and isinstance(value, str):
        order = [fold(word) for word in kind.words or ()]
        return Fraction(order.index(fold(value))) if fold(value) in order else None
    return value if isinstance(value, (Fraction, date)) and not isinstance(value, bool) else None


# --- contradictions ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Demand:
    """An unguarded limit of a clause."""

    clause: Clause
    about: tuple[str, ...]
    """What is limited, over which entries, in which conditions."""
    check: Limit
    path: Path


def contradictions(pack: Pack) -> Iterator[Problem]:
    """Two demands on one quantity that no value satisfies (508)."""
    by_subject: dict[tuple[str, ...], list[Demand]] = {}
    for number, clause in pack.clauses.items():
        for demand in _demands(clause, clause.check, ("clauses", number, "check"), ()):
            by_subject.setdefault(demand.about, []).append(demand)
    for demands in by_subject.values():
        for first, second in combinations(demands, 2):
            if _together(first.clause, second.clause) and _excludes(first.check, second.check):
                span = pack.document.span((*second.path, second.check.bounds[0].sense))
                other = pack.document.span((*first.path, first.check.bounds[0].sense))
                yield Problem(
                    "PK508",
                    f"no value of {second.check.limit.text} satisfies both this and clause {first.clause.number}",
                    span,
                    clause=second.clause.number,
                    related=((f"clause {first.clause.number}", other),),
                    warning=True,
                )


def _demands(clause: Clause, check: Check, path: Path, frame: tuple[str, ...]) -> Iterator[Demand]:
    if isinstance(check, Framed):
        if check.when is not None or check.unless is not None:
            return
        many = check.many
        more = (
            "" if many is None else f"{many.words} {many.shortest} {many.longest}",
            "" if check.where is None else check.where.text,
            " and ".join(sorted(condition.name for condition in check.conditions)),
            ", ".join(f"{name} = {expression.text}" for name, expression in check.names),
        )
        yield from _demands(clause, check.check, path, (*frame, *more))
    elif isinstance(check, Limit):
        about = (" ".join(check.limit.text.split()), check.of_several, *frame)
        yield Demand(clause, about, check, path)
    elif check.kind == "all_of":
        for place, branch in enumerate(check.branches()):
            yield from _demands(clause, branch, (*path, "all_of", place), frame)


def _together(a: Clause, b: Clause) -> bool:
    """Whether both ever bind a car on one day."""
    if a.number in b.instead_of or b.number in a.instead_of:
        return False
    starts, ends = (
        max(a.since or date.min, b.since or date.min),
        min(a.until or date.max, b.until or date.max),
    )
    return starts <= ends


def _excludes(a: Limit, b: Limit) -> bool:
    x, y = passes(a), passes(b)
    if x is not None and y is not None:
        return not x.meets(y)
    words = [_constant(c.bounds[0].expression) for c in (a, b) if c.bounds[0].sense == "exactly"]
    return (
        len(words) == 2
        and all(isinstance(w, (str, bool)) for w in words)
        and _folded(words[0]) != _folded(words[1])
    )


def _folded(value: Any) -> Any:
    return fold(value) if isinstance(value, str) else value
