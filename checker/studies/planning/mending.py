"""Whether ballast alone makes a car legal, and how much of it: what a rule costs whoever has to meet it."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.planning import Planning
from checker.car.described.vocabulary import ENTRANT
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.quick_dataclasses import dataclass
from checker.studies.planning.advising import is_broken
from checker.studies.planning.highs import Clock
from checker.studies.planning.holding import more_that_would_do
from checker.studies.planning.lists import a_kilogram, caps_and_bars
from checker.studies.planning.looking import Asked
from checker.studies.planning.model import Model
from checker.studies.planning.planner import plan, rows_of
from checker.verdict.decision import rule_for
from checker.verdict.inspection import inspect_car

_SECONDS = 5.0


@dataclass(frozen=True, slots=True)
class Mending:
    """What ballast alone does for a car that fails."""

    kg: float | None
    """The least that makes every clause on weights met, guarded; None: no ballast does."""
    pieces: int | None = None
    """How many pieces, of those that its file says are on the shelf; None: as if it could sit anywhere between the
    wheels, in any size."""


def mending(pack: Pack, document: Document, car: Car, on: date) -> Mending | None:
    """What ballast alone does; None where that cannot be told, for something of the car's weights is not known.

    Raises:
        InputError: The solver is not installed.
    """
    own = car.planning
    if own.places and own.shelf:
        asked = Asked(seconds=_SECONDS, why=False)
        found = plan(pack, document, car, Planning(own.places, own.shelf), on, asked).found
        if found is not None and not any(map(is_broken, found.inspection.outcomes)):
            kg = sum((option.kg * times for option, times in found.chosen.items()), Fraction(0))
            pieces = sum(1 if o.is_stock else int(times) for o, times in found.chosen.items())
            return Mending(float(kg), pieces)
    before = inspect_car(pack, car, on, ENTRANT)
    rows, declined, _ = rows_of(before, rule_for(ENTRANT, pack.decision))
    if declined or not rows:
        return None
    caps, _ = caps_and_bars(before.outcomes, car, (a_kilogram(car),))
    more = more_that_would_do(Model(car, Planning(), (), rows, (), ()), Clock(_SECONDS), caps)
    return Mending(None if more is None or more.off is not None else more.kg)
