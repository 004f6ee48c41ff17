"""One clause explained, as a document of plain data: its text, the numbers that went in, and where each was read.

Its shape is `schemas/explanation.schema.json`.
"""

from __future__ import annotations

from checker.car.scene import Scene
from checker.kinds.judging.assessment import Amount
from checker.kinds.judging.working import with_numbers
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import Unknown
from checker.report.amounts import Data, amount_data, begun
from checker.report.one_car.clause_parts import JudgedPart, concerning, parts
from checker.report.one_car.document import heading_data, judged_data, outcome_data
from checker.report.one_car.identity import CONCERNING
from checker.report.one_car.origins import place_data, read_from, weights_from
from checker.report.words.amounts import statement_words
from checker.report.words.findings import found_words, unknown_words
from checker.verdict.inspection import Inspection, Outcome

MOST_PARTS = 6
"""Of a clause with more parts, those that decide are explained and the others counted."""


def explanation_document(inspection: Inspection, number: str) -> Data:
    """How the outcome of one clause came about.

    Raises:
        KeyError: The pack has no clause of that number.
    """
    outcome = next((o for o in inspection.outcomes if o.clause.number == number), None)
    if outcome is None:
        raise KeyError(number)
    clause = outcome.clause
    explained, others = _chosen(outcome)
    return {
        **begun("explanation"),
        **heading_data(inspection),
        "rule": {
            "text": clause.text,
            "check": "" if outcome.check is None else outcome.check.sentence(),
            "place": place_data(clause.span),
        },
        "outcome": outcome_data(outcome),
        "parts": [_part_data(part, outcome, inspection) for part in explained],
        "other_parts": others,
    }


def _chosen(outcome: Outcome) -> tuple[list[JudgedPart], int]:
    """The parts to explain, and how many are left out."""
    if outcome.check is None:
        return [], 0
    every = list(parts(outcome.check, outcome.assessment))
    if len(every) <= MOST_PARTS:
        return every, 0
    if outcome.outcome in CONCERNING:
        chosen = list(concerning(outcome.check, outcome.assessment))
    else:
        margin = outcome.assessment.margin
        chosen = [
            p for p in every if p.assessment.outcome == outcome.outcome and p.assessment.margin == margin
        ][:1]
    chosen = (chosen or every)[:MOST_PARTS]
    return chosen, len(every) - len(chosen)


def _part_data(part: JudgedPart, outcome: Outcome, inspection: Inspection) -> Data:
    found = part.assessment
    scenes = list({id(w.scene): w.scene for w in found.workings}.values())
    used = scenes or [Scene(inspection.car, outcome.assessment.state)]
    expressions = [expression for _, expression in (*part.check.expressions(), *part.frame)]
    names = _names(expressions)
    frame = part.frame if scenes else ()  # without an entry at hand its formulas have no value
    return {
        "item": part.item or None,
        "check": part.check.sentence(),
        "outcome": found.outcome,
        **judged_data(found),
        "text": found_words(found.finding),
        "workings": [
            *_derived(names, used[0], inspection),
            *(_formula_data(role, expression, used[0]) for role, expression in frame),
            *(_formula_data(w.role, w.expression, w.scene) for w in found.workings),
        ],
        "weights": weights_from(names, used),
        "read": read_from(names, used, part.item),
    }


def _names(expressions: list[Expression]) -> list[str]:
    """Full names that formulas use, those written first, then what these rest on."""
    found: dict[str, None] = {}
    for expression in expressions:
        for leaf in expression.leaves:
            found.update(dict.fromkeys(sorted(leaf.uses)))
        found.update(dict.fromkeys(sorted(expression.uses)))
    return list(found)


def _derived(names: list[str], scene: Scene, inspection: Inspection) -> list[Data]:
    """Values of the pack's own making that went in, each with its formula."""
    pack = inspection.pack
    return [
        _formula_data(name, pack.derived[name].expression, scene) for name in names if name in pack.derived
    ]


def _formula_data(role: str, expression: Expression, scene: Scene) -> Data:
    value = expression.evaluate(scene)
    data: Data = {
        "role": role,
        "formula": expression.text,
        "with_numbers": statement_words(with_numbers(expression, scene)),
    }
    if isinstance(value, NoLimit):
        return {**data, "result": {"value": "no limit", "exact": None, "unit": None}, "not_shown": []}
    if isinstance(value, Unknown):
        return {**data, "result": None, "not_shown": unknown_words(value)}
    if (
        expression.kind.name == "list"
        and len(expression.leaves) == 1
        and expression.leaves[0].text == expression.text
    ):
        shown = {"value": data["with_numbers"], "exact": None, "unit": None}
        return {**data, "result": shown, "not_shown": []}
    unit = expression.written_unit(scene) if expression.kind.is_measure else None
    return {**data, "result": amount_data(Amount(value, expression.kind, unit)), "not_shown": []}
