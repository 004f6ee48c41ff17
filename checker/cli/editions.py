"""Which edition of a pack a command is about, and how a user names two that are held against each other."""

from __future__ import annotations

import os
from datetime import date, timedelta

import click

from checker.pack.editions.edition import Edition, in_force_on, newest
from checker.pack.editions.finding import PackFolder, open_folder
from checker.pack.editions.in_force import as_it_stands, days_of_change
from checker.pack.keeping.kept import pack_on
from checker.pack.model import Pack
from checker.quantities.days import parse_day
from checker.reading.patterns import pattern
from checker.reading.problems import InputError
from checker.studies.change.turning_days import TurningDay, turning_days

_DAY = pattern(r"\d{4}-\d{2}-\d{2}")


def edition_for(folder: PackFolder, on: str | None) -> Pack:
    """The edition in force on a day; without a day today's, or else the newest, for a pack may be read ahead of time.

    Raises:
        InputError: It cannot be read; or a day was asked for that no edition covers.
    """
    if on is not None:
        return pack_on(folder, parse_day(on))
    try:
        return pack_on(folder, date.today())
    except InputError as error:
        if any(problem.code != "PK620" for problem in error.problems):
            raise
    return pack_on(folder, newest(folder).head.first)


def day_named(on: str | None, place: str) -> date:
    """The day that a study is made for: the one asked for, else that of PATH@DATE, else today."""
    if on is not None:
        return parse_day(on)
    _, day = _split(place)
    return day or date.today()


def own_day(place: str) -> date | None:
    """The day behind the @ of PATH@DATE; None where there is none."""
    return _split(place)[1]


def what_changes_between(old: str, new: str) -> tuple[TurningDay, ...]:
    """What changes by itself in one pack between the days of PATH@DATE and PATH@DATE; nothing for two packs.

    Raises:
        InputError: A text in force between them cannot be read.
    """
    (before, first), (after, last) = _split(old), _split(new)
    if first is None or last is None or first >= last or os.path.realpath(before) != os.path.realpath(after):
        return ()
    days = turning_days(open_folder(after), first + timedelta(days=1), last)
    return tuple(one for one in days if one.clause)


def edition_named(place: str, on: date) -> Pack:
    """The rules that a user names to hold them against others.

    Args:
        place: A file: that edition as it stands, without bulletins, whatever the day. A folder: what is in force on
            the day. Either with @DATE behind it: with the bulletins in force on that day.
        on: The day that cars are judged for.

    Raises:
        InputError: It cannot be read, or nothing is in force on the day.
    """
    name, day = _split(place)
    if day is None and os.path.isfile(name):
        return as_it_stands(open_folder(name), on)
    return pack_on(open_folder(name), day or on)


def texts_after(place: str, pack: Pack, on: date) -> tuple[tuple[date, Pack], ...]:
    """The texts that follow the rules that `edition_named` gives, within their edition, each with its first day.

    Raises:
        InputError: One of them cannot be read.
    """
    name, day = _split(place)
    if day is None and os.path.isfile(name):
        return ()
    folder, last = open_folder(name), pack.last_day or date.max
    days = [one for one in days_of_change(folder) if max(on, day or on) < one <= last]
    return tuple((one, pack_on(folder, one)) for one in days)


def edition_with_cases(place: str) -> Edition:
    """The edition whose cases a user asks for: a file's own, the newest of a folder, or that of PATH@DATE.

    Raises:
        InputError: It cannot be read, or nothing is in force on the day.
    """
    name, day = _split(place)
    folder = open_folder(name)
    if day is not None:
        return in_force_on(folder, day)
    return newest(folder)


def _split(place: str) -> tuple[str, date | None]:
    """A place, and the day behind its @ where there is one."""
    name, at, day = place.rpartition("@")
    if not at or not _DAY.fullmatch(day) or os.path.exists(place):
        return place, None
    try:
        return name, parse_day(day)
    except ValueError as error:
        raise click.UsageError(f"{error}; write a day behind @ as 2026-05-03") from None
