"""An inspection as one versioned document of plain data; every report is rendered from it.

Its shape is `schemas/inspection.schema.json`. A reader of version 1 may rely on every key that is there; keys may be
added. The same inputs give the same document: nothing of the machine, the clock or the terminal is in it.
"""

from __future__ import annotations

from collections.abc import Iterable

from checker.car.premises import Taken, TakenAs
from checker.kinds.frame.legal_fuel import in_all
from checker.kinds.judging.assessment import FAIL, Assessment, LegalFuel
from checker.kinds.judging.findings import AgainstBound
from checker.quantities.sense import Sense
from checker.report.acts import acts_data, together_data
from checker.report.amounts import (
    Data,
    begun,
    estimate,
    uncertainty_data,
)
from checker.report.interpretations import interpretation_data
from checker.report.one_car.clause_parts import JudgedPart, concerning, parts
from checker.report.one_car.fuel import crossings, deciding_line, failing_words, levels_data
from checker.report.one_car.identity import (
    condition_data,
    counts,
    figures_data,
    identity_data,
    scale_text,
    sort_of,
)
from checker.report.one_car.missing import missing_data
from checker.report.one_car.pressing import most_pressing
from checker.report.words.acts import act_words
from checker.report.words.findings import found_words, penalty_words, unknown_words
from checker.report.words.premises import premise_words, taken_words
from checker.verdict.inspection import Inspection, Outcome


def inspection_document(inspection: Inspection, layout: Data | None = None) -> Data:
    """The document of one inspection, ready for JSON.

    Args:
        layout: Where the car carries its weight, by `checker.report.one_car.layout_data`, where that is asked for.
    """
    return {
        **begun("inspection"),
        **heading_data(inspection),
        "outcomes": [outcome_data(outcome) for outcome in inspection.outcomes],
        "most_pressing": most_pressing(inspection.outcomes),
        "counts": counts(inspection.outcomes),
        **missing_data(inspection),
        "complies": inspection.complies,
        "together": together_data(inspection.together),
        "layout": layout,
    }


def heading_data(inspection: Inspection) -> Data:
    """Who was judged by what, when and for whom."""
    premises = inspection.premises
    return identity_data(
        inspection,
        {
            "assumed": [premise_words(one) for one in premises],
            "assumed_sorts": [sort_of(one) for one in premises],
            "taken_as": [
                _taken_data(one)
                for one in premises
                if isinstance(one, TakenAs) and one.what is not Taken.FIELD
            ],
        },
    )


def _taken_data(taken: TakenAs) -> Data:
    """One value that stands where nothing is stated; `text` is its sentence under `assumed`."""
    what, value = taken_words(taken)
    return {"what": what, "value": value, "text": premise_words(taken)}


def outcome_data(outcome: Outcome) -> Data:
    """What became of one clause."""
    clause, found = outcome.clause, outcome.assessment
    return {
        "clause": clause.number,
        "title": clause.title,
        "outcome": found.outcome,
        "severity": clause.severity,
        **judged_data(found),
        "scale": scale_text(found),
        "condition": condition_data(found),
        "crossing": _crossing_data(found) if found.outcome == FAIL else None,
        "fuel_text": _fuel_text(found) if found.outcome == FAIL else "",
        "legal_fuel": _legal_fuel_data(outcome.legal_fuel),
        "items": _items(outcome),
        "act": act_words(found.act),
        "acts": acts_data(found.act),
        "text": found_words(found.finding),
        "figures_tell": _figures_tell(outcome),
        "interpretation": clause.interpretation,
        "interpretations": [interpretation_data(one) for one in clause.interpretations],
        "consequence": clause.consequence if found.outcome == FAIL else "",
        "penalty": penalty_words(outcome.penalty),
        "approval": outcome.reference or None,
        "without": None if outcome.without is None else _without_data(outcome.without),
    }


def _figures_tell(outcome: Outcome) -> bool:
    """Whether value, bound and margin say all that was found: the clause is one limit."""
    found = outcome.assessment
    if outcome.check is None or not (isinstance(found.finding, AgainstBound) and found.finding.resolved):
        return False
    return len(list(parts(outcome.check, found))) == 1


def _without_data(found: Assessment) -> Data:
    """What a clause would have come to without the approval that it rests on."""
    return {"outcome": found.outcome, **judged_data(found), "text": found_words(found.finding)}


def judged_data(found: Assessment) -> Data:
    """Value, bound, margin and how well they are known, of a clause or of one part of it."""
    return {
        **figures_data(found),
        "uncertainty": uncertainty_data(found.spread, found.margin, found.taken_as_exact),
        "probability": _probability(found),
        "taken_as_exact": list(found.taken_as_exact),
        "not_shown": unknown_words(found.unknown),
    }


def _probability(found: Assessment) -> float | None:
    """Of what is not known as a whole nobody can tell how probable it is."""
    if found.spread is None or found.spread.probability is None or found.taken_as_exact:
        return None
    return estimate(found.spread.probability)


def _crossing_data(found: Assessment) -> Data | None:
    """Where the check turns as fuel is burnt, all else as in the state that decides: to an end of the tank."""
    line = deciding_line(found)
    turns = [] if line is None else crossings(line)
    return {**turns[0], "text": _fuel_text(found)} if turns else None


def _fuel_text(found: Assessment) -> str:
    """With how much fuel on board the check fails: in the state that decides, and in any that is asked for."""
    line = deciding_line(found)
    if line is None or line.asked is None or not line.fails:
        return ""
    senses = {bound.sense for bound in found.bounds}
    side = _SIDES.get(senses.pop(), "") if len(senses) == 1 else ""
    words = failing_words(line)
    told = f"{side or 'outside the limit'} with {words} on board"
    whole = in_all(found.legal_fuel, line.state)
    others = failing_words(whole)
    return told if others in ("", words) else f"{told}; in the worst of the states asked for with {others}"


def _legal_fuel_data(lines: Iterable[LegalFuel]) -> list[Data]:
    """The legal levels on each set of tyres, driver and wear as the clause asks."""
    by_tyres: dict[str | None, list[LegalFuel]] = {}
    for line in lines:
        tyres = line.state.tyres if isinstance(line.state.tyres, str) else None
        by_tyres.setdefault(tyres, []).append(line)
    found = []
    for tyres, same in by_tyres.items():
        whole = in_all(same, same[0].state)
        found.append(
            {"tyres": tyres, "levels": levels_data(whole.holds), "not_shown": unknown_words(whole.unknown)}
        )
    return found


_SIDES = {
    Sense.AT_LEAST: "below the minimum",
    Sense.ABOVE: "not above the limit",
    Sense.AT_MOST: "above the maximum",
    Sense.BELOW: "not below the limit",
}


def _items(outcome: Outcome) -> list[Data]:
    """The parts that are not met; none where the clause is one limit and says it all itself."""
    if outcome.check is None:
        return []
    found = list(concerning(outcome.check, outcome.assessment))
    if len(found) == 1 and not found[0].item:
        return []
    return [_item_data(part) for part in found]


def _item_data(part: JudgedPart) -> Data:
    found = part.assessment
    return {
        "item": part.item or None,
        "count": found.standing,
        "outcome": found.outcome,
        **judged_data(found),
        "act": act_words(found.act),
        "acts": acts_data(found.act),
        "text": found_words(found.finding),
    }
