"""`checker inspect`: judge cars by every clause of their rule pack."""

from __future__ import annotations

import json
from collections.abc import Sequence

import click

from checker.cli import exits, output
from checker.cli.guard import code_of
from checker.cli.options import judging, page_for, printing, refuse_overwriting, units
from checker.cli.progress import each
from checker.reading.problems import InputError, Problem
from checker.report.amounts import Data
from checker.report.one_car.document import inspection_document
from checker.report.page import Page
from checker.report.words.remarks import car_warnings
from checker.report.words.units import showing
from checker.verdict.run import Request, inspect_request


@click.command(
    short_help="Judge cars by every clause: met or not, by how much, what to do.",
    epilog="""\b
    Examples:
      checker inspect car.yaml
      checker inspect car.yaml --on 2026-06-07 --set fuel.capacity='20 L'
      checker inspect car.yaml --for official --readings weigh-in.yaml
      checker inspect cars/*.yaml --format json
      checker inspect car.yaml --since report.json""",
)
@click.argument("cars", nargs=-1, required=True, metavar="CAR...")
@judging
@click.option("--all", "every_clause", is_flag=True, help="List every clause, also those that are met.")
@click.option(
    "--since", metavar="REPORT", help="Tell what changed since a report that was kept with --format json."
)
@printing
@units
def command(
    cars: tuple[str, ...],
    pack: str | None,
    on: str | None,
    audience: str,
    readings: str | None,
    gear: str | None,
    what_if: tuple[str, ...],
    every_clause: bool,
    since: str | None,
    form: str,
    output_file: str | None,
    width: int | None,
) -> int:
    """Judge each CAR by every clause of its rule pack.

    CAR is the file of a declaration. The report says what fails and by how much, what is too close to call, what is
    not shown, how much is in hand, and what to do. Several cars give a table; with --all, each car's own report
    comes before it.
    """
    if readings is not None and len(cars) > 1:
        raise click.UsageError("--readings are those of one car; give one CAR")
    refuse_overwriting(output_file, (*cars, readings, gear, pack, since))
    requests = [Request(car, pack, on, readings, audience, what_if, gear) for car in cars]
    documents: list[Data] = []
    plains: list[Data] = []
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
        documents.append(inspection_document(inspection))
        if since is not None:
            with showing(None):
                plains.append(inspection_document(inspection))
        codes.append(exits.result(inspection.complies))
    output.show_problems(problems)
    if since is not None:
        documents = [
            _since(document, plain, since) for document, plain in zip(documents, plains, strict=True)
        ]
    if documents and form == "json":
        lines = (json.dumps(document, ensure_ascii=False) + "\n" for document in documents)
        output.deliver("".join(lines), output_file, utf8=True)
    elif documents:
        page = page_for(width, output_file)
        _print(documents, unusable, page, every_clause)
        output.deliver(page.text(), output_file)
    return exits.worst(codes)


def _since(document: Data, plain: Data, report: str) -> Data:
    """What changed for a car since the report of it in a file; what to do as it is told now.

    Args:
        plain: The same as `document` in the units of the rules, as every report is kept.
    """
    from checker.report.one_car.earlier import read_report
    from checker.studies.one_car.since import since

    changed = since(read_report(report, document["car"]["number"], document["pack"]["pack"]), plain)
    acts = {outcome["clause"]: outcome["act"] for outcome in document["outcomes"]}
    for change in changed["changes"]:
        change["act"] = acts.get(change["clause"], "")
    return changed


def _print(documents: Sequence[Data], unusable: Sequence[str], page: Page, every_clause: bool) -> None:
    from checker.report.one_car.text import inspection_text

    if any(document["document"] == "since" for document in documents):
        from checker.report.one_car.since import since_text

        for document in documents:
            since_text(document, page)
        return
    several = len(documents) + len(unusable) > 1
    if every_clause or not several:
        for document in documents:
            inspection_text(document, page, every_clause=every_clause)
    if several:
        from checker.report.one_car.fleet import fleet_text

        fleet_text(documents, unusable, page)
