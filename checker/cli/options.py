"""Arguments and options that several commands share."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from typing import Any, TypeVar

import click

from checker.car.described.vocabulary import ENTRANT, OFFICIAL
from checker.cli import output
from checker.pack.model import Pack
from checker.report.page import NARROWEST, WIDEST, Page

Function = TypeVar("Function", bound=Callable[..., Any])


def day(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Refuse what is no day of the calendar; for `callback`."""
    from checker.quantities.days import parse_day

    try:
        return None if value is None else parse_day(value).isoformat()
    except ValueError as error:
        raise click.BadParameter(f"{error}; write a day as 2026-05-03", ctx, param) from None


def _settings(ctx: click.Context, param: click.Parameter, value: tuple[str, ...]) -> tuple[str, ...]:
    """Refuse a --set without = or with a path that cannot be read."""
    from checker.reading.paths import parse_path

    for text in value:
        path, equals, _ = text.partition("=")
        try:
            readable = equals and parse_path(path.strip())
        except ValueError as error:
            raise click.BadParameter(str(error), ctx, param) from None
        if not readable:
            raise click.BadParameter(
                f"'{text}' is not PATH=VALUE, such as engine.capacity='1298 cc'", ctx, param
            )
    return value


_JUDGING = (
    click.option("--pack", metavar="PATH", help="Rule pack to judge by: a file, or a folder of editions. "
                 "Without it the pack of the car's formula is looked for in rulepacks/, then among those installed."),
    click.option("--on", callback=day, metavar="DATE", help="Day to judge for. Without it: the event's day in the "
                 "car's file, else today."),
    click.option("--for", "audience", type=click.Choice([ENTRANT, OFFICIAL]), default=ENTRANT, show_default=True,
                 help="Whose question it is: an entrant's at home, or an official's at the scales."),
    click.option("--readings", metavar="FILE", help="What officials measured or ruled; counts before the declaration."),
    click.option("--gear", metavar="FILE", help="A club's instruments and the checks made of its pads; they count "
                 "before what the car's file says of them."),
    click.option("--set", "what_if", multiple=True, metavar="PATH=VALUE", callback=_settings,
                 help="Ask what if: put a value in place of the declared one. May be given several times."),
)  # fmt: skip

_PRINTING = (
    click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True,
                 is_eager=True,
                 help="json prints one document, a line for each car, and nothing else."),
    click.option("--output", "output_file", metavar="FILE",
                 help="Write the result to a file, all at once or not at all."),
    click.option("--width", type=click.IntRange(NARROWEST, WIDEST), metavar="COLUMNS",
                 help=f"Columns of text, {NARROWEST} to {WIDEST}. Without it: those of the terminal, else 80."),
)  # fmt: skip


JOBS = click.option(
    "--jobs", type=click.IntRange(1), metavar="NUMBER",
    help="Processes that judge a large fleet. Without it: as many as the machine has cores.",
)  # fmt: skip


def judging(function: Function) -> Function:
    """Add the options that say how a car is judged."""
    return with_options(*_JUDGING)(function)


def _in_system(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:  # noqa: ARG001
    """Show every amount of this run in the system asked for, save in JSON, which is for programs; for `callback`."""
    if value is not None and ctx.params.get("form") != "json":
        from checker.report.words.units import showing

        ctx.with_resource(showing(value))
    return value


units = click.option(
    "--units", type=click.Choice(["metric", "us"]), callback=_in_system, expose_value=False,
    help="Show masses and lengths in kg and mm, or in lb and inches with fractions to 1/16. Without it: in the units "
         "of the rules.",
)  # fmt: skip
"""For commands that print margins, amounts or what to do."""


def printing(function: Function) -> Function:
    """Add the options that say how and where the result is printed."""
    return with_options(*_PRINTING)(function)


def text_printing(function: Function) -> Function:
    """Add the options of a command that prints text only."""
    return with_options(*_PRINTING[1:])(function)


def with_options(*options: Callable[[Function], Function]) -> Callable[[Function], Function]:
    """A decorator that adds these options, in this order."""

    def add(function: Function) -> Function:
        for option in reversed(options):
            function = option(function)
        return function

    return add


def page_for(width: int | None, output_file: str | None) -> Page:
    """A page as wide as asked for or as the terminal; in colour only on a terminal."""
    if output_file is not None:
        return Page(width or 80)
    return Page(width or output.width_of_terminal(), colour=output.in_colour())


def refuse_overwriting(output_file: str | None, inputs: Iterable[str | None]) -> None:
    """Refuse an --output that is a folder, or a file that is being read.

    Raises:
        click.UsageError: It is one of them.
    """
    if output_file is None:
        return
    if os.path.isdir(output_file):
        raise click.UsageError(f"--output {output_file} is a folder; give the name of a file")
    for name in inputs:
        if name is not None and _is_same_file(output_file, name):
            raise click.UsageError(f"--output {output_file} would overwrite what is read; give another name")


def _is_same_file(one: str, other: str) -> bool:
    return os.path.isfile(one) and os.path.exists(other) and os.path.samefile(one, other)


def refuse_unknown_clause(number: str, pack: Pack) -> None:
    """Refuse the number of a clause that the pack does not have, and name the nearest.

    Raises:
        click.UsageError: There is none.
    """
    if number in pack.clauses:
        return
    from checker.reading.nearest import did_you_mean

    hint = did_you_mean(number, pack.clauses) or f"Its clauses are {', '.join(pack.clauses)}."
    raise click.UsageError(f"{pack.name} {pack.edition} has no clause '{number}'. {hint}")
