"""`checker card`: a car's pit card."""

from __future__ import annotations

import click

from checker.cli import exits, output
from checker.cli.options import a_command, judging, units
from checker.cli.printing import Printing, printing_as
from checker.reading.quick_dataclasses import replace
from checker.report.one_car.card import SOON_DAYS, card_text, weigh_again
from checker.report.one_car.condition_table import finish_data
from checker.report.one_car.document import inspection_document
from checker.report.one_car.layout_data import layout_data
from checker.report.words.remarks import car_warnings
from checker.studies.one_car.finish import NEW, WORN, finishes
from checker.studies.one_car.layout import layout
from checker.studies.one_car.running_out import running_out
from checker.verdict.run import Request, inspect_request


@a_command(
    "A car's pit card: fuel, ballast, small margins, what to weigh again after which change.",
    "checker card car.yaml",
    "checker card car.yaml --format html --output card.html",
    "checker card car.yaml --format pdf --output card.pdf",
)
@click.argument("car", metavar="CAR")
@judging
@printing_as("html")
@units
def command(car: str, asked: Request, printing: Printing) -> int:
    """Print what the crew of CAR has to know at a glance; as a page it fits A5.

    Least and most fuel on each set of tyres, ballast as it is declared, margins below 1 % of their limits, what runs
    out within 90 days, and for which clauses to weigh again after which change.
    """
    printing.refuse_overwriting(car, *asked.files)
    request = replace(asked, car=car)
    inspection = inspect_request(request)
    output.show_problems(car_warnings(inspection.car))
    document = inspection_document(inspection, layout_data(layout(inspection)))
    fuel = {
        title: [finish_data(one) for one in finishes(inspection, wear)]
        for title, wear in (("Fuel, new tyres and brakes", NEW), ("Fuel to finish with, worn", WORN))
    }
    ahead = running_out(request, inspection, SOON_DAYS)
    with printing.paged() as page:
        card_text(document, fuel, ahead, weigh_again(inspection.pack), page)
    return exits.result(inspection.complies)
