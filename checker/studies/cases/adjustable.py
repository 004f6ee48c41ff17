"""The values of a declaration that a clause rests on, as knobs that can be turned."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from typing import Any

from checker.car.car import Car
from checker.car.described.stated import Stated
from checker.car.described.vocabulary import FactType
from checker.kinds.contract.check import uses
from checker.pack.model import Clause
from checker.quantities.days import add_days, add_months, end_of_month
from checker.quantities.display import show
from checker.quantities.literal import parse_literal
from checker.quantities.misread import LiteralError
from checker.quantities.units import MOMENTS, Unit
from checker.reading.document import Document, Plain
from checker.reading.paths import parse_path
from checker.reading.quick_dataclasses import dataclass

MOST_DECIMALS = 4
"""A value is written with no more decimals than this."""

_WEIGHTS = ("weight", "percentage")


@dataclass(frozen=True, slots=True)
class Knob:
    """A declared value that can be moved."""

    path: str
    value: Any
    """Where it stands: a Fraction in base units, a day, a truth or a word."""
    unit: Unit | None = None
    whole: bool = False
    words: tuple[str, ...] = ()
    by_month: bool = False
    """A day that is told by its month, and stands for the month's last day."""

    @property
    def is_scale(self) -> bool:
        """It can be moved by degrees."""
        return isinstance(self.value, (Fraction, date)) and not isinstance(self.value, bool)

    @property
    def directions(self) -> tuple[int, ...]:
        """Steps to try: one up and one down; of months also a year's, for a rule may look at the year alone."""
        return (1, -1, 12, -12) if self.by_month else (1, -1)

    def stepped(self, steps: int) -> object:
        """A value so many steps from its own, of a day, a month, one, or a hundredth of the unit; None where the
        calendar has none.
        """
        if isinstance(self.value, date):
            try:
                return self.day_beside(self.value, steps)
            except ValueError:
                return None
        step = Fraction(1) if self.unit is None else self.unit.factor
        return self.value + steps * (step if self.whole or self.unit == MOMENTS else step / 100)

    def day_beside(self, day: date, sign: int) -> date:
        """The day, or the end of the month, before or after a day."""
        return end_of_month(add_months(day, sign)) if self.by_month else add_days(day, sign)

    def shifted(self, value: Any, by: Fraction) -> object:
        """A value moved, to what can be written shortly."""
        if isinstance(value, date):
            try:
                moved = add_days(value, round(by))
            except ValueError:  # beyond the calendar
                return value
            return end_of_month(moved) if self.by_month else moved
        if self.whole:
            return Fraction(round(value + by))
        factor = Fraction(1) if self.unit is None else self.unit.factor
        finest = 1 if self.unit == MOMENTS else 10**MOST_DECIMALS
        return Fraction(round((value + by) / factor * finest), finest) * factor

    def text(self, value: Any) -> Plain | None:
        """A value as a declaration states it; None where there is none, or it cannot be written shortly."""
        if value is None:
            return None
        if self.by_month:
            return str(value.isoformat()[:7])
        if isinstance(value, date):
            return value.isoformat()
        if self.whole:
            return int(value) if value.denominator == 1 and value >= 0 else None
        shown = value if self.unit is None else (value - self.unit.zero) / self.unit.factor
        if (shown if self.unit == MOMENTS else shown * 10**MOST_DECIMALS).denominator != 1:
            return None
        return shown if self.unit is None else show(value, self.unit)


def distance(a: Any, b: Any) -> Fraction:
    """How far one value lies above another: days for days."""
    return Fraction((a - b).days) if isinstance(a, date) else a - b


def knobs_of(clause: Clause, car: Car, document: Document) -> Iterator[Knob]:
    """The declared values that a clause rests on, those that are its own first."""
    names = sorted(uses(clause.check))
    for name in names:
        stated = car.facts.get(name)
        if stated is not None and name in car.vocabulary.facts and name != "event.date":
            yield from _of_stated(name, stated, car.vocabulary.facts[name])
    for name in names:
        list_name, _, field_name = name.partition(".")
        its = car.vocabulary.lists.get(list_name)
        if its is None or field_name not in its.fields:
            continue
        entries = car.entries(list_name, True)
        for entry in entries if isinstance(entries, tuple) else ():
            stated = entry.stated(field_name)
            if stated is not None and stated.span is not None:
                path, fact = f"{entry.path}.{field_name}", its.fields[field_name]
                yield from _of_stated(path, stated, fact)
                yield from _of_words(path, stated, fact, car)
    for list_name in dict.fromkeys(name.partition(".at.")[0] for name in names if ".at." in name):
        entries = car.entries(list_name, True) if list_name in car.vocabulary.lists else ()
        for entry in entries if isinstance(entries, tuple) else ():
            yield from _of_amounts(f"{entry.path}.at", document, car)
    if any(name.partition(".")[0] in _WEIGHTS for name in names):
        yield from _of_amounts("weighing.readings[0]", document, car)


def _of_stated(path: str, stated: Stated, fact: FactType) -> Iterator[Knob]:
    value = stated.value
    if isinstance(value, tuple):
        return
    if isinstance(value, (Fraction, date, bool)):
        knobs = [Knob(path, value, stated.unit, fact.whole)]
        if isinstance(value, date) and "month" in fact.precision:
            last = end_of_month(value)
            knobs.insert(0 if value == last else 1, Knob(path, last, by_month=True))
        yield from knobs
    elif isinstance(value, str) and fact.kind.words:
        yield Knob(path, value, words=tuple(word for word in fact.kind.words if word != value))


def _of_words(path: str, stated: Stated, fact: FactType, car: Car) -> Iterator[Knob]:
    """The first of several words of a tree, as what a thing is made of."""
    trees = {"material": car.vocabulary.materials, "category": car.vocabulary.categories}
    tree = trees.get((fact.kind.element or fact.kind).tree or "")
    if isinstance(stated.value, tuple) and stated.value and tree is not None:
        first = str(stated.value[0])
        yield Knob(f"{path}[0]", first, words=tuple(word for word in tree.words if word != first))


def _of_amounts(path: str, document: Document, car: Car) -> Iterator[Knob]:
    """The amounts of a mapping as the file tells them: what stood on each pad, where an entry sits."""
    data = document.get(parse_path(path))
    for key, written in data.items() if isinstance(data, dict) else ():
        if not isinstance(written, str):
            continue
        try:
            literal = parse_literal(written, car.vocabulary.currency)
        except LiteralError:
            continue
        if isinstance(literal.value, Fraction):
            yield Knob(f"{path}.{key}", literal.value, literal.unit)


def entries_of(clause: Clause, car: Car) -> Iterator[str]:
    """Entries of the lists that a clause looks through."""
    for name in sorted({use.partition(".")[0] for use in uses(clause.check)}):
        entries = car.entries(name, False) if name in car.vocabulary.lists else ()
        yield from (entry.path for entry in entries) if isinstance(entries, tuple) else ()
