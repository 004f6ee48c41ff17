"""Reports on what stands in the form: the same pages that the commands write."""

from __future__ import annotations

from collections.abc import Mapping

from checker.pages.form.judging import RulesAsked
from checker.reading.document import Document
from checker.report.amounts import Data
from checker.report.html.sheet import Sheet
from checker.report.one_car.document import inspection_document
from checker.report.words.units import showing
from checker.verdict.inspection import Inspection
from checker.verdict.run import dated


def conditions_sheet(inspection: Inspection) -> Sheet:
    """What the car weighs in every condition, and where it turns illegal."""
    from checker.report.one_car.condition_table import conditions_document
    from checker.report.one_car.condition_text import conditions_text
    from checker.studies.one_car.condition_table import condition_table

    sheet = Sheet()
    conditions_text(conditions_document(condition_table(inspection)), sheet)
    return sheet


def plan_sheet(inspection: Inspection, document: Document, rules: RulesAsked) -> Sheet:
    """What to add, move and take off so that every clause on weights is met.

    Raises:
        InputError: Nothing may be done, something that a plan needs is not known, or the solver is not installed.
    """
    from checker.report.one_car.plan import plan_document
    from checker.report.one_car.plan_text import plan_text
    from checker.studies.planning.looking import Asked
    from checker.studies.planning.planner import plan

    on, car = rules.day(document), inspection.car
    found = plan(inspection.pack, dated(document, on), car, car.planning, on, Asked())
    sheet = Sheet()
    plan_text(plan_document(found), sheet)
    return sheet


def compared_sheet(before: Inspection, now: Inspection, words: tuple[str, str]) -> Sheet:
    """Two states of the car side by side; `words` say what each is called."""
    from checker.report.one_car.set_ups import set_ups_data
    from checker.studies.one_car.set_ups import differences
    from checker.studies.one_car.since import since

    with showing(None):  # documents are compared in the units of the rules
        changed = since(inspection_document(before), inspection_document(now))
    changed["set_ups"] = set_ups_data(*words, differences(before.car, now.car))
    return _since_sheet(changed, now)


def since_report_sheet(report: Data, now: Inspection) -> Sheet:
    """What changed since a report that was kept."""
    from checker.studies.one_car.since import since

    with showing(None):
        changed = since(report, inspection_document(now))
    return _since_sheet(changed, now)


def _since_sheet(changed: Data, now: Inspection) -> Sheet:
    from checker.report.one_car.since import since_text

    acts: Mapping[str, str] = {one["clause"]: one["act"] for one in inspection_document(now)["outcomes"]}
    for change in changed["changes"]:
        change["act"] = acts.get(change["clause"], "")
    sheet = Sheet()
    since_text(changed, sheet)
    return sheet


def inspection_data(inspection: Inspection) -> Data:
    """The document of an inspection with where the car carries its weight, for pictures."""
    from checker.report.one_car.layout_data import layout_data
    from checker.studies.one_car.layout import layout

    return inspection_document(inspection, layout_data(layout(inspection)))
