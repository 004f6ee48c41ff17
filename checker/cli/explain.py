"""`checker explain`: how the outcome of one clause came about."""

from __future__ import annotations

import click

from checker.cli import exits, output
from checker.cli.options import a_command, judging, refuse_unknown_clause, units
from checker.cli.planned import clause_as_planned
from checker.cli.printing import Printing, printing
from checker.reading.quick_dataclasses import replace
from checker.report.one_car.explain import explanation_text
from checker.report.one_car.explanation import explanation_document
from checker.report.words.remarks import car_warnings
from checker.verdict.run import Request, inspect_request


@a_command(
    "Show how one clause was judged: numbers, formulas, where they were read.",
    "checker explain car.yaml 3.1",
    "checker explain car.yaml 3.1 --set fuel.capacity='20 L'",
)
@click.argument("car", metavar="CAR")
@click.argument("clause", metavar="CLAUSE")
@judging
@printing
@units
def command(
    car: str,
    clause: str,
    asked: Request,
    printing: Printing,
) -> int:
    """Show how CLAUSE was judged for CAR.

    CAR is the file of a declaration, CLAUSE a number such as 3.1. Printed are the clause's text, the numbers that
    went in with file and line, the formula with numbers in place, the limit, the margin and the state that decides.
    The exit code is that of the whole car.
    """
    printing.refuse_overwriting(car, *asked.files)
    request = replace(asked, car=car)
    inspection = inspect_request(request)
    refuse_unknown_clause(clause, inspection.pack)
    output.show_problems(car_warnings(inspection.car))
    document = clause_as_planned(explanation_document(inspection, clause), inspection, request)
    printing.document(document, explanation_text)
    return exits.result(inspection.complies)
