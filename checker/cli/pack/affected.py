"""`checker pack affected`: whom a change of the rules hurts, by how much, and what they must do by when."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from contextlib import nullcontext
from datetime import date
from functools import partial

import click

from checker.cli import exits, output
from checker.cli.editions import day_named, edition_named, own_day, texts_after
from checker.cli.endings import ends_as
from checker.cli.guard import code_of
from checker.cli.options import AUDIENCE, JOBS, a_command, day, units, with_options
from checker.cli.printing import Printing, printing_as
from checker.cli.progress import each_of
from checker.cli.sheets import asked_for, deliver_tables, tables
from checker.quantities.folding import fold
from checker.reading.problems import InputError
from checker.report.amounts import Data
from checker.report.change.affected import affected_document, car_data
from checker.report.change.affected_text import affected_text, todo_text
from checker.report.change.tables import AFFECTED, affected_tables
from checker.report.json_text import json_text
from checker.studies.change.affected import Affected, Comparator
from checker.studies.change.tally import Fleet, counting
from checker.studies.fleet.reading import QueuedDeclaration, count, records
from checker.studies.fleet.workers import Work, cores, judge_all

_OPTIONS = (
    click.option("--on", callback=day, metavar="DATE",
                 help="Day to judge every car for. Without it: that of NEW@DATE, else today."),
    AUDIENCE,
    click.option("--todo", metavar="CAR", help="What this one car has to do by when: its number, or its file."),
    click.option("--lines", "lines_file", metavar="FILE", callback=ends_as("json"),
                 help="Write a line of JSON for every car, all at once or not at all."),
    click.option("--plan", "with_plan", is_flag=True,
                 help="Tell of each car that newly fails on weights, or will from a later day on, whether ballast "
                 "alone mends it then, and how much."),
    JOBS,
)  # fmt: skip


@a_command(
    "Whom a change of the rules affects, by how much, and by when they must act.",
    "checker pack affected rulepacks/dunlin/2025.1.yaml rulepacks/dunlin/2026.1.yaml cars/",
    "checker pack affected rulepacks/dunlin@2026-06-30 rulepacks/dunlin@2026-07-01 cars/ --on 2026-07-05",
    "checker pack affected OLD NEW fleet.jsonl --lines every-car.jsonl",
    "checker pack affected OLD NEW cars/ --todo 27",
)
@click.argument("old", metavar="OLD")
@click.argument("new", metavar="NEW")
@click.argument("cars", nargs=-1, required=True, metavar="CARS...")
@with_options(*_OPTIONS)
@printing_as("json", "html", pictures=("affected",))
@tables(*AFFECTED)
@units
def command(
    old: str,
    new: str,
    cars: tuple[str, ...],
    on: str | None,
    audience: str,
    todo: str | None,
    lines_file: str | None,
    with_plan: bool,
    jobs: int | None,
    printing: Printing,
) -> int:
    """Judge all CARS by the rules before (OLD) and after (NEW), and tell what is different.

    Both on the same day, --on or the day of NEW; where OLD is PATH@DATE and --on is not given, by OLD on its own day:
    then what changes by itself between the two days is told too.

    OLD and NEW are each the file of an edition, or the folder of a pack. A file alone is that edition without
    bulletins; PATH@DATE is what is in force on that day, bulletins included. CARS are files, folders of files, and
    files *.jsonl with one declaration a line.

    For every clause that changed: who newly fails, who no longer does, the margins before and after, and what those
    that fail have to do by when. Exits with 1 where a car newly fails or will, with 4 where one is or will be in
    doubt, or a later text cannot judge it.
    """
    for place in (printing, Printing(file=lines_file, option="--lines")):
        place.refuse_overwriting(*cars, old, new)
    in_tables = asked_for(printing)
    if in_tables and todo is not None:
        raise click.UsageError("--todo is told as text or JSON, not in tables")
    judged_on = day_named(on, new)
    old_pack, new_pack = (edition_named(place, judged_on) for place in (old, new))
    if fold(old_pack.name) != fold(new_pack.name):
        raise click.UsageError(
            f"OLD is the formula {old_pack.name}, NEW is {new_pack.name}: they have no cars in common"
        )
    before = judged_on if on is not None else own_day(old) or judged_on
    after = texts_after(new, new_pack, judged_on)
    every_change = in_tables or lines_file is not None or todo is not None
    compare = partial(
        Comparator,
        audience=audience,
        on=judged_on,
        on_before=before,
        plan=with_plan,
        every_change=every_change,
    )
    comparator = compare(old_pack, new_pack, after=after)
    if todo is not None:
        return _todo(comparator, cars, todo, printing)
    make = partial(_work, old, new, judged_on, compare)
    found = judge_all(records(cars), comparator.judge, make, jobs or cores())
    kept: list[Data] | None = [] if in_tables else None
    fleet, unusable, codes = _add_up(comparator, each_of(found, lambda: count(cars)), lines_file, kept)
    document = affected_document(comparator, fleet, unusable)
    if kept is not None:
        deliver_tables(affected_tables(document, kept), printing)
    else:
        printing.document(document, affected_text)
    if not fleet.cars:
        return exits.worst(codes)
    fails = fleet.newly_failing or fleet.failing_later
    return exits.worst([*codes, _code(fails, fleet.in_doubt or fleet.in_doubt_later or fleet.unread_later)])


def _code(fails: object, open_still: object) -> int:
    """No car is clear that will fail, or of which it cannot be said yet."""
    if fails:
        return exits.FAILS
    return exits.UNSETTLED if open_still else exits.COMPLIES


def _work(old: str, new: str, on: date, compare: Callable[..., Comparator]) -> Work[Affected]:
    """In a helper process: the same comparison from the same files."""
    packs = edition_named(old, on), edition_named(new, on)
    return compare(*packs, after=texts_after(new, packs[1], on)).judge


def _add_up(
    comparator: Comparator,
    found: Iterable[Affected | InputError],
    lines_file: str | None,
    kept: list[Data] | None,
) -> tuple[Fleet, int, list[int]]:
    """The fleet as a whole, how many could not be judged, and the codes of those; each car's line is written, and kept
    where tables are wanted.
    """
    fleet = Fleet(comparator.pairs)
    real = counting(comparator.old, comparator.new, comparator.pairs)
    unusable, codes = 0, set[int]()
    with nullcontext() if lines_file is None else output.whole_file(lines_file) as lines:
        for car in found:
            if isinstance(car, InputError):
                output.show_problems(car.problems)
                unusable += 1
                codes.add(code_of(car))
                continue
            fleet.add(car, real)
            if lines is None and kept is None:
                continue
            data = car_data(car, comparator.old, comparator.new)
            if kept is not None:
                kept.append(data)
            if lines is not None:
                lines.write(json_text(data).encode())
    return fleet, unusable, sorted(codes)


def _judged(comparator: Comparator, record: QueuedDeclaration) -> Affected:
    return record.judged(lambda document: comparator.judge(document, record.place))


def _todo(comparator: Comparator, cars: tuple[str, ...], todo: str, printing: Printing) -> int:
    """The list of one car: the first that has the number, or the file."""
    places = [todo] if os.path.isfile(todo) else cars
    for record in each_of(records(places), lambda: count(places)):
        try:
            car = _judged(comparator, record)
        except InputError as error:
            if os.path.isfile(todo):
                raise
            output.show_problems(error.problems)
            continue
        if os.path.isfile(todo) or car.number == todo:
            printing.document(car_data(car, comparator.old, comparator.new), todo_text)
            fails = any(e.newly_fails or e.fails_later for e in car.effects)
            doubt = any(e.now_in_doubt or e.in_doubt_later for e in car.effects)
            return _code(fails, doubt or car.unread is not None)
    raise click.UsageError(f"no car of the number {todo} is among CARS, and no file is called so")
