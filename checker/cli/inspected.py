"""What `checker inspect` makes of one car, here or in a helper process, so that of a fleet only that much is kept."""

from __future__ import annotations

from functools import partial
from typing import Any

from checker.cli import exits
from checker.cli.planned import as_planned
from checker.reading.document import Document
from checker.reading.problems import Problem
from checker.reading.quick_dataclasses import dataclass, replace
from checker.report.amounts import Data
from checker.report.json_text import json_text
from checker.report.one_car.document import inspection_document
from checker.report.words.remarks import car_warnings
from checker.report.words.units import showing
from checker.studies.fleet.workers import Work
from checker.verdict.inspection import Inspection
from checker.verdict.run import Request, car_of_request, inspect_request

WHOLE, BRIEF, LINE = "whole", "brief", "line"
"""What is kept of a car: its document; what a list of cars shows; its line of JSON."""


@dataclass(frozen=True, slots=True)
class Inspected:
    """What is kept of one car."""

    told: Any
    """Its document, or part of it; its line of JSON."""
    problems: tuple[Problem, ...]
    """What was found in its files."""
    code: int
    """One of `exits`."""


@dataclass(frozen=True, slots=True)
class Inspecting:
    """How the cars of one command are inspected."""

    asked: Request
    form: str
    kept: str
    units: str | None
    """The system of units in which amounts are shown; None: that of the rules."""
    since: str | None = None

    def work(self) -> Work[Inspected]:
        """What is done with each car."""
        return partial(_inspected, self)


def _inspected(how: Inspecting, document: Document, place: str) -> Inspected:
    request = replace(how.asked, car=place, declaration=document)
    if how.kept == BRIEF:
        return _at_a_glance(request, how.units)
    with showing(how.units):
        inspection = inspect_request(request)
        made = inspection_document(inspection, _layout(inspection, how.form))
        made = as_planned(made, inspection, request, draw=how.form in ("html", "svg"))
        told = _told(how, made, inspection, request)
    return Inspected(told, car_warnings(inspection.car), exits.result(inspection.complies))


def _told(how: Inspecting, made: Data, inspection: Inspection, request: Request) -> Any:
    if how.since is not None:
        return _since(request, inspection, made, how.since)
    if how.kept == LINE:
        return json_text(made)
    return made


def _at_a_glance(request: Request, units: str | None) -> Inspected:
    """What a list of cars tells of one: nothing more is worked out, and nothing is tried or planned."""
    from checker.report.one_car.fleet import row_document
    from checker.studies.fleet.glance import glance

    with showing(units):
        seen = glance(*car_of_request(request), request.audience, request.what_if)
        return Inspected(row_document(seen), car_warnings(seen.car), exits.result(seen.complies))


def _layout(inspection: Inspection, form: str) -> Data | None:
    """Where the car carries its weight, for a reader who draws it."""
    if form == "text":
        return None
    from checker.report.one_car.layout_data import layout_data
    from checker.studies.one_car.layout import layout

    return layout_data(layout(inspection))


def _since(request: Request, inspection: Inspection, document: Data, file: str) -> Data:
    """What changed for a car since the report of it in a file, or beside the set-up that a car's file describes; what
    to do as it is told now.
    """
    from checker.report.one_car.earlier import is_report, other_formula, read_report
    from checker.studies.one_car.since import since

    with showing(None):  # as every report is kept
        plain = as_planned(inspection_document(inspection), inspection, request)
        if is_report(file):
            changed = since(read_report(file, document["car"]["number"], document["pack"]["pack"]), plain)
        else:
            from checker.report.one_car.set_ups import set_ups_data
            from checker.studies.one_car.set_ups import differences

            of_other = replace(request, car=file, what_if=(), declaration=None)
            other = inspect_request(of_other)
            if other.pack.name != inspection.pack.name:
                raise other_formula(file, other.pack.name, inspection.pack.name)
            changed = since(as_planned(inspection_document(other), other, of_other), plain)
            changed["set_ups"] = set_ups_data(file, request.car, differences(other.car, inspection.car))
    acts = {outcome["clause"]: outcome["act"] for outcome in document["outcomes"]}
    for change in changed["changes"]:
        change["act"] = acts.get(change["clause"], "")
    return changed
