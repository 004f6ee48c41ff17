"""`checker pack notice`: a bulletin told to the members."""

from __future__ import annotations

from functools import partial

import click

from checker.cli import exits
from checker.cli.options import a_command
from checker.cli.printing import Printing, printing_as
from checker.pack.editions.finding import open_folder
from checker.report.change.affected import car_data
from checker.report.change.notice import notice_markdown, notice_text
from checker.studies.change.affected import Comparator
from checker.studies.change.notice import notice
from checker.studies.fleet.reading import records


@a_command(
    "A bulletin as a notice to members: old and new wording, who must act by when.",
    "checker pack notice rulepacks/dunlin 2026-B1",
    "checker pack notice rulepacks/dunlin 2026-B1 samples/cars/*.yaml --format markdown",
)
@click.argument("pack", metavar="PACK")
@click.argument("bulletin", metavar="BULLETIN")
@click.argument("cars", nargs=-1, metavar="[CAR...]")
@printing_as("markdown", "html")
def command(pack: str, bulletin: str, cars: tuple[str, ...], printing: Printing) -> int:
    """Tell members of a BULLETIN: its day, its reason, what was said and what is said, and what that means.

    With CARS, who of them has to do what by when; the others are not named.
    """
    try:
        found = notice(open_folder(pack), bulletin)
    except KeyError:
        raise click.UsageError(f"{pack} has no bulletin '{bulletin}'") from None
    told = None
    if cars:
        on = found.bulletin.first_day
        comparator = Comparator(found.before, found.after, audience="entrant", on=on)
        judged = (r.judged(partial(comparator.judge, place=r.place)) for r in records(cars))
        told = [car_data(car, found.before, found.after) for car in judged]
    if printing.form == "markdown":
        printing.text(notice_markdown(found, told))
    else:
        with printing.paged() as page:
            notice_text(found, told, page)
    return exits.COMPLIES
