"""One number of one clause that is to be varied: where it stands in the pack, and the pack with another in its place.

The number is put into the pack's own text and the pack is read again, so that every value is judged just as
an edition with that number would be.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from functools import cached_property, lru_cache
from typing import Any

from checker.kinds.reading.reader import FRAME_KEYS
from checker.pack.check_parts import parts_of
from checker.pack.editions.loading import build_pack, clauses_of
from checker.pack.model import Pack
from checker.quantities.display import show
from checker.quantities.kind import DATE, NUMBER, Kind
from checker.quantities.literal import parse_literal, parse_quantity
from checker.quantities.misread import LiteralError
from checker.quantities.units import MOMENT, Unit
from checker.reading.document import Edit
from checker.reading.nearest import did_you_mean
from checker.reading.paths import format_path, parse_path
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, replace


class CannotVaryError(Exception):
    """The number asked for cannot be varied; the text is fit for a user."""


@dataclass(frozen=True, slots=True)
class Number:
    """A constant in a pack that decides where a limit lies."""

    path: Path
    """Where it stands in the pack's data."""
    clause: str
    kind: Kind
    unit: Unit | None
    """The unit it is written in; None for plain numbers and days."""
    value: Fraction
    """In base units; a day as its ordinal."""
    one_sided: bool = False
    """Whether more of it only ever helps a car, or only ever hurts it."""

    @property
    def written_path(self) -> str:
        """The path as a user writes it: from the clause, or from the pack for a table."""
        inside = self.path[2:] if self.path[0] == "clauses" else self.path
        return format_path(inside)

    @property
    def sense(self) -> str:
        """The key of the limit that it stands under; "" in a table."""
        return str(self.path[-1]) if self.path[0] == "clauses" else ""

    @property
    def step(self) -> Fraction:
        """One in the unit it is written in, in base units; one day."""
        return self.unit.factor if self.unit is not None else Fraction(1)

    def show(self, value: Fraction) -> str:
        """A value as text, in the unit that the number is written in."""
        if self.kind == DATE:
            return date.fromordinal(int(value)).isoformat()
        return show(value, self.unit) if self.unit is not None else show(value, Unit("", NUMBER, Fraction(1)))

    def read(self, text: str, currency: str | None) -> Fraction:
        """A value that a user wrote.

        Raises:
            CannotVaryError: It is not an amount of the number's kind.
        """
        try:
            return _base(parse_quantity(text, self.kind, currency).value)
        except LiteralError as error:
            raise CannotVaryError(f"'{text}': {error.message}; {error.hint}") from None

    def data(self, value: Fraction) -> Any:
        """A value as it stands in a pack's data, exactly."""
        if self.kind == DATE:
            return self.show(value)
        if self.unit is None:
            return int(value) if value.denominator == 1 else value
        return f"{(value - self.unit.zero) / self.unit.factor} {self.unit.name}"


def numbers_in(pack: Pack, clause: str) -> tuple[Number, ...]:
    """The numbers of a clause that can be varied: those in its own text first, then those in the tables it uses."""
    document = pack.document
    found: list[Number] = []
    for part in parts_of(pack.clauses[clause]):
        written = document.get(part.path)
        for key in written if isinstance(written, dict) else ():
            one_sided = None if key in FRAME_KEYS else part.check.one_sided(key)
            if one_sided is not None:
                found += _number(pack, (*part.path, key), clause, one_sided)
    named = pack.clauses[clause].judged_by
    for name, table in pack.tables.items():
        if name in named:
            rows = range(len(table.rows))
            for path in (("tables", name, "rows", row, column) for row in rows for column in table.columns):
                found += _number(pack, path, clause, one_sided=False)
    return tuple(found)


def _number(pack: Pack, path: Path, clause: str, one_sided: bool) -> Iterator[Number]:
    """The number at a path; none where something else stands there, such as a formula or a word."""
    given = pack.document.get(path)
    if isinstance(given, bool):
        return
    if isinstance(given, int | Fraction):
        yield Number(path, clause, NUMBER, None, Fraction(given), one_sided)
        return
    try:
        literal = parse_literal(given, pack.vocabulary.currency) if isinstance(given, str) else None
    except LiteralError:
        return
    if literal is not None and literal.kind != MOMENT and (literal.kind.is_measure or literal.kind == DATE):
        yield Number(path, clause, literal.kind, literal.unit, _base(literal.value), one_sided)


def _base(value: Any) -> Fraction:
    return Fraction(value.toordinal()) if isinstance(value, date) else Fraction(value)


def find_number(pack: Pack, clause: str, at: str | None = None) -> Number:
    """The number of a clause that is meant.

    Args:
        at: Its path from the clause ("check.at_most"), or from the pack ("tables.minimum_weight.rows[1].value");
            None: the only one in its check, else the only one at all.

    Raises:
        CannotVaryError: There is none, several are possible, or no number stands at the path; all that are
            possible are named.
    """
    if clause not in pack.clauses:
        raise CannotVaryError(f"there is no clause {clause}. {did_you_mean(clause, pack.clauses)}".rstrip())
    possible = numbers_in(pack, clause)
    if at is not None:
        try:
            wanted = parse_path(at)
        except ValueError as error:
            raise CannotVaryError(str(error)) from None
        for number in possible:
            if wanted in (number.path, number.path[2:]):
                return number
        raise CannotVaryError(
            f"no number of clause {clause} that could be varied stands at {at}{_told(possible)}"
        )
    own = [number for number in possible if number.path[:3] == ("clauses", clause, "check")]
    chosen = own or list(possible)
    if len(chosen) == 1:
        return chosen[0]
    if not chosen:
        raise CannotVaryError(f"clause {clause} rests on no number that could be varied")
    raise CannotVaryError(f"clause {clause} rests on several numbers; say which with --at{_told(possible)}")


def _told(numbers: Any) -> str:
    told = "".join(f"\n  {number.written_path}  ({number.show(number.value)})" for number in numbers)
    return f". Possible are:{told}" if told else ""


class Varied:
    """A pack with one of its numbers as a variable, cut down to what bears on its clause."""

    def __init__(self, pack: Pack, number: Number) -> None:
        self.number = number
        self._pack = pack
        self.at = lru_cache(maxsize=64)(self._at)
        """From a value (base units; a day as its ordinal) to the pack with that value."""

    @cached_property
    def _document(self) -> Any:
        document = self._pack.document
        kept = _bearing_on(self.number.clause, self._pack)
        changes = [
            Edit(("clauses",), {n: document.get(("clauses", n)) for n in kept}, document, ("clauses",))
        ]
        return document.edited(changes, "PK199")

    @cached_property
    def _cut(self) -> Pack:
        return build_pack(self._document)

    def _at(self, value: Fraction) -> Pack:
        number = self.number
        document = self._document.edited([Edit(number.path, number.data(value))], "PK199")
        if number.path[0] != "clauses":
            return replace(build_pack(document), approvals=self._pack.approvals)
        changed = clauses_of(self._cut, document, [number.clause])
        clauses = {**self._cut.clauses, **changed}
        return replace(self._cut, clauses=clauses, document=document, approvals=self._pack.approvals)


def _bearing_on(clause: str, pack: Pack) -> list[str]:
    """The clause, those that may stand in its place, and all that these name, in the order of the pack."""
    wanted = {clause}
    while True:
        more = {n for n, c in pack.clauses.items() if n not in wanted and not wanted.isdisjoint(c.instead_of)}
        more |= {n for number in wanted for n in pack.clauses[number].instead_of if n not in wanted}
        if not more:
            return [n for n in pack.clauses if n in wanted]
        wanted |= more
