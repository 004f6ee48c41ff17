"""What the commands of a meeting share: the file, the official's initials, how an entry is acknowledged."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

import click

from checker.cli import output
from checker.cli.options import page_for

if TYPE_CHECKING:
    from checker.meeting.session.session import Meeting

Function = TypeVar("Function", bound=Callable[..., Any])

day_argument = click.argument("day", metavar="DAY.meeting")
by_option = click.option(
    "--by",
    envvar="CHECKER_BY",
    default="",
    metavar="INITIALS",
    help="Who you are. Not needed where one official has signed on, or where CHECKER_BY says it.",
)
occasion_option = click.option(
    "--occasion",
    default="",
    metavar="WORDS",
    help="When not at scrutineering: for instance 'after the final'.",
)
car_argument = click.argument("car", metavar="CAR")


def reason_option(words: str) -> Callable[[Function], Function]:
    """`--reason`, with what it is asked for."""
    return click.option("--reason", default="", metavar="WORDS", help=words)


def acknowledge(meeting: Meeting, first: int, what: str) -> None:
    """Say what is on disk now, from entry `first` on, with the hash to hold it to."""
    from checker.meeting.record.chain import printed
    from checker.meeting.record.clock import set_back

    output.show_problems(set_back(meeting.day, first))
    page = page_for(None, None)
    last = meeting.day.number
    numbers = f"entry {last}" if first == last else f"entries {first} to {last}"
    page.put(f"{what}: {numbers}, on disk. Hash {printed(meeting.day.hash)}")
    output.deliver(page.text())
