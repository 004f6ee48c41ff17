"""The table of exit codes."""

from __future__ import annotations

from importlib import import_module

import click
import pytest

from checker.cli import exits
from checker.cli.program import COMMANDS
from tests.examples import each_row


def test_the_codes_are_those_that_are_published() -> None:
    assert (exits.COMPLIES, exits.FAILS, exits.USAGE, exits.UNREADABLE, exits.UNSETTLED) == (0, 1, 2, 3, 4)
    assert (exits.BUG, exits.NOT_WRITTEN, exits.INTERRUPTED, exits.PIPE_CLOSED) == (70, 74, 130, 141)


@pytest.mark.parametrize(("complies", "code"), [(True, 0), (False, 1), (None, 4)])
def test_one_inspection(complies: bool | None, code: int) -> None:
    assert exits.result(complies) == code


@each_row(
    ("codes", "code"), [((0, 0), 0), ((0, 4), 4), ((4, 1, 0), 1), ((0, 1, 3, 4), 3), ((3, 2), 2), ((), 4)]
)
def test_of_several_the_worst_counts(codes: tuple[int, ...], code: int) -> None:
    assert exits.worst(codes) == code


@each_row("name", COMMANDS)
def test_what_is_no_day_is_a_wrong_command_line(name: str) -> None:
    command = import_module(f"checker.cli.{COMMANDS[name]}").command
    for option in command.params:
        if option.metavar == "DATE":
            assert option.callback is not None, option.opts
            with pytest.raises(click.BadParameter):
                option.callback(click.Context(command), option, "2026-02-30")
