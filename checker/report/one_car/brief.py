"""The document of an inspection as far as its text shows it: nothing is worked out that would be left out."""

from __future__ import annotations

from checker.kinds.judging.assessment import NOT_SHOWN, PASS
from checker.report.amounts import Data, begun
from checker.report.one_car.identity import condition_data, counts, figures_data, identity_data, sort_of
from checker.report.one_car.pressing import most_pressing
from checker.report.one_car.sections import COUNTED, MANY, TIGHTEST, is_told_of
from checker.verdict.inspection import Inspection, Outcome, Together


def brief_document(inspection: Inspection) -> Data:
    """What `inspection_text` asks of a document, where neither every clause nor all that is assumed is to be listed."""
    outcomes = {outcome.clause.number: outcome for outcome in inspection.outcomes}
    pressing = [number for number in most_pressing(inspection.outcomes) if outcomes[number].outcome == PASS]
    tally = counts(inspection.outcomes)
    return {
        **begun("inspection"),
        **identity_data(inspection, _assumed_data(inspection)),
        "outcomes": [_outcome_data(one, number in pressing[:TIGHTEST]) for number, one in outcomes.items()],
        "most_pressing": pressing,
        "counts": tally,
        **(_missing_data(inspection) if tally[NOT_SHOWN] > MANY else {}),
        "complies": inspection.complies,
        "together": None if inspection.together is None else _together_data(inspection.together),
        "layout": None,
    }


def _assumed_data(inspection: Inspection) -> Data:
    """What sorts of things are assumed, with the sentence of what cannot be counted."""
    premises = inspection.premises
    sorts = [sort_of(one) for one in premises]
    told = [""] * len(sorts)
    if not COUNTED.keys() >= set(sorts):
        from checker.report.words.premises import premise_words

        told = [premise_words(one) for one in premises]
    return {"assumed": told, "assumed_sorts": sorts}


def _missing_data(inspection: Inspection) -> Data:
    from checker.report.one_car.missing import missing_data

    return missing_data(inspection)


def _together_data(together: Together) -> Data | None:
    from checker.report.acts import together_data

    return together_data(together)


def _outcome_data(outcome: Outcome, tight: bool) -> Data:
    """Of a clause that is met no more than its figures, and those only where it is among the closest to its limit."""
    found = outcome.assessment
    brief: Data = {
        "clause": outcome.clause.number,
        "title": outcome.clause.title,
        "outcome": found.outcome,
        "severity": outcome.clause.severity,
        "approval": outcome.reference or None,
    }
    if is_told_of(brief):
        from checker.report.one_car.document import outcome_data

        return outcome_data(outcome)
    return brief | figures_data(found) | {"condition": condition_data(found)} if tight else brief
