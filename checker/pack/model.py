"""The rulebook after it has been read: a pack and its clauses, ready to judge cars."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from enum import StrEnum
from fractions import Fraction

from checker.car.described.vocabulary import Vocabulary
from checker.kinds.contract.check import Check, uses
from checker.kinds.reading.reader import Surroundings
from checker.pack.reading.cells import TableRow
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import Scope
from checker.reading.document import Document, Plain
from checker.reading.problems import Path, Problem, Span
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field, replace


class Severity(StrEnum):
    """Whether a breach of a clause bears on the verdict."""

    MANDATORY = "mandatory"
    ADVISORY = "advisory"


MANDATORY, ADVISORY = Severity

AS_DISPLAYED, BENEFIT, STRICT = "as_displayed", "benefit_to_entrant", "strict"
OFFICIAL_RULES = (AS_DISPLAYED, BENEFIT, STRICT)


@dataclass(frozen=True, slots=True)
class Decision:
    """How values near a limit are decided."""

    official: str = AS_DISPLAYED
    """One of `OFFICIAL_RULES`."""
    confidence: Fraction = Fraction(95, 100)


@dataclass(frozen=True, slots=True)
class Origin:
    """A part of the rules that a bulletin changed."""

    path: Path
    """Where it stands in the pack, e.g. ("clauses", "3.3", "check", "at_most")."""
    verb: str
    """changed, added or withdrawn."""
    bulletin: str
    first_day: date
    _: KW_ONLY
    last_day: date | None
    was: Plain = None
    """What stood there before; None where nothing did."""
    reason: str = ""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Earlier:
    """An older check kept for older cars."""

    before: date
    """It is kept for cars from before this day."""
    by: Expression
    """The day that says how old a car is."""
    until: date | None
    """Last day of the exemption."""
    check: Check | None
    """None: the clause does not bind these cars."""


@dataclass(frozen=True, slots=True)
class Penalty:
    """A penalty that grows with the excess."""

    amount: Expression
    unit: str


@dataclass(frozen=True, slots=True)
class Interpretation:
    """How a clause is to be read, as the club has answered a member's question; or the question, while it is open."""

    number: str
    clauses: tuple[str, ...]
    question: str
    asked: date
    _: KW_ONLY
    answer: str = ""
    """"" while the question is open."""
    decided: date | None = None
    by: str = ""
    """The office that decided."""
    settled_by: str = ""
    """The bulletin that writes it into the rules."""
    ends: date | None = None
    """That bulletin's first day, from which on it no longer speaks."""
    span: Span | None = None

    @property
    def first_day(self) -> date:
        """The day on which it was decided; of an open question, on which it was asked."""
        return self.decided or self.asked

    def on(self, day: date) -> Interpretation | None:
        """As it stands on a day: a question is open until it is answered; None before it is asked and once settled."""
        if day < self.asked or (self.ends is not None and day >= self.ends):
            return None
        open_still = self.decided is None or day < self.decided
        return replace(self, answer="", decided=None, by="") if open_still else self


@dataclass(frozen=True, slots=True)
class Clause:
    """One numbered rule."""

    number: str
    title: str
    text: str
    check: Check
    _: KW_ONLY
    severity: Severity = MANDATORY
    consequence: str = ""
    penalty: str | Penalty = ""
    act: str = ""
    interpretation: str = ""
    instead_of: tuple[str, ...] = ()
    since: date | None = None
    until: date | None = None
    earlier: tuple[Earlier, ...] = ()
    formerly: str = ""
    span: Span | None = None
    bulletins: tuple[str, ...] = ()
    """Bulletins that added or changed it; () where it is the edition's own."""
    interpretations: tuple[Interpretation, ...] = ()
    """How it is to be read on the day asked for, and what is open about that."""

    @property
    def checks(self) -> tuple[Check, ...]:
        """Its check, and those kept for older cars."""
        return (self.check, *(entry.check for entry in self.earlier if entry.check is not None))

    @property
    def judged_by(self) -> frozenset[str]:
        """Full names of every fact, list, field and weight that its checks look at."""
        return frozenset().union(*(uses(check) for check in self.checks))

    @property
    def looks_at(self) -> frozenset[str]:
        """Full names of all that bears on it: what its checks, its penalty and its earlier texts look at."""
        penalty = self.penalty.amount.uses if isinstance(self.penalty, Penalty) else frozenset[str]()
        return self.judged_by.union(penalty, *(entry.by.uses for entry in self.earlier))


@dataclass(frozen=True, slots=True)
class Approval:
    """The organising body's written permission for some cars to differ from some clauses."""

    reference: str
    clauses: tuple[str, ...]
    cars: tuple[str, ...]
    """Racing numbers; () for any car."""
    first_day: date | None
    _: KW_ONLY
    last_day: date | None
    reason: str
    when: Expression | None = None
    """It applies only where this is true. Read, like `changed`, only of what is in force."""
    changed: Mapping[str, Clause] = field(default_factory=dict)
    """Its clauses with its changes, by number; without changes a breach becomes a dispensation."""
    span: Span | None = None

    def covers(self, on: date) -> bool:
        """Whether it is in force on a day."""
        started = self.first_day is None or self.first_day <= on
        return started and (self.last_day is None or on <= self.last_day)


@dataclass(frozen=True, slots=True)
class Derived:
    """A value worked out from facts, under a name of its own."""

    name: str
    expression: Expression


@dataclass(frozen=True, slots=True)
class TableText:
    """A table as the rulebook shows it."""

    name: str
    keys: tuple[str, ...]
    columns: tuple[str, ...]
    rows: tuple[Mapping[str, str], ...]
    """Each row's cells as written."""
    read: tuple[TableRow, ...] = ()
    """The same rows with what their cells mean."""
    interpolated: bool = False
    """Between two rows next to each other by its last key it gives what lies between them, in a straight line."""


@dataclass(frozen=True, slots=True)
class Pack:
    """One edition of a rulebook, as in force on a day."""

    name: str
    edition: str
    title: str
    first_day: date
    _: KW_ONLY
    last_day: date | None
    vocabulary: Vocabulary
    scope: Scope
    decision: Decision
    clauses: Mapping[str, Clause]
    """By number, in the order of the rulebook."""
    derived: Mapping[str, Derived]
    tables: Mapping[str, TableText]
    document: Document
    surroundings: Surroundings
    """What its checks were read in, to read a changed one again."""
    warnings: tuple[Problem, ...] = ()
    bulletins: tuple[str, ...] = ()
    """Names of those in force, in the order in which they were carried out."""
    origins: tuple[Origin, ...] = ()
    """Every part that they changed."""
    approvals: tuple[Approval, ...] | None = None
    """The register beside the pack, in force or not; None: there is none."""
    because: str = ""
    """Why this edition speaks on the day asked for."""
    sha256: str = ""
    """Over every file that the rules come from."""
    files: Mapping[str, str] = field(default_factory=dict)
    """The SHA-256 of each of these files as it was read, by its name."""
    cases: str | None = None
    """Name of the file with the pack's cases, or None where they stand in the pack or there are none."""

    @property
    def titles(self) -> dict[str, str]:
        """What each clause is called, by its number."""
        return {number: clause.title for number, clause in self.clauses.items()}
