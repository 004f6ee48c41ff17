"""`checker pack calendar`: the days on which rules change by themselves."""

from __future__ import annotations

from datetime import date

import click

from checker.cli import exits, output
from checker.cli.endings import ends_as
from checker.cli.options import a_command, day
from checker.cli.printing import Printing, printing_as
from checker.pack.editions.finding import open_folder
from checker.quantities.days import parse_day
from checker.report.change.history import horizon_words, turning_days_markdown, turning_days_text
from checker.studies.change.turning_days import looked_until, turning_days


@a_command(
    "What changes by itself on which day: bulletins, grace, dates in rules.",
    "checker pack calendar rulepacks/dunlin --from 2026-01-01 --until 2026-12-31",
    "checker pack calendar rulepacks/dunlin --format markdown",
)
@click.argument("pack", metavar="PACK")
@click.option("--from", "first", callback=day, metavar="DATE", help="The first day; today where not given.")
@click.option("--until", "last", callback=day, metavar="DATE", help="The last day; for good where not given.")
@click.option(
    "--ics", metavar="FILE", callback=ends_as("calendar"), help="Also write the days as an iCalendar file."
)
@printing_as("markdown", "html")
def command(
    pack: str,
    first: str | None,
    last: str | None,
    ics: str | None,
    printing: Printing,
) -> int:
    """Tell every day on which PACK says something else than on the day before, though nobody decides anything.

    Editions and bulletins that begin and end, clauses with days of their own, the end of grace for older cars,
    approvals, dates in formulas and tables. These dates are looked for up to ten years ahead, for some come back every
    year; where that cuts the calendar short, it says up to which day.
    """
    start = parse_day(first) if first else date.today()
    end = parse_day(last) if last else date.max
    if end < start:
        raise click.UsageError(f"the calendar would end on {end}, before it begins on {start}")
    folder = open_folder(pack)
    days, looked = turning_days(folder, start, end), looked_until(folder, start, end)
    cut = looked if looked < end else None
    until = f"to {end.isoformat()}" if last else "on"
    title = f"What changes by itself in {folder.name}, from {start.isoformat()} {until}"
    if ics is not None:
        from checker.report.one_car.ics import turning_days_ics

        ends = (cut, horizon_words(cut)) if cut is not None else None

        output.deliver(turning_days_ics(days, folder.name, start, ends).decode(), ics)
    if printing.form == "markdown":
        printing.text(turning_days_markdown(days, title, cut))
    else:
        with printing.paged() as page:
            turning_days_text(days, title, page, cut)
    return exits.COMPLIES
