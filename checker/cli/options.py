"""Arguments and options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

import click

from checker.car.described.vocabulary import ENTRANT, OFFICIAL
from checker.pack.model import Pack

Function = TypeVar("Function", bound=Callable[..., object])


def a_command(short_help: str, *examples: str) -> Callable[[Callable[..., int]], click.Command]:
    """A decorator that makes a command of a function; its words stand in `COMMANDS`, examples below its help."""
    told = "".join(f"\n  {one}" for one in examples)
    return click.command(short_help=short_help, epilog=f"\b\nExamples:{told}")


def day(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Refuse what is no day of the calendar; for `callback`."""
    from checker.quantities.days import parse_day

    try:
        return None if value is None else parse_day(value).isoformat()
    except ValueError as error:
        cure = "" if "; write" in str(error) else "; write a day as 2026-05-03"
        raise click.BadParameter(f"{error}{cure}", ctx, param) from None


def reason(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Refuse the next option's name where a reason was to stand; for `callback`."""
    if value is not None and value in {name for one in ctx.command.params for name in one.opts}:
        raise click.BadParameter(f"a reason in words was wanted, not {value}", ctx, param)
    return value


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


IN_FORCE = click.option(
    "--on", callback=day, metavar="DATE", help="The edition in force on that day. Without it: today's."
)
PACK = click.option(
    "--pack", metavar="PATH", help="Rule pack to judge by: a file, a folder of editions, or its name. "
    "Without it the pack of the car's formula is looked for in rulepacks/, then among those installed.",
)  # fmt: skip

_JUDGING = (
    PACK,
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

JOBS = click.option(
    "--jobs", type=click.IntRange(1), metavar="NUMBER",
    help="Processes that judge a large fleet. Without it: as many as the machine has cores.",
)  # fmt: skip


def with_options(*options: Callable[[Any], Any]) -> Callable[[Function], Function]:
    """A decorator that adds these options, in this order."""

    def add(function: Function) -> Function:
        for option in reversed(options):
            function = option(function)
        return function

    return add


def handed(
    name: str, make: Callable[..., object], *options: Callable[[Function], Function]
) -> Callable[..., Any]:
    """A decorator that adds these options and hands a command one value made of them all, by their names."""

    def add(function: Callable[..., int]) -> Any:
        @with_options(*options)
        def own(**given: object) -> object:
            return make(**given)

        names = [one.name for one in vars(own)["__click_params__"]]

        @wraps(function)
        def command(*args: object, **given: object) -> int:
            mine = {one: given.pop(one) for one in names}
            return function(*args, **{name: own(**mine)}, **given)

        return with_options(*options)(command)

    return add


def _request(**given: Any) -> object:
    from checker.verdict.run import Request

    return Request("", **given)


judging = handed("asked", _request, *_JUDGING)
"""For commands that judge: how, as a request whose car is still to be named."""


def _in_system(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:  # noqa: ARG001
    """Show every amount of this run in the system asked for, save in JSON, which is for programs; for `callback`."""
    if value is not None and ctx.params.get("form") != "json":
        from checker.report.words.units import showing

        ctx.with_resource(showing(value))
    return value


AUDIENCE = click.option(
    "--for", "audience", type=click.Choice([ENTRANT, OFFICIAL]), default=ENTRANT, show_default=True,
    help="Whose question it is: decides how values near a limit are taken.",
)  # fmt: skip


units = click.option(
    "--units", type=click.Choice(["metric", "us"]), callback=_in_system, expose_value=False,
    help="Show masses and lengths in kg and mm, or in lb and inches with fractions to 1/16. Without it: in the units "
         "of the rules.",
)  # fmt: skip
"""For commands that print margins, amounts or what to do."""


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
