"""Which edition of a pack a command without a car is about."""

from __future__ import annotations

from datetime import date

from checker.pack.finding import PackFolder
from checker.pack.in_force import load_pack
from checker.pack.loading import load_edition
from checker.pack.model import Pack
from checker.quantities.calendar import parse_day
from checker.reading.problems import InputError


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
