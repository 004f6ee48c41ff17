"""`checker reach`: the shares of weight that a car can reach, against those that are legal."""

from __future__ import annotations

import click

from checker.cli import output
from checker.cli.endings import ends_as
from checker.cli.exits import COMPLIES, FAILS, UNSETTLED
from checker.cli.options import a_command, judging, with_options
from checker.cli.plan import SHELF, refuse_what_is_not_the_cars_own
from checker.cli.printing import Printing, printing
from checker.reading.quick_dataclasses import replace
from checker.report.one_car.reach import reach_document, reach_figure, reach_text
from checker.report.words.remarks import car_warnings
from checker.verdict.run import Request

_ASKED = (
    SHELF,
    click.option("--seconds", type=click.FloatRange(0.1, 3600), default=20, show_default=True, metavar="N",
                 help="How long to look."),
    click.option("--svg", metavar="FILE", callback=ends_as("svg"), help="Draw both regions into a file."),
)  # fmt: skip


@a_command(
    "The shares of weight that a car can reach, against those that are legal.",
    "checker reach car.yaml --shelf shelf.yaml",
    "checker reach car.yaml --svg reach.svg",
)
@click.argument("car", metavar="CAR")
@judging
@with_options(*_ASKED)
@printing
def command(
    car: str, asked: Request, shelf: str | None, seconds: float, svg: str | None, printing: Printing
) -> int:
    """Tell how much weight CAR can carry inside and on its rear wheels, as weighed, by all that may be done to it as
    its file says under planning, and how much of that meets every clause on weights.
    """
    refuse_what_is_not_the_cars_own(asked)
    printing.refuse_overwriting(car, shelf, *asked.files)
    if svg is not None:
        Printing(file=svg, option="--svg").refuse_overwriting(car, shelf, *asked.files)
    from checker.studies.planning.looking import Asked
    from checker.studies.planning.reach import reach
    from checker.studies.planning.request import plan_request

    plan = plan_request(replace(asked, car=car), shelf, Asked(seconds=seconds))
    output.show_problems(car_warnings(plan.before.car))
    document = reach_document(reach(plan, seconds))
    if svg is not None:
        from checker.report.figures.drawing import as_file

        output.deliver(as_file(reach_figure(document)), svg)
    printing.document(document, reach_text)
    if not document["legal"] and not plan.is_lacking:
        return FAILS
    return UNSETTLED if plan.declined else COMPLIES
