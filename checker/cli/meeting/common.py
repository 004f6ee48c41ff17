"""What the commands of a meeting share: the file, the official's initials, how an entry is acknowledged."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

import click

from checker.cli import exits, options, output
from checker.cli.printing import Printing

if TYPE_CHECKING:
    from checker.meeting.session.session import Meeting

Function = TypeVar("Function", bound=Callable[..., object])

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


def a_meeting_command(short_help: str, *examples: str) -> Callable[[Callable[..., int]], click.Command]:
    """A decorator that makes a command of a function whose first argument is the meeting's file."""
    made = options.a_command(short_help, *examples)
    return lambda function: made(click.argument("day", metavar="DAY.meeting")(function))


def reason_option(words: str) -> Callable[[Function], Function]:
    """`--reason`, with what it is asked for."""
    return click.option("--reason", default="", metavar="WORDS", callback=options.reason, help=words)


@contextmanager
def recording(day: str, by: str) -> Iterator[Meeting]:
    """A meeting to record in; if the command does not come to its own end, what is on disk is said last.

    A verdict that is missing because a program was killed between a reading and its verdict is worked out first.
    """
    from checker.meeting.session.session import Meeting
    from checker.meeting.taking.judging import judge_due

    with Meeting.open(day) as meeting:
        output.end_with(lambda: _on_disk(meeting))
        unlock(meeting, by)
        judge_due(meeting, by)
        yield meeting


def unlock(meeting: Meeting, by: str) -> None:
    """Unlock the key of an official who signs: CHECKER_KEY names its file, CHECKER_PIN its PIN, or it is asked for."""
    from checker.meeting.record.signing import unlocked

    initials = meeting.day.official(by) if by else meeting.day.officials[0]
    file = os.environ.get("CHECKER_KEY", "")
    if initials in meeting.day.keys and file:
        meeting.signer = unlocked(file, asked_for_pin())


def asked_for_pin(*, twice: bool = False) -> str:
    """The PIN of a key."""
    pin = os.environ.get("CHECKER_PIN")
    output.make_way(for_good=not pin)
    return pin or str(click.prompt("PIN", hide_input=True, confirmation_prompt=twice, err=True))


@contextmanager
def printing_from(day: str) -> Iterator[Meeting]:
    """A meeting to print from; that its record is not sound is said beside it, for it may go to a file."""
    from checker.meeting.session.session import Meeting

    with Meeting.open(day, writing=False) as meeting:
        yield meeting
        for fault in meeting.faults[:_MOST_TOLD]:
            output.complain(f"RECORD NOT SOUND: {fault.code} {fault.message}")


_MOST_TOLD = 5


def acknowledge(meeting: Meeting, what: str) -> int:
    """Say, last of all, what is on disk now, with the hash to hold it to; every car that it bears on is judged.

    Returns:
        The exit code of a command whose entries were recorded.
    """
    from checker.meeting.record.chain import printed
    from checker.meeting.record.clock import oddities
    from checker.meeting.taking.judging import judge_due

    numbers = [entry.number for entry in meeting.recorded] or [meeting.day.number]
    if meeting.recorded:
        judge_due(meeting, meeting.recorded[-1].by)
        numbers = [entry.number for entry in meeting.recorded]
    output.show_problems(oddities(meeting.day, numbers[0]))
    with Printing().paged() as page:
        page.put(f"{what}: {_entries(numbers)}, on disk. Hash {printed(meeting.day.hash)}")
    return exits.COMPLIES


def _entries(numbers: Sequence[int]) -> str:
    first, last = numbers[0], numbers[-1]
    return f"entry {last}" if first == last else f"entries {first} to {last}"


def _on_disk(meeting: Meeting) -> str:
    """What of this command is in the file, as it reads now."""
    from checker.meeting.record.store import Store
    from checker.reading.problems import InputError

    if not meeting.sent:
        return "Nothing was recorded."
    try:
        with Store.open(meeting.store.path, writing=False) as store:
            kept = [entry for entry in store.entries(meeting.sent[0].number - 1) if entry in meeting.sent]
    except InputError:
        return f"'{meeting.store.path}' cannot be read now: verify it to see what of this was recorded."
    if not kept:
        return "Nothing was recorded."
    told = ", ".join(f"entry {entry.number} ({entry.kind})" for entry in kept)
    return f"On disk from this command: {told}. Nothing else of it was recorded."
