"""What judging a check gives: the outcome with its value, bound and margin, and what lies behind them.

A fail is not an error: it is an assessment. Everything a report shows is here, exact; rounding and words
belong to the report.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Generic, NamedTuple, Protocol, TypeVar

from checker.car.errors.cures import Cure, Remedy
from checker.kinds.judging.acts import Act, Advice, Do, all_of
from checker.kinds.judging.findings import Found, Unlimited
from checker.quantities.amount import Amount as Amount
from checker.quantities.amount import Bound as Bound
from checker.quantities.kind import NUMBER, Unknown, unite
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field, replace

if TYPE_CHECKING:
    from checker.car.scene import Scene
    from checker.car.weights.weights import State
    from checker.quantities.formula.expression import Expression
    from checker.quantities.intervals import Interval, Intervals

T = TypeVar("T")


class Verdict(StrEnum):
    """Every outcome that a check can come to, the most pressing first; the words are those of documents."""

    FAIL = "fail"
    TOO_CLOSE = "too_close"
    NOT_SHOWN = "not_shown"
    DISPENSATION = "dispensation"
    PASS = "pass"
    NOT_APPLICABLE = "not_applicable"


FAIL, TOO_CLOSE, NOT_SHOWN = Verdict.FAIL, Verdict.TOO_CLOSE, Verdict.NOT_SHOWN
DISPENSATION, PASS, NOT_APPLICABLE = Verdict.DISPENSATION, Verdict.PASS, Verdict.NOT_APPLICABLE
OUTCOMES = tuple(Verdict)


@dataclass(frozen=True, slots=True)
class LegalFuel:
    """With how much fuel on board a check holds, all else as in one state."""

    state: State
    """Driver, tyres and wear; its fuel says nothing."""
    asked: Interval | None
    """The levels in mm3 that are asked for, as far as they are known; None: no level is."""
    holds: Intervals
    """Levels in mm3."""
    fails: Intervals
    unknown: Unknown
    """What is lacking for the other levels; of nothing where all are known."""


@dataclass(frozen=True, slots=True)
class Working:
    """One formula that went into the assessment, to print it with numbers in place."""

    role: str
    """limit, at_least, when, ...: the key it stands under."""
    expression: Expression
    scene: Scene


@dataclass(frozen=True, slots=True)
class Contribution:
    """A named part of the variance of a margin, in squared base units."""

    name: str
    variance: Fraction
    advice: Remedy | None = None
    """What would make it smaller."""
    cure: Cure | None = field(default=None, compare=False)
    """What would make its standard uncertainty so small a share of what it is; None: nothing would."""


@dataclass(frozen=True, slots=True)
class Spread:
    """How well a margin is known. Nothing of it is rounded but the factor and the probability."""

    variance: Fraction
    """Square of the standard uncertainty, in squared base units."""
    factor: Fraction
    """Coverage factor of the confidence that the pack asks for, one-sided."""
    contributions: tuple[Contribution, ...]
    """The largest first."""
    covers: Fraction
    """The part of all cases in which the true margin lies within the factor times the standard uncertainty of this one,
    to either side: 90 % where a pack asks for 95 % to one side."""
    probability: float | None = None
    """Probability of conformity (JCGM 106, 7.2 to 7.4), for reports; never decides."""


class Later(Generic[T]):
    """What is worked out when it is first asked for, for most of it nobody asks for."""

    __slots__ = ("_found", "_make")

    def __init__(self, make: Callable[[], T]) -> None:
        self._make: Callable[[], T] | None = make

    def __call__(self) -> T:
        if self._make is not None:
            self._found, self._make = self._make(), None
        return self._found


class HowKnown(NamedTuple):
    """How well a margin is known: most margins are clear without."""

    spread: Later[Spread | None]
    taken_as_exact: Later[tuple[str, ...]]


BY_ITSELF = HowKnown(Later(lambda: None), Later(tuple))
"""Nothing that is measured stands behind it."""
NO_FUEL: Later[tuple[LegalFuel, ...]] = Later(tuple)
"""No condition of it ranges over fuel."""


@dataclass(frozen=True, slots=True)
class Assessment:
    """The result of one check."""

    outcome: Verdict
    value: Amount | None = None
    bounds: tuple[Bound, ...] = ()
    """Every bound of the check; the one that decides stands first."""
    margin: Amount | None = None
    """Distance to the bound, positive when legal."""
    _: KW_ONLY
    distances: tuple[Fraction, ...] = ()
    """Of a limit: to every place where its outcome turns, positive on the legal side; not rounded."""
    size: Fraction = Fraction(1)
    """Size of the bound (of two, of the nearest), to rank margins of different kinds."""
    met_by_nature: bool = False
    """A margin of 0 says nothing of how near the car is (lists, bans, `exactly`)."""
    known: HowKnown = field(default=BY_ITSELF, compare=False, repr=False)
    state: State | None = None
    """The state of the car that decides."""
    condition: str = ""
    """Name of the condition it was judged in."""
    fuel_later: Later[tuple[LegalFuel, ...]] = field(default=NO_FUEL, compare=False, repr=False)
    item: str = ""
    """The entry it is about."""
    standing: int = 1
    """How often that entry stands."""
    branches: tuple[Assessment, ...] = ()
    """Of a combination, or of a check for many: one for each."""
    unknown: Unknown = field(default_factory=Unknown)
    """What is not shown."""
    doubt: Unknown | None = None
    """Why it is not known whether the check applies at all."""
    act: Advice | None = None
    """What to do about it."""
    finding: Found | None = None
    """What was found."""
    workings: tuple[Working, ...] = ()

    @property
    def legal_fuel(self) -> tuple[LegalFuel, ...]:
        """For every driver, tyre set and wear of the conditions that range over fuel."""
        return self.fuel_later()

    @property
    def spread(self) -> Spread | None:
        """How well the margin is known; None where every value that went in is exact, or no error of it is stated."""
        return self.known.spread()

    @property
    def taken_as_exact(self) -> tuple[str, ...]:
        """Names of the readings behind the margin that have no stated error: with any, the spread is not whole."""
        return self.known.taken_as_exact()

    @property
    def margin_value(self) -> Fraction | None:
        if self.margin is None:
            return None
        value = self.margin.value
        return value if isinstance(value, Fraction) else Fraction(value)


class DecisionRule(Protocol):
    """How near a margin may come to its bound before it is too close to call."""

    @property
    def exact(self) -> bool:
        """Every value is taken as exact: no uncertainty is looked at."""

    @property
    def confidence(self) -> Fraction:
        """To one side."""

    def factor(self, degrees_of_freedom: Fraction | None) -> Fraction:
        """One-sided coverage factor; degrees of freedom None: the uncertainty is known, not estimated."""

    def decide(self, margin: Fraction, guard_squared: Fraction, inclusive: bool) -> Verdict:
        """pass, fail or too_close, for a margin and the square of its guard band, in one unit."""

    def between(self, measured: Verdict, others: Collection[Verdict]) -> Verdict:
        """The outcome where a car stands nearer the edge of a case than its gear resolves: as measured, and on the
        other side of each such edge."""


NO_LIMIT = Assessment(PASS, finding=Unlimited())
"""Where a table says `no limit`: met by anything, and without a margin."""


def not_applicable(reason: Found | None = None) -> Assessment:
    return Assessment(NOT_APPLICABLE, finding=reason)


def not_shown(unknown: Unknown, **more: Any) -> Assessment:
    few = ((one, Amount(Fraction(one.needed - one.stated), NUMBER)) for one in unknown.too_few)
    act = all_of(Act(Do.TAKE_READINGS, what=one.name, amount=amount) for one, amount in few)
    return Assessment(NOT_SHOWN, unknown=unknown, **{"act": act, **more})


def softened(assessment: Assessment, unknown: Unknown) -> Assessment:
    """An assessment that may not apply: a pass stays one, anything that judges against the car is not shown."""
    doubt = unknown if assessment.doubt is None else unite([unknown, assessment.doubt])
    if assessment.outcome in (PASS, NOT_APPLICABLE):
        return replace(assessment, doubt=doubt)
    says = unite([unknown, assessment.unknown])
    return replace(
        assessment, outcome=NOT_SHOWN, margin=None, unknown=says, doubt=doubt, act=None, finding=None
    )


def every(assessment: Assessment) -> Iterable[Assessment]:
    """The assessment and all that it is made of."""
    yield assessment
    for branch in assessment.branches:
        yield from every(branch)
