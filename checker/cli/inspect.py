"""`checker inspect`: judge cars by every clause of their rule pack."""

from __future__ import annotations

from collections.abc import Sequence

import click

from checker.cli import exits, output
from checker.cli.guard import code_of
from checker.cli.options import judging, units
from checker.cli.planned import as_planned
from checker.cli.printing import Printing, printing_as
from checker.cli.progress import each
from checker.cli.sheets import asked_for, deliver_tables, tables
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import replace
from checker.report.amounts import Data
from checker.report.one_car.document import inspection_document
from checker.report.page import Page
from checker.report.words.remarks import car_warnings
from checker.report.words.units import showing
from checker.verdict.inspection import Inspection
from checker.verdict.run import Request, inspect_request


@click.command(
    short_help="Judge cars by every clause: met or not, by how much, what to do.",
    epilog="""\b
    Examples:
      checker inspect car.yaml
      checker inspect car.yaml --on 2026-06-07 --set fuel.capacity='20 L'
      checker inspect car.yaml --for official --readings weigh-in.yaml
      checker inspect cars/*.yaml --format json
      checker inspect car.yaml --format html --output car.html
      checker inspect cars/*.yaml --xlsx --output cars.xlsx
      checker inspect car.yaml --since report.json
      checker inspect softer.yaml --since harder.yaml""",
)
@click.argument("cars", nargs=-1, required=True, metavar="CAR...")
@judging
@click.option("--all", "every_clause", is_flag=True, help="List every clause, also those that are met.")
@click.option("--assumed", "all_assumed", is_flag=True, help="List all that is assumed, not only how much.")
@click.option(
    "--since",
    metavar="FILE",
    help="Tell what changed since a report that was kept with --format json, or beside another set-up: a car's file.",
)
@printing_as("json", "html", pictures=("plan", "window", "margins"))
@tables("cars", "clauses")
@units
def command(
    cars: tuple[str, ...],
    asked: Request,
    every_clause: bool,
    all_assumed: bool,
    since: str | None,
    printing: Printing,
) -> int:
    """Judge each CAR by every clause of its rule pack.

    CAR is the file of a declaration. The report says what fails and by how much, what is too close to call, what is
    not declared or not yet checked, how much is in hand, and what to do. Several cars give a table; with --all, each
    car's own report comes before it.
    """
    if asked.readings is not None and len(cars) > 1:
        raise click.UsageError("--readings are those of one car; give one CAR")
    in_tables = asked_for(printing)
    if in_tables and since is not None:
        raise click.UsageError("--since is told as text or JSON, not in tables")
    printing.refuse_overwriting(*cars, *asked.files, since)
    requests = [replace(asked, car=car) for car in cars]
    documents: list[Data] = []
    compared: list[Data] = []
    problems: list[Problem] = []
    unusable: list[str] = []
    codes: list[int] = []
    for request in each(requests):
        try:
            inspection = inspect_request(request)
        except InputError as error:
            problems += error.problems
            unusable.append(request.car)
            codes.append(code_of(error))
            continue
        problems += car_warnings(inspection.car)
        document = inspection_document(inspection, _layout(inspection, printing.form))
        documents.append(as_planned(document, inspection, request, draw=printing.form in ("html", "svg")))
        if since is not None:
            compared.append(_since(request, inspection, documents[-1], since))
        codes.append(exits.result(inspection.complies))
    output.show_problems(problems)
    documents = compared if since is not None else documents
    if documents and in_tables:
        from checker.report.one_car.tables import inspection_tables

        deliver_tables(inspection_tables(documents, unusable), printing)
    elif documents and printing.form == "json":
        printing.json(documents)
    elif since is None and len(cars) == 1 and documents and (printing.is_page or printing.form == "svg"):
        from checker.report.html.one_car import figures, inspection_page

        if printing.form == "svg":
            printing.drawn(figures(documents[0]))
        else:
            printing.laid_out(inspection_page(documents))
    elif documents:
        with printing.paged() as page:
            _print(documents, unusable, page, every_clause=every_clause, all_assumed=all_assumed)
    return exits.worst(codes)


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

            of_other = replace(request, car=file, what_if=())
            other = inspect_request(of_other)
            if other.pack.name != inspection.pack.name:
                raise other_formula(file, other.pack.name, inspection.pack.name)
            changed = since(as_planned(inspection_document(other), other, of_other), plain)
            changed["set_ups"] = set_ups_data(file, request.car, differences(other.car, inspection.car))
    acts = {outcome["clause"]: outcome["act"] for outcome in document["outcomes"]}
    for change in changed["changes"]:
        change["act"] = acts.get(change["clause"], "")
    return changed


def _print(
    documents: Sequence[Data], unusable: Sequence[str], page: Page, *, every_clause: bool, all_assumed: bool
) -> None:
    from checker.report.one_car.text import inspection_text

    if any(document["document"] == "since" for document in documents):
        from checker.report.one_car.since import since_text

        for document in documents:
            since_text(document, page)
        return
    several = len(documents) + len(unusable) > 1
    if every_clause or not several:
        for document in documents:
            inspection_text(document, page, every_clause=every_clause, all_assumed=all_assumed)
    if several:
        from checker.report.one_car.fleet import fleet_text

        fleet_text(documents, unusable, page)
