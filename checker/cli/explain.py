"""`checker explain`: how the outcome of one clause came about."""

from __future__ import annotations

import json

import click

from checker.cli import exits, output
from checker.cli.options import judging, page_for, printing, refuse_overwriting, refuse_unknown_clause, units
from checker.report.one_car.explanation import explanation_document
from checker.report.words.remarks import car_warnings
from checker.verdict.run import Request, inspect_request


@click.command(
    short_help="Show how one clause was judged: numbers, formulas, where they were read.",
    epilog="""\b
    Examples:
      checker explain car.yaml 3.1
      checker explain car.yaml 3.1 --set fuel.capacity='20 L'""",
)
@click.argument("car", metavar="CAR")
@click.argument("clause", metavar="CLAUSE")
@judging
@printing
@units
def command(
    car: str,
    clause: str,
    pack: str | None,
    on: str | None,
    audience: str,
    readings: str | None,
    gear: str | None,
    what_if: tuple[str, ...],
    form: str,
    output_file: str | None,
    width: int | None,
) -> int:
    """Show how CLAUSE was judged for CAR.

    CAR is the file of a declaration, CLAUSE a number such as 3.1. Printed are the clause's text, the numbers that
    went in with file and line, the formula with numbers in place, the limit, the margin and the state that decides.
    The exit code is that of the whole car.
    """
    refuse_overwriting(output_file, (car, readings, gear, pack))
    inspection = inspect_request(Request(car, pack, on, readings, audience, what_if, gear))
    refuse_unknown_clause(clause, inspection.pack)
    output.show_problems(car_warnings(inspection.car))
    document = explanation_document(inspection, clause)
    if form == "json":
        output.deliver(json.dumps(document, ensure_ascii=False) + "\n", output_file, utf8=True)
    else:
        from checker.report.one_car.explain import explanation_text

        page = page_for(width, output_file)
        explanation_text(document, page)
        output.deliver(page.text(), output_file)
    return exits.result(inspection.complies)
