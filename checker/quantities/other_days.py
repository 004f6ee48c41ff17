"""Days, moments and times as other notations write them: `2026-2-3`, `1 May 2026`, `14.30`. For messages only."""

from __future__ import annotations

import re
from datetime import date

from checker.quantities.days import FIRST_YEAR, LAST_YEAR, MONTHS, end_of_month
from checker.quantities.other_ways import FREE, Cure, Rule
from checker.reading.patterns import pattern


def _day(year: str, month: str, of_month: str) -> str | None:
    try:
        day = date(int(year), int(month), int(of_month))
    except ValueError:
        return None
    return day.isoformat() if FIRST_YEAR <= day.year <= LAST_YEAR else None


def _year_first(found: re.Match[str], _: str | None) -> Cure:
    read, year, _mark, a, b = found[0], *found.groups()
    if (day := _day(year, a, b)) is not None:
        return f"write {day}" if day != read else None
    turned = _day(year, b, a)
    return f"write {turned} if the day stands before the month" if turned else _SHAPE


def _year_last(found: re.Match[str], _: str | None) -> Cure:
    a, _mark, b, year = found.groups()
    first, second = _day(year, b, a), _day(year, a, b)
    if first and second and first != second:
        return f"write {first}, or {second} if the month stands first"
    return f"write {first or second}" if first or second else _SHAPE


def _named_month(day: str, name: str, year: str) -> Cure:
    month = next(
        (at for at, full in enumerate(MONTHS, 1) if full.casefold().startswith(name.casefold())), None
    )
    if name.casefold() == "sept":
        month = 9
    if month is None:
        return None
    if not day:
        first = _day(year, str(month), "1")
        return first and f"write the day too, {first} to {end_of_month(date.fromisoformat(first))}"
    written = _day(year, str(month), day)
    return f"write {written}" if written else None


def _moment(found: re.Match[str], _: str | None) -> Cure:
    day, hours, minutes, seconds, half = found.groups()
    if minutes is None and half is None:
        return None
    hour = int(hours) % 12 + (12 if half.lower() == "p" else 0) if half else int(hours)
    if hour > 23 or int(minutes or 0) > 59:
        return None
    rest = "" if not (seconds or "").strip(":0.") else ", for a moment is told in hours and minutes"
    return f"write {day} {hour:02}:{minutes or '00'}{rest}"


def _clock(found: re.Match[str], _: str | None) -> Cure:
    first, mark, second = int(found[1]), found[2], int(found[3])
    if second > 59:
        return None
    hours = f"{first} h {second} min"
    return f"write {hours}" + (f", or {first} min {second} s" if mark == ":" else "")


_SHAPE = "a day is its year, month and day with four, two and two digits, as in 2026-03-01"

_NAMED = r"([A-Za-z]{3,9})"
_ORDINAL = r"([0-9]{1,2})(?:st|nd|rd|th)?"
DAYS: tuple[Rule, ...] = (
    (
        pattern(
            r"([0-9]{4}-[0-9]{2}-[0-9]{2})(?:T|[ ]+)([0-9]{1,2})(?:[:.h]([0-9]{2}))?(:[0-9]{2}(?:\.[0-9]+)?)?Z?"
            r"[ ]*(?:([aApP])\.?[mM]\b\.?)?(?![\w:])"
        ),
        _moment,
    ),
    (pattern(rf"{FREE}([0-9]{{4}})([-/.])([0-9]{{1,2}})\2([0-9]{{1,2}})(?!\w|\.[0-9])"), _year_first),
    (pattern(rf"{FREE}([0-9]{{1,2}})([-/.])([0-9]{{1,2}})\2([0-9]{{4}})(?!\w|\.[0-9])"), _year_last),
    (
        pattern(rf"{FREE}{_ORDINAL}[ .-]*{_NAMED}[ .,-]*([0-9]{{4}})(?!\w)"),
        lambda found, _: _named_month(found[1], found[2], found[3]),
    ),
    (
        pattern(rf"\b{_NAMED}[ .]*{_ORDINAL},?[ ]*([0-9]{{4}})(?!\w)"),
        lambda found, _: _named_month(found[2], found[1], found[3]),
    ),
    (pattern(rf"\b{_NAMED}[ .]*([0-9]{{4}})(?!\w)"), lambda found, _: _named_month("", found[1], found[2])),
    (
        pattern(rf"{FREE}((?:19|20|21)[0-9]{{2}})([01][0-9])([0-3][0-9])(?!\w|\.[0-9])"),
        lambda found, _: (day := _day(found[1], found[2], found[3])) and f"write {day}",
    ),
    (pattern(rf"{FREE}([0-9]{{1,2}})([:h])([0-9]{{2}})(?![\w:])"), _clock),
)
