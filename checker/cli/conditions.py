"""`checker conditions`: a car's weights in every condition, where it turns illegal, and the run of a race."""

from __future__ import annotations

from fractions import Fraction
from functools import partial

import click

from checker.cli import exits, output
from checker.cli.options import a_command, judging, units, with_options
from checker.cli.printing import Printing, printing_as
from checker.reading.quick_dataclasses import replace
from checker.report.one_car.condition_table import conditions_document
from checker.report.one_car.condition_text import conditions_text
from checker.report.words.remarks import car_warnings
from checker.studies.one_car.condition_table import condition_table
from checker.studies.one_car.race import Plan, race
from checker.verdict.run import Request, inspect_request

MOST_LAPS = 1000


def _litres(ctx: click.Context, param: click.Parameter, value: str | None) -> Fraction | None:
    """An amount of fuel above nothing, in mm3; for `callback`."""
    from checker.car.weights.differences import LITRE
    from checker.quantities.literal import parse_quantity
    from checker.quantities.misread import LiteralError

    if value is None:
        return None
    try:
        amount = parse_quantity(value.strip(), LITRE.kind, None).value
    except LiteralError as error:
        raise click.BadParameter(f"{error.message}; write an amount as in 0.35 L", ctx, param) from None
    if not isinstance(amount, Fraction) or amount <= 0:
        raise click.BadParameter(f"{value} is no amount above 0 L", ctx, param)
    return amount


_RACE = (
    click.option("--fuel-per-lap", callback=_litres, metavar="FUEL",
                 help="What a lap burns, as in 0.35 L; with --laps."),
    click.option("--laps", type=click.IntRange(1, MOST_LAPS), metavar="N",
                 help="How long the race is; tyres and brakes are worn at its end."),
    click.option("--start", callback=_litres, metavar="FUEL",
                 help="Fuel on board at the start. Without it: the least that is enough."),
    click.option("--all", "every_corner", is_flag=True, help="List every corner instead of the least and the most."),
)  # fmt: skip


@a_command(
    "A car's weights in every condition, where it turns illegal, and the run of a race.",
    "checker conditions car.yaml",
    "checker conditions car.yaml --fuel-per-lap '0.35 L' --laps 40",
    "checker conditions car.yaml --set ballast[0].mass='5 kg' --format json",
)
@click.argument("car", metavar="CAR")
@judging
@with_options(*_RACE)
@printing_as("json", "html", pictures=("race",))
@units
def command(
    car: str,
    asked: Request,
    fuel_per_lap: Fraction | None,
    laps: int | None,
    start: Fraction | None,
    every_corner: bool,
    printing: Printing,
) -> int:
    """Show what CAR weighs in every condition that its declaration allows: full and empty, driver out and aboard, on
    each set of tyres, new and worn.

    The report names the fuel with which each weight clause turns, the least fuel to finish with, and what a kilogram
    does at each known place. With --fuel-per-lap and --laps it follows a race. The exit code is that of the clauses
    that depend on the condition.
    """
    if (fuel_per_lap is None) != (laps is None) or (start is not None and laps is None):
        raise click.UsageError("a race needs both --fuel-per-lap and --laps")
    printing.refuse_overwriting(car, *asked.files)
    inspection = inspect_request(replace(asked, car=car))
    output.show_problems(car_warnings(inspection.car))
    table = condition_table(inspection)
    followed = race(inspection, Plan(fuel_per_lap, laps, start)) if fuel_per_lap and laps else None
    document = conditions_document(table, followed)
    printing.document(document, partial(conditions_text, every_corner=every_corner))
    return exits.result(table.complies)
