"""`checker pack notice`: a bulletin told to the members."""

from __future__ import annotations

from functools import partial

import click

from checker.cli import exits, output
from checker.cli.options import page_for, text_printing, with_options
from checker.cli.pack.history import FORM
from checker.pack.editions.finding import open_folder
from checker.report.change.affected import car_data
from checker.report.change.notice import notice_markdown, notice_text
from checker.studies.change.affected import Comparator
from checker.studies.change.notice import notice
from checker.studies.fleet.reading import records


@click.command(
    "notice",
    short_help="A bulletin as a notice to members: old and new wording, who must act by when.",
    epilog="""\b
    Examples:
      checker pack notice rulepacks/dunlin 2026-B1
      checker pack notice rulepacks/dunlin 2026-B1 samples/cars/*.yaml --format markdown""",
)
@click.argument("pack", metavar="PACK")
@click.argument("bulletin", metavar="BULLETIN")
@click.argument("cars", nargs=-1, metavar="[CAR...]")
@with_options(FORM)
@text_printing
def command(
    pack: str, bulletin: str, cars: tuple[str, ...], form: str, output_file: str | None, width: int | None
) -> int:
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
    if form == "markdown":
        output.deliver(notice_markdown(found, told), output_file)
    else:
        page = page_for(width, output_file)
        notice_text(found, told, page)
        output.deliver(page.text(), output_file)
    return exits.COMPLIES
