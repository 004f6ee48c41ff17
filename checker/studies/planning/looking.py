"""The search for a plan: floats choose, and what they chose is judged by the exact engine until it holds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import ENTRANT
from checker.car.scene import Scene
from checker.car.weights.race_run import RaceRun
from checker.kinds.judging.assessment import DISPENSATION, NOT_APPLICABLE, NOT_SHOWN, PASS, DecisionRule
from checker.reading.document import Document
from checker.reading.quick_dataclasses import dataclass, field, replace
from checker.reading.strict_yaml import parse_document
from checker.studies.planning.aims import Aim, best
from checker.studies.planning.highs import Clock
from checker.studies.planning.model import Model
from checker.studies.planning.options import Option
from checker.studies.planning.program import Solution, Status
from checker.studies.planning.rows import Row, on_weights, parts, shares_of
from checker.studies.planning.written import written
from checker.verdict.inspection import Inspection, Outcome, inspect_car
from checker.verdict.run import dated

_ROUNDS = 40
"""How often the program chooses again, at most."""
_MET = (PASS, NOT_APPLICABLE, DISPENSATION)


@dataclass(frozen=True, slots=True)
class Asked:
    """What a plan is asked for."""

    aim: Aim = Aim.LEAST
    confidence: Fraction | None = None
    """How certainly every clause is to be met; None: as the pack asks."""
    seconds: float = 10.0
    """How long to look for a better plan."""
    race: bool = False
    """Clauses that ask for any fuel are to be met on the run of the race alone that the file tells of."""
    why: bool = True
    """Where nothing is enough, look for why, and for what would be."""


@dataclass(frozen=True, slots=True)
class Found:
    """A car as it would be with a plan carried out."""

    chosen: Mapping[Option, Fraction]
    text: str
    """The declaration."""
    inspection: Inspection
    proven: bool
    """No better plan exists."""
    run: RaceRun | None = None
    """The race that it is held to alone, where it is."""


@dataclass
class Looking:
    before: Inspection
    model: Model
    document: Document
    asked: Asked
    clock: Clock
    rule: DecisionRule
    gear: Document | None
    rows: tuple[Row, ...] = field(init=False)
    """What the clauses ask, before any guard was widened."""

    def __post_init__(self) -> None:
        self.rows = tuple(self.model.rows)

    def found(self) -> tuple[Found | None, Status]:
        """The first choice of the program that the exact engine passes."""
        for number in range(_ROUNDS):
            solution = best(self.model, self.asked.aim, self.clock)
            if not solution.values:
                return None, solution.status
            found = self._judged(solution)
            broken = self._broken(found.inspection)
            if not broken:
                return found, solution.status
            self._cut_off(found, broken, Fraction(4**number, 10**8))
        return None, Status.TIME

    def _judged(self, solution: Solution) -> Found:
        chosen = self.model.chosen(solution.values)
        before = self.before
        text = written(self.document, before.car, chosen)
        run = self.model.run(solution.values)
        document = dated(parse_document(text.encode(), self.document.name, "CD"), before.on)
        car = replace(load_car(document, before.pack.vocabulary, gear=self.gear), run=run)
        judged = inspect_car(before.pack, car, before.on, ENTRANT)
        return Found(chosen, text, judged, solution.status is Status.OPTIMAL, run)

    def _broken(self, after: Inspection) -> list[Outcome]:
        """Clauses that the plan is to hold and does not, and any other that it makes worse."""
        held = {row.clause for row in self.model.rows} | {cap.clause for cap in self.model.caps}
        were = {o.clause.number: o.outcome for o in self.before.outcomes}
        return [
            o
            for o in after.outcomes
            if o.counts
            and o.outcome not in _MET
            and (o.clause.number in held or _is_worse(o.outcome, were[o.clause.number]))
        ]

    def _cut_off(self, found: Found, broken: Sequence[Outcome], little: Fraction) -> None:
        """Ask for more of every clause that does not hold: the guard as it is on the planned car, or a little more."""
        guards: dict[tuple[str, int], Fraction] = {}
        numbers = {o.clause.number for o in broken}
        scene = Scene(found.inspection.car)
        for outcome in broken:
            place = 0
            for part in parts(outcome.check, scene.car) if outcome.check is not None else ():
                if not on_weights(part.check):
                    continue
                for state in part.states:
                    for _, guard, _ in shares_of(part.assess(scene, state, self.rule)):
                        guards[outcome.clause.number, place] = guard
                        place += 1
        tighter = []
        for row in self.model.rows:
            if row.clause in numbers:
                wanted = guards.get((row.clause, row.place), row.guard)
                row = replace(row, guard=max(wanted, row.guard + little))
            tighter.append(row)
        self.model.tighten(tighter)


def _is_worse(after: str, before: str) -> bool:
    """Whether a clause that a plan does not hold to was not broken before it, and is with it."""
    return after != NOT_SHOWN and before in (*_MET, NOT_SHOWN)
