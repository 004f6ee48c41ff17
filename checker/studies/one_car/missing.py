"""All that a car's file lacks for the clauses to be judged, each thing once, what the weights need first."""

from __future__ import annotations

from collections.abc import Iterator

from checker.kinds.judging.assessment import NOT_SHOWN
from checker.reading.quick_dataclasses import dataclass
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


@dataclass(frozen=True, slots=True)
class NextToState:
    """What to state next."""

    outcome: Outcome
    """Of the clause that it settles."""
    missing: tuple[str, ...]
    """What the clause lacks beside what the steps before have told."""


def steps(inspection: Inspection) -> Iterator[NextToState]:
    """What to state in which order: always for the clause that lacks the least then, those on weights first."""
    open_ = [o for o in _not_shown(inspection) if o.assessment.unknown.absent]
    told: set[str] = set()
    while open_:
        lacks = {
            o.clause.number: tuple(name for name in o.assessment.unknown.absent if name not in told)
            for o in open_
        }
        next_ = min(open_, key=lambda o: (not o.assessment.condition, len(lacks[o.clause.number])))
        lacking = lacks[next_.clause.number]
        if lacking:
            yield NextToState(next_, lacking)
        told.update(lacking)
        open_.remove(next_)


def nearest(inspection: Inspection) -> Outcome | None:
    """The clause on weights, else any, that is not shown for the fewest things: what to state next settles it."""
    first = next(steps(inspection), None)
    return None if first is None else first.outcome


def _not_shown(inspection: Inspection) -> list[Outcome]:
    return [o for o in inspection.outcomes if o.outcome == NOT_SHOWN and o.counts]
