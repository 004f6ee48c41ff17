"""All that a car's file lacks for the clauses to be judged, each thing once, what the weights need first."""

from __future__ import annotations

from dataclasses import dataclass

from checker.kinds.judging.assessment import NOT_SHOWN
from checker.verdict.inspection import Inspection
from checker.verdict.outcome import Outcome

OF_WEIGHTS = ("weighing", "fuel", "driver", "tyres", "wear", "dimensions", "fluids")
"""Sections of a declaration that the weights are worked out from, in the order in which they are best stated."""


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing that is not stated, or not often enough."""

    name: str
    """"fuel.density"; of an entry "B1: mass"."""
    clauses: tuple[str, ...]
    """Numbers of the clauses that ask for it."""

    @property
    def section(self) -> str:
        return self.name.partition(".")[0]

    @property
    def is_of_weights(self) -> bool:
        return self.section in OF_WEIGHTS


def missing(inspection: Inspection) -> tuple[Missing, ...]:
    """What is not stated though a clause that is not shown asks for it."""
    asking: dict[str, dict[str, None]] = {}
    for outcome in _not_shown(inspection):
        unknown = outcome.assessment.unknown
        for name in (*unknown.absent, *(one.name for one in unknown.too_few)):
            asking.setdefault(name, {})[outcome.clause.number] = None
    found = [Missing(name, tuple(clauses)) for name, clauses in asking.items()]
    order = {section: place for place, section in enumerate(OF_WEIGHTS)}
    return tuple(sorted(found, key=lambda one: order.get(one.section, len(order))))


def nearest(inspection: Inspection) -> Outcome | None:
    """The clause on weights, else any, that is not shown for the fewest things: what to state next settles it."""
    open_ = [o for o in _not_shown(inspection) if o.assessment.unknown.absent]
    asked = [o for o in open_ if o.assessment.condition] or open_
    return min(asked, key=lambda o: len(o.assessment.unknown.absent), default=None)


def _not_shown(inspection: Inspection) -> list[Outcome]:
    return [o for o in inspection.outcomes if o.outcome == NOT_SHOWN and o.counts]
