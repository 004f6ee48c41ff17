"""What a car can be described by: the facts, lists, word trees, instruments and conditions of a formula.

A rule pack fills this in; a declaration is read by it. Standard facts and lists are the same for every
pack (`checker.car.described.standard`); a pack adds its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from checker.car.described.instrument import Assumptions
from checker.car.described.instrument import Instrument as Instrument
from checker.car.described.word_trees import Tree
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Kind
from checker.quantities.units import Unit
from checker.reading.problems import Span
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field

ENTRANT, OFFICIAL, ORGANISER = "entrant", "official", "organiser"


@dataclass(frozen=True, slots=True)
class FactType:
    """The type of one fact (`engine.capacity`) or of one field of a list (`washer`)."""

    name: str
    kind: Kind
    """Kind of one value; with `several`, the fact as a whole is a list of these."""
    unit: Unit | None = None
    """The unit it is shown in."""
    several: bool = False
    _: KW_ONLY
    readings: int = 0
    """How many values it takes at least; with fewer it is not shown."""
    whole: bool = False
    """A count: a whole number, 0 or more."""
    positive: bool = False
    """Masses, lengths and the like that cannot be below 0."""
    of_a_thing: bool = False
    """The mass of what is there, never 0; only a what-if may take the thing away so."""
    precision: tuple[str, ...] = ("day",)
    """For dates: which of "day", "month", "year" may be stated; a month or year stands for its last day."""
    low: Any = None
    high: Any = None
    """Outside low..high (base units, inclusive) the input is taken for a slip and refused."""
    known_only: bool = False
    """A word that its tree does not know is refused: whoever asks nothing of it would never notice."""
    happened: bool = False
    """A day of something that has happened: after the day judged it is no evidence and does not count."""
    optional: bool = False
    default: Any = None
    """Value (base units) taken where none is stated; None: there is none."""
    default_text: str = ""
    stated_by: str = ENTRANT
    measured_with: str = ""
    """Name of an instrument of the pack or the declaration."""
    uncertainty: Fraction | None = None
    """Standard uncertainty in base units, where the pack states one."""
    taken: str = ""
    about: str = ""
    formula: Expression | None = None
    """Worked out from the entry's other fields, not declared (fields of lists only)."""
    span: Span | None = None
    """Where the pack defines it; None for standard ones."""

    @property
    def whole_kind(self) -> Kind:
        """The kind of the fact in a formula."""
        return self.kind.listed() if self.several else self.kind


@dataclass(frozen=True, slots=True)
class ListType:
    """The type of a list of entries, e.g. `components`, `joints`."""

    name: str
    fields: Mapping[str, FactType]
    known_by: str = ""
    """The field that reports call an entry by."""
    span: Span | None = None
    unique: str = ""
    """The field of which no two entries may state the same; "" for none."""


@dataclass(frozen=True, slots=True)
class Condition:
    """A state, or a range of states, that a clause asks for. None: as weighed."""

    name: str
    fuel: tuple[Fraction | str, Fraction | str] | None = None
    """Lowest and highest amount: mm3 of fuel, "unusable" or "full"."""
    driver: tuple[str, ...] | None = None
    """Of "out" and "aboard"."""
    tyres: tuple[str, ...] | None = None
    """Names of tyre sets; ("every set",) for all that the formula runs, or else all that are declared."""
    wear: tuple[str, ...] | None = None
    """Of "new" and "worn"; both: the whole range between them."""
    words: str = ""
    """In the pack's words, for reports."""

    @property
    def is_as_weighed(self) -> bool:
        return self.fuel is None and self.driver is None and self.tyres is None and self.wear is None

    @property
    def is_single(self) -> bool:
        """One state, where anything may be asked (but single wheels, unless it is the weighing itself)."""
        return (
            (self.fuel is None or self.fuel[0] == self.fuel[1])
            and (self.driver is None or len(self.driver) == 1)
            and (self.tyres is None or (len(self.tyres) == 1 and self.tyres[0] != "every set"))
            and (self.wear is None or len(self.wear) == 1)
        )


AS_WEIGHED = Condition("as_weighed", words="as weighed")


class Remembered(dict[tuple[object, ...], Any]):
    """What values were found to mean, by their types; it is not kept with a pack."""

    MOST = 10_000

    def __reduce__(self) -> tuple[type[Remembered], tuple[()]]:
        return Remembered, ()

    def put(self, key: tuple[object, ...], meaning: object) -> None:
        if len(self) >= self.MOST:
            self.clear()
        self[key] = meaning


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Everything a declaration for one pack may say."""

    pack: str
    currency: str | None
    course: str
    """"clockwise" or "anticlockwise": decides which side is inside."""
    facts: Mapping[str, FactType]
    """By full name, "section.name"."""
    _: KW_ONLY
    lists: Mapping[str, ListType]
    categories: Tree
    materials: Tree
    conditions: Mapping[str, Condition] = field(default_factory=dict)
    instruments: Mapping[str, Instrument] = field(default_factory=dict)
    assumptions: Assumptions = field(default_factory=Assumptions)
    tyre_sets: tuple[str, ...] = ()
    """Names of the sets that the formula runs: every one counts, described or not; () where a declaration decides."""
    remembered: Remembered = field(default_factory=Remembered, init=False, repr=False, compare=False)
    """What cars before stated in the same words, by the fact: a fleet says much alike."""

    @property
    def inside(self) -> str:
        """ "left" on an anticlockwise course, else "right"."""
        return "left" if self.course == "anticlockwise" else "right"

    def tree(self, kind: Kind) -> Tree | None:
        """The tree that words of this kind stand in, if any."""
        return {"material": self.materials, "category": self.categories}.get(kind.tree or "")
