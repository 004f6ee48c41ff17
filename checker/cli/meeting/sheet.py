"""`checker meeting sheet`: blank weigh sheets and inspection cards on paper."""

from __future__ import annotations

from functools import partial

import click

from checker.cli import exits
from checker.cli.meeting.common import a_meeting_command
from checker.cli.options import units
from checker.cli.printing import Printing, printing_as


@a_meeting_command(
    "Print blank weigh sheets and inspection cards, for when the computer fails.",
    "checker meeting sheet day.meeting 27",
    "checker meeting sheet day.meeting --format pdf --output sheets.pdf",
)
@click.argument("cars", nargs=-1, metavar="[CAR...]")
@printing_as("html")
@units
def command(day: str, cars: tuple[str, ...], printing: Printing) -> int:
    """Print a sheet for each CAR, for all that take part where none is named: state, wheels, gauges, seals, papers
    in the procedure's order, with what is declared, and room for what is found, to be typed in later.
    """
    from checker.meeting.session.session import Meeting
    from checker.report.meeting.sheet import sheet_text

    with Meeting.open(day, writing=False) as meeting:
        chosen = [meeting.car(number) for number in cars] or [
            car for car in meeting.day.cars.values() if not car.withdrawn
        ]
        printing.pages(chosen, partial(sheet_text, meeting))
    return exits.COMPLIES
