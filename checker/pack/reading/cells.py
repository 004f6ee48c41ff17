"""The cells of a table: what stands in a key cell and in a result cell.

A key cell is a value, a list of values, `any`, or a band. `up to X` and `above X` give the edge X to the
lower band, `below X` and `from X` to the upper one; `before` is `below` for days.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import Any

from checker.quantities.folding import fold
from checker.quantities.formula.families import nearness
from checker.quantities.formula.scope import Cell, NoLimit
from checker.quantities.kind import DATE, NUMBER, TRUTH, Kind
from checker.quantities.literal import Literal, parse_literal
from checker.quantities.misread import LiteralError
from checker.quantities.reason import NoValue
from checker.quantities.units import Unit
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass, field

ANY = "any"
NO_LIMIT = "no limit"

_EDGE = r"(?P<low_word>from|above)\s+(?P<low>.+?)"
_TOP = r"(?P<high_word>up\s+to|below|before)\s+(?P<high>.+?)"
_BAND = pattern(rf"(?:{_EDGE})?(?:(?:^|\s+){_TOP})?\Z")
_BAND_START = pattern(r"(from|above|up\s+to|below|before)\s+[-.]?\d")
_NUMBER = pattern(r"-?\d+(\.\d+)?\Z")
_AMOUNT_START = pattern(r"-?\d")


class Word(str):
    """A cell of a column of words: it is a word, whatever it looks like."""


@dataclass(frozen=True, slots=True)
class BandEnd:
    """One end of a band."""

    value: Any
    """A Fraction in base units, or a day."""
    owned: bool
    """The edge itself belongs to this band."""


@dataclass(frozen=True, slots=True)
class ValueBand:
    """A stretch of values. None: open at that end."""

    low: BandEnd | None
    high: BandEnd | None

    def holds(self, value: Any) -> bool:
        above = self.low is None or value > self.low.value or (self.low.owned and value == self.low.value)
        below = self.high is None or value < self.high.value or (self.high.owned and value == self.high.value)
        return above and below


@dataclass(frozen=True, slots=True)
class KeyCell:
    """One key cell."""

    kind: Kind | None
    """None for `any`."""
    values: tuple[Any, ...] = ()
    """Single values, words folded."""
    band: ValueBand | None = None
    only_upper: bool = False
    """The band was written with its upper edge only: it begins where the row before ends."""
    words: tuple[str, ...] = ()
    """Words as written."""
    unit: Unit | None = field(default=None, compare=False)
    """That of the first amount."""

    @property
    def is_any(self) -> bool:
        return self.kind is None

    def holds(self, value: object) -> bool:
        """Whether a key of that value finds this row."""
        if self.kind is None:
            return True
        if self.band is not None:
            return self.band.holds(value)
        return nearness(value, self.values) is not None

    def meets(self, other: KeyCell) -> bool:
        """Whether some value finds both."""
        if self.kind is None or other.kind is None:
            return True
        if self.band is not None and other.band is not None:
            return bands_meet(self.band, other.band)
        if self.band is not None:
            return any(self.band.holds(v) for v in other.values)
        if other.band is not None:
            return any(other.band.holds(v) for v in self.values)
        return not set(self.values).isdisjoint(other.values)


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row: its key cells in the order of the keys, and its results by column."""

    place: int
    keys: tuple[KeyCell, ...]
    results: Mapping[str, Cell]

    @property
    def has_any(self) -> bool:
        return any(cell.is_any for cell in self.keys)

    def nearer(self, other: TableRow, values: tuple[object, ...]) -> bool:
        """Whether both find this row by words, and this one by words that stand nearer to those of the keys."""
        ranks = [
            (nearness(value, mine.values) or 0, nearness(value, its.values) or 0)
            for mine, its, value in zip(self.keys, other.keys, values, strict=True)
        ]
        return all(mine <= its for mine, its in ranks) and any(mine < its for mine, its in ranks)

    def holds(self, values: tuple[object, ...]) -> bool:
        return all(cell.holds(value) for cell, value in zip(self.keys, values, strict=True))


def bands_meet(a: ValueBand, b: ValueBand) -> bool:
    """Whether two bands share a value."""
    return _reaches(a.low, b.high) and _reaches(b.low, a.high)


def _reaches(low: BandEnd | None, high: BandEnd | None) -> bool:
    if low is None or high is None or low.value < high.value:
        return True
    return bool(low.value == high.value and low.owned and high.owned)


