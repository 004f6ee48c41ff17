"""What stands over every inspection: which car was judged by which rules and for whom; and its figures and counts."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from checker.car.premises import Believed, ErrorFree, GearTaken, Premise, TakenAs
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, OUTCOMES, TOO_CLOSE, Assessment
from checker.pack.model import Pack
from checker.reading.quick_dataclasses import replace
from checker.report.amounts import Data, amount_data, bound_data, exact_text, margin_data
from checker.verdict.inspection import Inspection, Outcome

CONCERNING = (FAIL, TOO_CLOSE, NOT_SHOWN)
"""What a clause comes to that is not met for certain."""


def identity_data(inspection: Inspection, assumed: Data) -> Data:
    """Who was judged by what, when and for whom, with what is assumed."""
    car = inspection.car
    return {
        "for": inspection.audience,
        "what_if": list(inspection.what_if),
        **assumed,
        "pack": pack_data(inspection.pack),
        "car": {"number": car.number, "name": car.name or None, "sha256": car.sha256},
        "readings": {"sha256": car.readings_sha256} if car.readings_sha256 else None,
        "gear": {"sha256": car.gear_sha256} if car.gear_sha256 else None,
        "on": inspection.on.isoformat(),
    }


def pack_data(pack: Pack) -> Data:
    """Which rules spoke."""
    return {
        "pack": pack.name,
        "title": pack.title,
        "edition": pack.edition,
        "bulletins": list(pack.bulletins),
        "sha256": pack.sha256,
        "because": pack.because,
    }


def sort_of(premise: Premise) -> str:
    """What sort of thing is assumed, to count by."""
    match premise:
        case Believed():
            return "entrants_word"
        case TakenAs():
            return "not_stated"
        case GearTaken():
            return "scales"
        case ErrorFree():
            return "no_error_stated"
        case _:
            return "other"


def counts(outcomes: Iterable[Outcome]) -> dict[str, int]:
    """How many clauses came to each outcome; advisory clauses that are not met stand under `advice` only."""
    found = dict.fromkeys((*OUTCOMES, "advice"), 0)
    for outcome in outcomes:
        found["advice" if is_advice(outcome) else outcome.outcome] += 1
    return found


def is_advice(outcome: Outcome) -> bool:
    """An advisory clause that is not met for certain: told as advice, and never counted against the car."""
    return not outcome.counts and outcome.outcome in CONCERNING


def figures_data(found: Assessment) -> Data:
    """Value, bound and margin of a clause or of one part of it."""
    return {
        "value": amount_data(found.value),
        "bound": bound_data(found.bounds[0] if found.bounds else None),
        "margin": margin_data(found.margin),
    }


def scale_text(found: Assessment) -> str | None:
    """What the margin is ranked as a share of, in the margin's own unit."""
    if found.margin is None or found.size <= 0 or (found.met_by_nature and not found.margin.value):
        return None
    shown = margin_data(replace(found.margin, value=found.margin.value or Fraction(1))) or {}
    return exact_text(found.size * Fraction(shown["exact"]) / (found.margin.value or 1))


def condition_data(found: Assessment) -> Data | None:
    """The state that decides; None where none does."""
    if found.state is None:
        return None
    return {"name": found.condition, "state": found.state.words}
