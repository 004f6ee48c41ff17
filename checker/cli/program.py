"""The commands. Each is a file of this folder with a `command`, loaded only when it is asked for."""

from __future__ import annotations

import os
from functools import partial
from importlib import import_module
from typing import NoReturn

import click

from checker import __version__

COMMANDS = {
    "inspect": "inspect",
    "explain": "explain",
    "conditions": "conditions",
    "card": "card",
    "plan": "plan",
    "reach": "reach",
    "compare-weighings": "compare_weighings",
    "declare": "declare",
    "open": "open",
    "calendar": "calendar",
    "pack new": "pack.new",
    "pack lint": "pack.lint",
    "pack show": "pack.show",
    "pack cases": "pack.cases",
    "pack compare": "pack.compare",
    "pack notice": "pack.notice",
    "pack history": "pack.history",
    "pack calendar": "pack.calendar",
    "pack consolidate": "pack.consolidate",
    "pack affected": "pack.affected",
    "pack sweep": "pack.sweep",
    "pack book": "pack.book",
    "pack schema": "pack.schema",
    "meeting open": "meeting.open",
    "meeting sign-on": "meeting.sign_on",
    "meeting enter": "meeting.enter",
    "meeting carry": "meeting.carry",
    "meeting gear": "meeting.gear",
    "meeting weigh": "meeting.weigh",
    "meeting measure": "meeting.measure",
    "meeting announce": "meeting.announce",
    "meeting board": "meeting.board",
    "meeting slip": "meeting.slip",
    "meeting pages": "meeting.pages",
    "meeting sheet": "meeting.sheet",
    "meeting protest": "meeting.protest",
    "meeting rule": "meeting.rule",
    "meeting strike": "meeting.strike",
    "meeting merge": "meeting.merge",
    "meeting draw": "meeting.draw",
    "meeting bundle": "meeting.bundle",
    "meeting close": "meeting.close",
    "meeting results": "meeting.results",
    "meeting verify": "meeting.verify",
    "meeting export": "meeting.export",
}
"""By the words typed: the module that holds it. The order is that of the help."""

GROUPS = {
    "pack": "Write, check and read rule packs.",
    "meeting": "Run the officials' day: enter, weigh, judge, rule, and keep the record.",
}


class Commands(click.Group):
    """A group whose commands are the files named in `COMMANDS`."""

    def __init__(self, prefix: str = "", **more: object) -> None:
        super().__init__(**more)  # type: ignore[arg-type]
        self._prefix = prefix

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        words = [
            name.removeprefix(self._prefix).split()[0] for name in COMMANDS if name.startswith(self._prefix)
        ]
        return list(dict.fromkeys(words))

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        name = f"{self._prefix}{cmd_name}"
        if not self._prefix and cmd_name in GROUPS:
            return Commands(f"{cmd_name} ", name=cmd_name, help=GROUPS[cmd_name])
        if name in COMMANDS:
            command: click.Command = import_module(f"checker.cli.{COMMANDS[name]}").command
            return command
        return self._refuse(cmd_name, ctx)

    def _refuse(self, typed: str, ctx: click.Context) -> NoReturn:
        from checker.reading.nearest import did_you_mean

        hint = did_you_mean(typed, self.list_commands(ctx))
        ctx.fail(f"there is no command '{self._prefix}{typed}'. {hint}".rstrip())


program = Commands(
    name="checker",
    help="""Judge racing cars by the rules of their formula.

    A rule pack is a formula's rulebook as a file; a declaration is one car as a file. The checker says of every clause
    whether the car meets it, by how much, and what to do.

    \b
    Entrants:    checker inspect CAR, then checker explain CAR CLAUSE
    Officials:   checker inspect CAR --for official --readings FILE, or a whole day with checker meeting
    Secretaries: checker pack show PACK

    Exit codes: 0 complies, 1 a clause fails, 2 wrong command line, 3 a file cannot be used, 4 nothing fails but
    something is too close or not declared.

    The organising body's rules and its scrutineers decide, and a pass does not say that a car is safe. Let nobody get
    in, out or under a car on pads or on a jack; stands must be made for its weight. Handle fuel in the open, away from
    anything that sparks. Bolt ballast as the rules require: loose ballast can kill.""",
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)


def _without_cache(ctx: click.Context, param: click.Parameter, value: bool) -> None:  # noqa: ARG001
    """Keep nothing in this run or in what it starts; for `callback`."""
    if value:
        from checker.pack.keeping.kept import NO_CACHE

        before = os.environ.get(NO_CACHE)
        os.environ[NO_CACHE] = "1"
        ctx.call_on_close(partial(_put_back, NO_CACHE, before))


def _put_back(name: str, value: str | None) -> None:
    if value is None:
        os.environ.pop(name, None)
    else:
        os.environ[name] = value


program = click.option(
    "--no-cache",
    is_flag=True,
    expose_value=False,
    callback=_without_cache,
    help="Compile rule packs anew and keep nothing in the user's cache folder.",
)(program)
program = click.version_option(__version__, "-V", "--version", message="checker %(version)s")(program)
