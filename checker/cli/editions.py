"""Which edition of a pack a command is about, and how a user names two that are held against each other."""

from __future__ import annotations

import os
import re
from datetime import date

import click

from checker.pack.finding import PackFolder, open_folder
from checker.pack.in_force import load_pack
from checker.pack.loading import load_edition
from checker.pack.model import Pack
from checker.quantities.calendar import parse_day
from checker.reading.problems import InputError

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")


def edition_for(folder: PackFolder, on: str | None) -> Pack:
    """The edition in force on a day; without a day today's, or else the newest, for a pack may be read ahead of time.

    Raises:
        InputError: It cannot be read; or a day was asked for that no edition covers.
    """
    if on is not None:
        return load_pack(folder, parse_day(on))
    try:
        return load_pack(folder, date.today())
    except InputError as error:
        if any(problem.code != "PK620" for problem in error.problems):
            raise
    return max((load_edition(file) for file in folder.editions), key=lambda pack: pack.first_day)


def edition_named(place: str, on: str | None = None) -> Pack:
    """The rules that a user names to hold them against others.

    Args:
        place: A file: that edition as it stands, without bulletins, whatever the day. A folder: what is in force on
            the day. Either with @DATE behind it: with the bulletins in force on that day.
        on: The day for a folder that names none; None: as `edition_for`.

    Raises:
        InputError: It cannot be read, or nothing is in force on the day.
    """
    name, at, day = place.rpartition("@")
    if at and _DAY.fullmatch(day) and not os.path.exists(place):
        return load_pack(open_folder(name), _parsed(day))
    if os.path.isfile(place):
        return load_edition(place)
    return edition_for(open_folder(place), on)


def _parsed(day: str) -> date:
    try:
        return parse_day(day)
    except ValueError as error:
        raise click.UsageError(f"{error}; write a day behind @ as 2026-05-03") from None
