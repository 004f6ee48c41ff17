"""`checker inspect`: judge cars by every clause of their rule pack."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from itertools import chain, islice
from typing import Any

import click

from checker.cli import exits, output
from checker.cli.guard import code_of
from checker.cli.inspected import BRIEF, LINE, WHOLE, Inspecting
from checker.cli.options import JOBS, a_command, judging, units
from checker.cli.printing import Printing, printing_as
from checker.cli.progress import each_of
from checker.cli.sheets import asked_for, deliver_tables, one_table_asked_for, tables
from checker.reading.problems import InputError
from checker.report.amounts import Data
from checker.report.page import Page
from checker.report.words.units import asked_system
from checker.studies.fleet.reading import QueuedDeclaration, count, records
from checker.studies.fleet.workers import cores, judge_all
from checker.verdict.run import Request


@a_command(
    "Judge cars by every clause: met or not, by how much, what to do.",
    "checker inspect car.yaml",
    "checker inspect car.yaml --on 2026-06-07 --set fuel.capacity='20 L'",
    "checker inspect car.yaml --for official --readings weigh-in.yaml",
    "checker inspect cars/*.yaml --format json",
    "checker inspect car.yaml --format html --output car.html",
    "checker inspect cars/*.yaml --xlsx --output cars.xlsx",
    "checker inspect fleet.jsonl --format json",
    "checker inspect car.yaml --since report.json",
    "checker inspect softer.yaml --since harder.yaml",
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
@JOBS
@printing_as("json", "html", pictures=("plan", "window", "margins"))
@tables("cars", "clauses")
@units
def command(
    cars: tuple[str, ...],
    asked: Request,
    every_clause: bool,
    all_assumed: bool,
    since: str | None,
    jobs: int | None,
    printing: Printing,
) -> int:
    """Judge each CAR by every clause of its rule pack.

    CAR is the file of a declaration, or a file *.jsonl with one declaration a line. The report says what fails and by
    how much, what is too close to call, what is not declared or not yet checked, how much is in hand, and what to do.
    Several cars give a table; with --all, each car's own report comes before it.
    """
    several = len(list(islice(records(cars, folders=False), 2))) > 1
    if asked.readings is not None and several:
        raise click.UsageError("--readings are those of one car; give one CAR")
    in_tables = asked_for(printing)
    if in_tables and since is not None:
        raise click.UsageError("--since is told as text or JSON, not in tables")
    printing.refuse_overwriting(*cars, *asked.files, since)
    as_lines = printing.form == "json" and since is None
    kept = LINE if as_lines else BRIEF if several and not (every_clause or in_tables or since) else WHOLE
    how = Inspecting(asked, printing.form, kept, asked_system(), since)
    found = _Found(cars, how, jobs or cores())
    told = iter(found)
    first = next(told, None)
    every = () if first is None else chain([first], told)
    if in_tables and every:
        from checker.report.one_car.tables import inspection_tables

        rows = every if one_table_asked_for() else list(every)
        deliver_tables(inspection_tables(rows, found.judged, found.unusable), printing)
    elif as_lines and every:
        printing.published(every)
    elif every:
        _write(list(every), found, printing, several, every_clause=every_clause, all_assumed=all_assumed)
    return exits.worst(found.codes)


class _Found:
    """What is told of each car, as it comes; of what cannot be judged why is told at once, and where it is noted."""

    def __init__(self, cars: Sequence[str], how: Inspecting, jobs: int) -> None:
        self.judged: list[str] = []
        self.unusable: list[str] = []
        self.codes: list[int] = []
        self._cars, self._how, self._jobs = cars, how, jobs
        self._under_way: deque[str] = deque()

    def __iter__(self) -> Iterator[Any]:
        work = self._how.work
        judged = judge_all(self._queued(), work(), work, self._jobs)
        for one in each_of(judged, lambda: count(self._cars, folders=False)):
            place = self._under_way.popleft()
            output.show_problems(one.problems)
            code = code_of(one) if isinstance(one, InputError) else one.code
            if code not in self.codes:
                self.codes.append(code)
            if isinstance(one, InputError):
                self.unusable.append(place)
            else:
                self.judged.append(place)
                yield one.told

    def _queued(self) -> Iterator[QueuedDeclaration]:
        for record in records(self._cars, folders=False):
            self._under_way.append(record.place)
            yield record


def _write(documents: list[Data], found: _Found, printing: Printing, several: bool, **how: bool) -> None:
    """Print what is told of all cars as text, pages or pictures."""
    if printing.form == "json":
        printing.json(documents)
    elif (
        not several
        and documents[0]["document"] == "inspection"
        and (printing.is_page or printing.form == "svg")
    ):
        from checker.report.html.one_car import figures, inspection_page

        if printing.form == "svg":
            printing.drawn(figures(documents[0]))
        else:
            printing.laid_out(inspection_page(documents))
    else:
        with printing.paged() as page:
            _print(documents, found.unusable, page, **how)


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
