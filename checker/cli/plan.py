"""`checker plan`: what to add, move and take off so that a car meets every clause on weights."""

from __future__ import annotations

from fractions import Fraction

import click

from checker.cli import exits, output
from checker.cli.options import a_command, judging, units, with_options
from checker.cli.printing import Printing, printing
from checker.reading.quick_dataclasses import replace
from checker.report.one_car.plan import plan_document
from checker.report.one_car.plan_text import plan_text
from checker.report.words.remarks import car_warnings
from checker.verdict.run import Request

AIMS = ("least", "inside", "rear", "low", "fewest-moves")


def percentage(ctx: click.Context, param: click.Parameter, value: str | None) -> Fraction | None:
    """A certainty as "95 %"; for `callback`."""
    if value is None:
        return None
    text = value.removesuffix("%").strip()
    try:
        found = Fraction(text) / 100
    except (ValueError, ZeroDivisionError):
        raise click.BadParameter(f"'{value}' is no percentage; write it as in 95 %", ctx, param) from None
    if not Fraction(1, 2) <= found <= Fraction(9999, 10000):
        raise click.BadParameter(f"{value} is no certainty between 50 % and 99.99 %", ctx, param)
    return found


SHELF = click.option(
    "--shelf", metavar="FILE", help="What may be done, beside what the car's own file says under planning."
)
_ASKED = (
    click.option("--aim", type=click.Choice(AIMS), default="least", show_default=True,
                 help="What the car is to be, as far as the rules let it: light; heavy inside or on the rear; low; or "
                 "legal with as little done as may be."),
    click.option("--keep-clear", "confidence", callback=percentage, metavar="PERCENT",
                 help="How certainly each clause is to be met measuring error counted; else as the rules say."),
    SHELF,
    click.option("--race", is_flag=True, help="Meet clauses that ask for any fuel from start to flag of the race alone "
                 "that the file tells of, and choose the fuel to start with."),
    click.option("--seconds", type=click.FloatRange(0.1, 3600), default=10, show_default=True, metavar="N",
                 help="How long to look for a better plan."),
    click.option("--write", "write_to", metavar="FILE", help="Write the planned car's declaration to a file."),
)  # fmt: skip


@a_command(
    "What to add, move and take off so that a car meets every clause on weights.",
    "checker plan car.yaml --shelf shelf.yaml",
    "checker plan car.yaml --aim inside --keep-clear '99 %'",
    "checker plan car.yaml --write planned.yaml",
)
@click.argument("car", metavar="CAR")
@judging
@with_options(*_ASKED)
@printing
@units
def command(
    car: str,
    asked: Request,
    aim: str,
    confidence: Fraction | None,
    shelf: str | None,
    race: bool,
    seconds: float,
    write_to: str | None,
    printing: Printing,
) -> int:
    """Plan what to do so that CAR meets every clause on weights, in every state, by more than measuring error.

    What may be done stands in the car's file under planning, or in a file given with --shelf: places for ballast,
    pieces, things that may move or come off. The plan is judged like any other car before it is told, and with --write
    it is kept as a declaration. Where nothing is enough, it says which clauses cannot hold together, and what would do.
    """
    refuse_what_is_not_the_cars_own(asked)
    printing.refuse_overwriting(car, shelf, *asked.files)
    if write_to is not None:
        kept = Printing("yaml", write_to, option="--write")
        kept.refuse_overwriting(car, shelf, *asked.files)
    from checker.studies.planning.aims import Aim
    from checker.studies.planning.looking import Asked
    from checker.studies.planning.request import plan_request

    found = plan_request(replace(asked, car=car), shelf, Asked(Aim(aim), confidence, seconds, race))
    output.show_problems(car_warnings(found.before.car))
    written = write_to if found.found is not None else None
    if written is not None and found.found is not None:
        output.deliver(found.found.text, written)
    printing.document(plan_document(found, written), plan_text)
    if found.found is None:
        return exits.FAILS if found.status.value == "infeasible" else exits.UNSETTLED
    return exits.result(found.found.inspection.complies)


def refuse_what_is_not_the_cars_own(asked: Request) -> None:
    """A plan begins at the car's own file, and is for whoever builds the car.

    Raises:
        click.UsageError: Readings, a what-if or an official's question was given.
    """
    if asked.readings is not None or asked.what_if:
        given = "--readings" if asked.readings is not None else "--set"
        raise click.UsageError(f"a plan begins at the car's own file; write there what {given} says")
    if asked.audience != "entrant":
        raise click.UsageError(
            "a plan is for the entrant, who wants to be clear of every limit; leave --for away"
        )
