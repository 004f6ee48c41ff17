"""A command line, read by the library for that and run."""

from __future__ import annotations

from collections.abc import Sequence
from io import StringIO
from itertools import pairwise

import click

from checker.cli import exits, output
from checker.cli.program import program


def obey(arguments: Sequence[str]) -> int:
    """Run what a command line asks for, and give its exit code; what is wrong with the line is told.

    Raises:
        KeyboardInterrupt: It was broken off.
    """
    try:
        _refuse_empty(arguments)
        # Not program.main(): it would end in 1 on a closed pipe.
        with program.make_context("checker", list(arguments)) as context:
            returned = program.invoke(context)
    except click.Abort:
        raise KeyboardInterrupt from None
    except click.exceptions.Exit as done:  # after --help and --version
        output.refuse_closed()
        return done.exit_code
    except click.ClickException as error:
        told = StringIO()
        error.show(told)
        output.complain(told.getvalue().rstrip())
        return exits.USAGE
    return returned if isinstance(returned, int) else exits.COMPLIES


def _refuse_empty(arguments: Sequence[str]) -> None:
    """Refuse an option that is given an empty text, as by a variable of the shell that is not set: it counts.

    Raises:
        click.UsageError: There is one.
    """
    for option, value in pairwise((*arguments, None)):
        name, equals, given = str(option).partition("=")
        if name.startswith("--") and len(name) > 2 and (value == "" if not equals else given == ""):
            raise click.UsageError(f"{name} is given an empty text; say what is meant, or leave it out")
