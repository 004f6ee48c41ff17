"""`checker inspect CAR` without options, as it is mostly typed: run without the library that reads command lines."""

from __future__ import annotations

from checker.cli import exits, output
from checker.cli.planned import as_planned
from checker.report.one_car.brief import brief_document
from checker.report.one_car.text import inspection_text
from checker.report.page import Page
from checker.report.words.remarks import car_warnings
from checker.verdict.run import Request, inspect_request


def inspect(car: str) -> int:
    """Judge a car, print its report, and give the exit code: all as the command does.

    Raises:
        InputError: A file cannot be used; with every problem found.
    """
    request = Request(car)
    inspection = inspect_request(request)
    output.show_problems(car_warnings(inspection.car))
    page = Page(output.width_of_terminal(), colour=output.in_colour())
    document = as_planned(brief_document(inspection), inspection, request)
    inspection_text(document, page, every_clause=False, all_assumed=False)
    output.deliver(page.text())
    return exits.result(inspection.complies)