class CellError(ValueError):
    """A cell that cannot be read."""

    def __init__(self, number: int, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.number = number
        self.hint = hint


def tells_words(given: object, quoted: bool, currency: str | None) -> bool | None:
    """Whether a cell's look tells that its column holds words; None where it tells nothing.

    Args:
        given: A scalar.
        quoted: It stands in quotes.
        currency: The pack's.
    """
    if not isinstance(given, str):
        return False
    text = given.strip()
    if fold(text) in ("", ANY, NO_LIMIT):
        return None
    if _NUMBER.match(text):
        return True
    if _BAND_START.match(text):
        return False
    if not _AMOUNT_START.match(text):
        return True
    try:
        parse_literal(text, currency)
    except LiteralError:
        return True if quoted else None
    return None if quoted else False


def read_key(given: object, quoted: bool, currency: str | None) -> tuple[KeyCell, Kind | None]:
    """A key cell from what stands in YAML, and its kind with all its words; no kind for `any`.

    Args:
        given: A scalar or list.
        quoted: The scalar stands in quotes, so text that cannot be read as an amount is a word. A plain number in
            quotes always is one: clubs number their classes.

    Raises:
        CellError: It can be none of the things a key cell may be.
    """
    cell = _key(given, quoted, currency)
    return cell, Kind("text", words=cell.words) if cell.words else cell.kind


def _key(given: object, quoted: bool, currency: str | None) -> KeyCell:
    if isinstance(given, list):
        cells = [_key(one, True, currency) for one in given]
        kinds = {(c.kind.name, c.kind.dimension) for c in cells if c.kind is not None}
        if not cells or len(kinds) != 1 or any(c.band for c in cells):
            raise CellError(403, "a list in a key cell holds values of one kind")
        return KeyCell(
            cells[0].kind,
            tuple(v for c in cells for v in c.values),
            words=tuple(w for c in cells for w in c.words),
            unit=cells[0].unit,
        )
    if isinstance(given, str) and fold(given) == ANY:
        return KeyCell(None)
    if isinstance(given, str) and not isinstance(given, Word) and _BAND_START.match(given.strip()):
        return _band(given.strip(), currency)
    value, kind, unit = read_value(given, quoted, currency)
    if isinstance(value, str):
        return KeyCell(kind, (fold(value),), words=(value,))
    return KeyCell(kind, (value,), unit=unit)


def _band(text: str, currency: str | None) -> KeyCell:
    match = _BAND.match(text)
    if match is None or not (match["low"] or match["high"]):
        raise CellError(
            103, f"'{text}' is no band", "write up to 1300 cc, above 1300 cc, or above 1300 cc up to 1600 cc"
        )
    low = high = unit = None
    kinds: list[Kind] = []
    if match["low"]:
        value, kind, unit = _edge(match["low"], currency)
        low = BandEnd(value, match["low_word"] == "from")
        kinds.append(kind)
    if match["high"]:
        value, kind, unit = _edge(match["high"], currency)
        high = BandEnd(value, match["high_word"].startswith("up"))
        kinds.append(kind)
    if len(kinds) == 2 and not (kinds[0].name == kinds[1].name and kinds[0].dimension == kinds[1].dimension):
        raise CellError(301, f"'{text}' goes from {kinds[0]} to {kinds[1]}")
    if low is not None and high is not None and not _reaches(low, high):
        raise CellError(503, f"'{text}' holds no value: its lower edge is not below its upper one")
    return KeyCell(kinds[0], band=ValueBand(low, high), only_upper=low is None, unit=unit)


def _edge(text: str, currency: str | None) -> tuple[object, Kind, Unit | None]:
    literal = _literal(text, currency)
    return literal.value, DATE if isinstance(literal.value, date) else literal.kind, literal.unit


def _literal(text: str, currency: str | None) -> Literal:
    try:
        return parse_literal(text, currency)
    except LiteralError as error:
        raise CellError(error.code_number, error.message, error.hint) from None


def read_value(given: object, quoted: bool, currency: str | None) -> tuple[Any, Kind, Unit | None]:
    """A literal or word from what stands in YAML: its value, kind and unit."""
    if isinstance(given, bool):
        return given, TRUTH, None
    if isinstance(given, (int, Fraction)):
        return Fraction(given), NUMBER, None
    if not isinstance(given, str) or not given.strip():
        raise CellError(405, "the cell is empty")
    text = given.strip()
    if isinstance(given, Word) or _NUMBER.match(text):
        return text, Kind("text", words=(text,)), None
    if _AMOUNT_START.match(text):
        try:
            literal = _literal(text, currency)
        except CellError as error:
            if quoted:
                return text, Kind("text", words=(text,)), None
            cure = "if it is a word, put it in quotes"
            raise CellError(
                error.number, str(error), f"{error.hint}; {cure}" if error.hint else cure
            ) from None
        return literal.value, DATE if isinstance(literal.value, date) else literal.kind, literal.unit
    return text, Kind("text", words=(text,)), None


def read_result(given: Any, quoted: bool, currency: str | None) -> tuple[Cell, Kind | None]:
    """A result cell and its kind; no kind for `no limit`."""
    if isinstance(given, str) and fold(given) == NO_LIMIT:
        return Cell(NoLimit.because(NoValue.NO_LIMIT)), None
    if isinstance(given, list):
        parts = [read_value(one, True, currency) for one in given]
        kinds = {(kind.name, kind.dimension) for _, kind, _ in parts}
        if len(kinds) > 1:
            raise CellError(403, "a list in a cell holds values of one kind")
        if not parts:
            return Cell(()), Kind("list", element=Kind("text", words=()))
        words = tuple(value for value, kind, _ in parts if kind.is_word)
        element = Kind("text", words=words) if words else parts[0][1]
        return Cell(tuple(value for value, _, _ in parts), parts[0][2]), element.listed()
    value, kind, unit = read_value(given, quoted, currency)
    return Cell(value, unit), kind
