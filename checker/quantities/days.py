"""Days of the calendar, as rulebooks count them.

A month or a year alone stands for its last day, the reading that is kindest to whoever holds the paper.
Adding months keeps the day of the month; where that month is shorter, its last day is meant
(31 January and one month is 28 or 29 February), so no certificate gains days from a short month.
"""

from __future__ import annotations

from datetime import date, timedelta

from checker.reading.patterns import pattern

FIRST_YEAR, LAST_YEAR = 1900, 2199
"""Years outside these are taken for a slip of the pen."""

_DAY = pattern(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_MONTH = pattern(r"([0-9]{4})-([0-9]{2})")
_YEAR = pattern(r"[0-9]{4}")
MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def parse_day(text: str) -> date:
    """The day written YYYY-MM-DD (ISO 8601).

    Raises:
        ValueError: It is written otherwise, or is not in the calendar of 1900 to 2199.
    """
    found = _DAY.fullmatch(text)
    if not found and (of := _MONTH.fullmatch(text)):
        end = _end_of_month(int(of[1]), int(of[2]), text)
        raise ValueError(f"{text} is only a month; write the day too, {text}-01 to {end.isoformat()}")
    if not found:
        raise ValueError(f"{_quoted(text)} is not a day; write year, month and day as in 2026-03-01")
    year, month, day = (int(part) for part in found.groups())
    last = _end_of_month(year, month, text).day
    if not 1 <= day <= last:
        raise ValueError(f"{text} is not in the calendar: {MONTHS[month - 1]} {year} has {last} days")
    return date(year, month, day)


def parse_month(text: str) -> date:
    """The last day of the month written YYYY-MM. Errors as for `parse_day`."""
    found = _MONTH.fullmatch(text)
    if not found:
        raise ValueError(f"{_quoted(text)} is not a month; write year and month as in 2026-03")
    return _end_of_month(int(found[1]), int(found[2]), text)


def parse_year(text: str) -> date:
    """The last day of the year written YYYY. Errors as for `parse_day`."""
    if not _YEAR.fullmatch(text):
        raise ValueError(f"{_quoted(text)} is not a year; write four digits as in 2026")
    return _end_of_month(int(text), 12, text)


def add_days(day: date, days: int) -> date:
    """The day that many days later (earlier if negative).

    Raises:
        ValueError: The result lies outside 1900 to 2199.
    """
    ordinal = day.toordinal() + days
    if not date(FIRST_YEAR, 1, 1).toordinal() <= ordinal <= date(LAST_YEAR, 12, 31).toordinal():
        raise ValueError(_too_far(day, f"{days} days"))
    return date.fromordinal(ordinal)


def add_months(day: date, months: int) -> date:
    """The same day of the month that many months later; past that month's end it is its last day.

    Raises:
        ValueError: The result lies outside 1900 to 2199.
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError(_too_far(day, f"{months} months"))
    last = _end_of_month(year, month + 1, str(year))
    return last.replace(day=min(day.day, last.day))


def full_years(born: date, day: date) -> int:
    """How many whole years lie between two days: as many as can be added to the first without passing the second.

    Who is born on 29 February is a year older on 28 February of a year without it, as `add_months` has it.

    Raises:
        ValueError: The second day lies before the first.
    """
    if day < born:
        raise ValueError(f"{day.isoformat()} lies before {born.isoformat()}")
    years = day.year - born.year
    return years if add_months(born, 12 * years) <= day else years - 1


def end_of_month(day: date) -> date:
    """The last day of the month that the day lies in."""
    return _end_of_month(day.year, day.month, day.isoformat())


def end_of_year(day: date) -> date:
    """31 December of the year that the day lies in."""
    return date(day.year, 12, 31)


def _end_of_month(year: int, month: int, text: str) -> date:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError(f"{text} lies outside the years {FIRST_YEAR} to {LAST_YEAR}")
    if not 1 <= month <= 12:
        raise ValueError(f"{text} is not in the calendar: there is no month {month}")
    following = date(year + month // 12, month % 12 + 1, 1)
    return following - timedelta(days=1)


def _quoted(text: str) -> str:
    return f"'{text[:40]}...'" if len(text) > 40 else f"'{text}'"


def _too_far(day: date, distance: str) -> str:
    return f"{day.isoformat()} and {distance[:40]} lies outside the years {FIRST_YEAR} to {LAST_YEAR}"
