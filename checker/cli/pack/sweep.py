"""`checker pack sweep`: how many cars fail at each value that one number of a clause might have."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from fractions import Fraction
from functools import partial

import click

from checker.car.described.vocabulary import ENTRANT, OFFICIAL
from checker.cli import exits, output
from checker.cli.editions import day_named, edition_named
from checker.cli.guard import code_of
from checker.cli.options import JOBS, a_command, day, units, with_options
from checker.cli.printing import Printing, printing_as
from checker.cli.progress import each_of
from checker.cli.sheets import asked_for, deliver_tables, tables
from checker.reading.problems import InputError
from checker.report.change.sweep import sweep_document, sweep_text
from checker.report.change.tables import SWEEP, sweep_tables
from checker.studies.fleet.reading import count, records
from checker.studies.fleet.sweep import Sweeper, Swept, curve
from checker.studies.fleet.swept_number import CannotVaryError, find_number
from checker.studies.fleet.workers import Work, cores, judge_all

_OPTIONS = (
    click.option("--from", "low", required=True, metavar="VALUE", help="The lowest value, with its unit."),
    click.option("--to", "high", required=True, metavar="VALUE", help="The highest value, with its unit."),
    click.option("--at", metavar="PATH",
                 help="Which number, where the clause has several: check.at_most, or one in a table, such as "
                 "tables.minimum_weight.rows[1].value."),
    click.option("--on", callback=day, metavar="DATE",
                 help="Day to judge every car for. Without it: that of PATH@DATE, else today."),
    click.option("--for", "audience", type=click.Choice([ENTRANT, OFFICIAL]),
                 help="Count measuring error, as for them. Without it every value is taken as exact, and "
                 "so is every step."),
    click.option("--steps", "every_step", is_flag=True, help="List every step with its cars, however many."),
    JOBS,
)  # fmt: skip


@a_command(
    "How many cars fail at each value of a limit, to choose the number.",
    "checker pack sweep rulepacks/dunlin 3.3 --from '51 %' --to '54 %' cars/",
    """checker pack sweep rulepacks/dunlin 3.1 --at tables.minimum_weight.rows[1].value \\
      --from '575 kg' --to '600 kg' fleet.jsonl""",
)
@click.argument("path", metavar="PATH")
@click.argument("clause", metavar="CLAUSE")
@click.argument("cars", nargs=-1, required=True, metavar="CARS...")
@with_options(*_OPTIONS)
@units
@printing_as("json", "html", pictures=("sweep",))
@tables(*SWEEP)
def command(
    path: str,
    clause: str,
    cars: tuple[str, ...],
    low: str,
    high: str,
    at: str | None,
    on: str | None,
    audience: str | None,
    every_step: bool,
    jobs: int | None,
    printing: Printing,
) -> int:
    """Vary one number of CLAUSE in the pack at PATH, and tell how many of the CARS fail at each value.

    The values at which a car's outcome changes are found exactly and verified by judging the car there. PATH is a
    folder of editions, or the file of one; PATH@DATE is what is in force on that day. CARS are files, folders of files,
    and files *.jsonl with one declaration a line.
    """
    printing.refuse_overwriting(*cars, path)
    in_tables = asked_for(printing)
    judged_on = day_named(on, path)
    pack = edition_named(path, judged_on)
    try:
        number = find_number(pack, clause, at)
        ends = number.read(low, pack.vocabulary.currency), number.read(high, pack.vocabulary.currency)
        if ends[0] >= ends[1]:
            raise CannotVaryError(f"--from {low} is not below --to {high}")
        sweeper = Sweeper(pack, number, *ends, audience=audience, on=judged_on)
    except CannotVaryError as error:
        raise click.UsageError(str(error)) from None
    codes: set[int] = set()
    make = partial(_work, path, judged_on, clause, at, ends, audience)
    swept = judge_all(records(cars), sweeper.sweep, make, jobs or cores())
    found = curve(_usable(each_of(swept, lambda: count(cars)), codes))
    if not found.first and not codes:
        raise click.UsageError(f"no car's file (*.yaml, *.yml, *.json, *.jsonl) stands in {', '.join(cars)}")
    if not found.first:
        return exits.worst(codes)
    document = sweep_document(pack, number, *ends, found, audience=audience, on=judged_on.isoformat())
    if in_tables:
        deliver_tables(sweep_tables(document), printing)
    else:
        printing.document(document, partial(sweep_text, every_step=every_step))
    return exits.worst([*codes, exits.COMPLIES])


def _work(
    path: str, on: date, clause: str, at: str | None, ends: tuple[Fraction, Fraction], audience: str | None
) -> Work[Swept]:
    """In a helper process: the same sweep from the same files."""
    pack = edition_named(path, on)
    return Sweeper(pack, find_number(pack, clause, at), *ends, audience=audience, on=on).sweep


def _usable(cars: Iterable[Swept | InputError], codes: set[int]) -> Iterator[Swept]:
    """Each car through all values; those that cannot be used are told, with their code noted."""
    for car in cars:
        if isinstance(car, InputError):
            output.show_problems(car.problems)
            codes.add(code_of(car))
        else:
            yield car
