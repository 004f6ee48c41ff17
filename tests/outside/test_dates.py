"""Days against ISO 8601, the standard library's calendar and `dateutil`."""

from __future__ import annotations

import calendar
from datetime import date

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.days import add_days, add_months, end_of_month, parse_day
from tests.examples import each_row

DAYS = st.dates(date(1950, 1, 1), date(2150, 12, 31))


@pytest.mark.parametrize(
    ("text", "day_of_year", "week", "weekday"),
    [
        ("1985-04-12", 102, (1985, 15), 5),
        ("2008-12-29", 364, (2009, 1), 1),
        ("2010-01-03", 3, (2009, 53), 7),
        ("2004-02-29", 60, (2004, 9), 7),
    ],
)
def test_examples_of_iso_8601(text: str, day_of_year: int, week: tuple[int, int], weekday: int) -> None:
    """Examples of ISO 8601, recalled; computed: day of year of the second and third, week of the last."""
    day = parse_day(text)
    assert day == date.fromisocalendar(*week, weekday)
    assert day == add_days(date(day.year, 1, 1), day_of_year - 1)


@each_row("text", ["19850412", "1985-102", "1985-W15-5", "85-04-12", "+1985-04-12", "1985-04-12T10:00"])
def test_of_the_forms_of_iso_8601_only_the_plain_day_is_read(text: str) -> None:
    with pytest.raises(ValueError, match="is not a day"):
        parse_day(text)


@pytest.mark.parametrize("text", ["1900-02-29", "2003-02-29", "2100-02-29"])
def test_leap_years_are_gregorian(text: str) -> None:
    with pytest.raises(ValueError, match="has 28 days"):
        parse_day(text)


@given(DAYS, st.integers(-500, 500))
def test_months_are_added_as_dateutil_does(day: date, months: int) -> None:
    assert add_months(day, months) == day + relativedelta(months=months)


@given(DAYS, st.integers(-40, 40))
def test_years_are_added_as_dateutil_does(day: date, years: int) -> None:
    assert add_months(day, 12 * years) == day + relativedelta(years=years)


@given(DAYS)
def test_months_end_as_in_the_standard_library(day: date) -> None:
    assert end_of_month(day).day == calendar.monthrange(day.year, day.month)[1]
