"""`checker calendar`: what lapses on a car in the course of a season, and a calendar file of what to renew by when."""

from __future__ import annotations

from datetime import date

import click

from checker.car.declaration.loading import formula_of
from checker.cli import exits, output
from checker.cli.endings import ends_as
from checker.cli.options import AUDIENCE, PACK, a_command, day, units, with_options
from checker.cli.printing import Printing, printing
from checker.pack.editions.finding import find_pack, open_folder
from checker.quantities.days import parse_day
from checker.reading.patterns import pattern
from checker.reading.strict_yaml import read_document
from checker.report.amounts import Data
from checker.report.one_car.lapses import calendar_document, calendar_text
from checker.studies.one_car.lapses import season
from checker.studies.one_car.season import PREFIX, read_meetings

_TIME = pattern(r"\s*([0-9]{1,3})\s*(?:(d|days?)|(w|weeks?))\s*")


def _days_before(ctx: click.Context, param: click.Parameter, value: tuple[str, ...]) -> tuple[int, ...]:
    days = []
    for text in value:
        found = _TIME.fullmatch(text)
        if found is None:
            raise click.BadParameter(f"'{text}' is no time; write it as '14 days' or '6 weeks'", ctx, param)
        days.append(int(found[1]) * (7 if found[3] else 1))
    return tuple(sorted(set(days), reverse=True))


_OPTIONS = (
    click.option("--meetings", required=True, metavar="FILE",
                 help="The season's meetings: a YAML list of {name: ..., date: ...}."),
    PACK,
    click.option("--on", callback=day, metavar="DATE", help="The first day: what is met on it and fails at a later "
                 "meeting lapses. Without it: today."),
    AUDIENCE,
    click.option("--ics", metavar="FILE", callback=ends_as("calendar"),
                 help="Write an iCalendar file: an event from each last good day to the meeting that it would spoil."),
    click.option("--remind", multiple=True, callback=_days_before, metavar="TIME", help="With --ics: an alarm so long "
                 "before the last good day, such as '14 days' or '6 weeks'. May be given several times."),
)  # fmt: skip


@a_command(
    "What lapses on a car before which meeting of the season.",
    "checker calendar car.yaml --meetings samples/season/meetings.yaml",
    "checker calendar car.yaml --meetings meetings.yaml --on 2026-03-20 --ics renew.ics --remind '6 weeks'",
)
@click.argument("car", metavar="CAR")
@with_options(*_OPTIONS)
@printing
@units
def command(
    car: str,
    meetings: str,
    pack: str | None,
    on: str | None,
    audience: str,
    ics: str | None,
    remind: tuple[int, ...],
    printing: Printing,
) -> int:
    """Judge CAR as it stands at every meeting of a season, and tell what lapses when.

    Belts, seat, extinguisher, receipts, certificates, approvals, the end of a transition, a bulletin that comes into
    force: for each thing that is met now and fails at a meeting, the last day on which it is good, the meeting, and
    what to do.

    Exits with 1 where a clause that counts fails already or at a meeting, with 4 where nothing does but the car is
    undecided at a meeting, or there is no meeting from that day on.
    """
    if remind and ics is None:
        raise click.UsageError("--remind sets the alarms of a calendar file: name that with --ics")
    for place in (printing, Printing(file=ics, option="--ics")):
        place.refuse_overwriting(car, meetings, pack)
    dates = read_meetings(read_document(meetings, PREFIX))
    document = read_document(car, "CD")
    folder = open_folder(pack) if pack else find_pack(formula_of(document))
    found = season(document, folder, dates, parse_day(on) if on else date.today(), audience)
    told = calendar_document(found)
    if ics is not None:
        _write_ics(told, ics, remind)
    printing.document(told, calendar_text)
    if found.fails:
        return exits.FAILS
    return exits.worst(exits.result(standing.day.complies) for standing in found.standings)


def _write_ics(document: Data, file: str, remind: tuple[int, ...]) -> None:
    """The calendar file; a calendar without an event is none, so then nothing is written."""
    from checker.report.one_car.ics import calendar_ics

    if document["lapses"]:
        output.deliver(calendar_ics(document, remind).decode(), file)
    else:
        output.complain(f"nothing lapses at these meetings, so '{file}' is not written")
