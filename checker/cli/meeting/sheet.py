"""`checker meeting sheet`: blank weigh sheets and inspection cards on paper."""

from __future__ import annotations

import click

from checker.cli import exits, output
from checker.cli.meeting.common import day_argument
from checker.cli.options import page_for, units


@click.command(
    "sheet",
    short_help="Print blank weigh sheets and inspection cards, for when the computer fails.",
    epilog="""\b
    Examples:
      checker meeting sheet day.meeting 27
      checker meeting sheet day.meeting --output sheets.txt""",
)
@day_argument
@click.argument("cars", nargs=-1, metavar="[CAR...]")
@click.option("--output", "output_file", metavar="FILE", help="Write to FILE instead of the terminal.")
@click.option("--width", type=click.IntRange(32, 100), help="Columns of text.")
@units
def command(day: str, cars: tuple[str, ...], output_file: str | None, width: int | None) -> int:
    """Print a sheet for each CAR, for all that take part where none is named: state, wheels, gauges, seals, papers
    in the procedure's order, with what is declared, and room for what is found, to be typed in later.
    """
    from checker.meeting.session.session import Meeting
    from checker.report.meeting.sheet import sheet_text

    with Meeting.open(day, writing=False) as meeting:
        chosen = [meeting.car(number) for number in cars] or [
            car for car in meeting.day.cars.values() if not car.withdrawn
        ]
        pages = []
        for car in chosen:
            page = page_for(width, output_file)
            sheet_text(meeting, car, page)
            pages.append(page.text())
    output.deliver("\f".join(pages), output_file)
    return exits.COMPLIES
