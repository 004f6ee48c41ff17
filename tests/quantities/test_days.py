"""Days, months and years as rulebooks count them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.days import (
    add_days,
    add_months,
    end_of_month,
    end_of_year,
    full_years,
    parse_day,
    parse_month,
    parse_year,
)
from tests.examples import each_row

DAYS = st.dates(date(1950, 1, 1), date(2150, 12, 31))


@each_row(
    ("start", "months", "result"),
    [
        ("2026-01-31", 1, "2026-02-28"),
        ("2024-01-31", 1, "2024-02-29"),
        ("2024-02-29", 12, "2025-02-28"),
        ("2024-02-29", 48, "2028-02-29"),
        ("2026-03-31", -1, "2026-02-28"),
        ("2026-12-15", 1, "2027-01-15"),
        ("2026-01-15", -1, "2025-12-15"),
        ("2026-05-03", 0, "2026-05-03"),
    ],
)
def test_a_day_past_the_end_of_the_month_becomes_its_last(start: str, months: int, result: str) -> None:
    assert add_months(parse_day(start), months) == parse_day(result)


def test_a_month_or_a_year_stands_for_its_last_day() -> None:
    assert parse_month("2021-04") == date(2021, 4, 30)
    assert parse_month("2024-02") == date(2024, 2, 29)
    assert parse_month("1900-02") == date(1900, 2, 28)
    assert parse_month("2199-12") == date(2199, 12, 31)
    assert parse_year("2021") == date(2021, 12, 31)


@each_row("text", ["2026-3-1", "01-03-2026", "20260301", "2026-03-01 ", "", "today", "٢٠٢٦-03-01"])
def test_a_day_is_written_in_one_way_only(text: str) -> None:
    with pytest.raises(ValueError, match="as in 2026-03-01"):
        parse_day(text)


@each_row(
    ("text", "says"),
    [
        ("2026-02-29", "February 2026 has 28 days"),
        ("2026-04-31", "April 2026 has 30 days"),
        ("2026-01-00", "January 2026 has 31 days"),
        ("2026-00-10", "there is no month 0"),
        ("2026-13-10", "there is no month 13"),
        ("1899-12-31", "outside the years 1900 to 2199"),
        ("2200-01-01", "outside the years 1900 to 2199"),
        ("0000-01-01", "outside the years 1900 to 2199"),
    ],
)
def test_a_day_must_be_in_the_calendar(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        parse_day(text)


@each_row("text", ["2026", "2026-1", "2026-00", "2026-13", "26-01", "1899-01", "2026-01-01"])
def test_a_month_must_be_a_month(text: str) -> None:
    with pytest.raises(ValueError, match=r"month|outside"):
        parse_month(text)


@pytest.mark.parametrize("text", ["26", "2026-01", "1899", "20260", "year"])
def test_a_year_must_be_a_year(text: str) -> None:
    with pytest.raises(ValueError, match="year"):
        parse_year(text)


@pytest.mark.parametrize("months", [3000, -3000, 10**30, -(10**30)])
def test_sums_outside_the_calendar_are_refused(months: int) -> None:
    with pytest.raises(ValueError, match="outside the years 1900 to 2199"):
        add_months(date(2026, 3, 1), months)
    with pytest.raises(ValueError, match="outside the years 1900 to 2199"):
        add_days(date(2026, 3, 1), months * 31)


@given(DAYS)
def test_ends_of_month_and_year(day: date) -> None:
    last = end_of_month(day)
    assert (last.year, last.month) == (day.year, day.month)
    assert add_days(last, 1).day == 1
    assert end_of_year(day) == date(day.year, 12, 31)


@given(DAYS, st.integers(-500, 500))
def test_months_never_run_over_into_the_next(day: date, months: int) -> None:
    later = add_months(day, months)
    assert (later.year - day.year) * 12 + later.month - day.month == months
    assert later.day == min(day.day, end_of_month(later).day)


@given(DAYS, st.integers(-10000, 10000))
def test_days_add_up(day: date, days: int) -> None:
    assert (add_days(day, days) - day).days == days


@given(DAYS)
def test_a_written_day_is_that_day(day: date) -> None:
    assert parse_day(day.isoformat()) == day
    assert parse_month(day.isoformat()[:7]) == end_of_month(day)
    assert parse_year(day.isoformat()[:4]) == end_of_year(day)


def attempt(parse: Callable[[str], date], text: str) -> date | str:
    try:
        return parse(text)
    except ValueError as error:
        return str(error)


@given(st.text(), st.sampled_from([parse_day, parse_month, parse_year]))
def test_any_text_is_a_day_or_a_plain_error(text: str, parse: Callable[[str], date]) -> None:
    result = attempt(parse, text)
    assert result
    assert isinstance(result, str) or result.isoformat().startswith(text)


@each_row(
    ("born", "day", "years"),
    [
        ("2010-05-03", "2026-05-02", 15),
        ("2010-05-03", "2026-05-03", 16),
        ("2008-02-29", "2026-02-27", 17),
        ("2008-02-29", "2026-02-28", 18),
        ("2008-02-29", "2028-02-28", 19),
        ("2008-02-29", "2028-02-29", 20),
        ("2026-05-03", "2026-05-03", 0),
    ],
)
def test_full_years(born: str, day: str, years: int) -> None:
    assert full_years(parse_day(born), parse_day(day)) == years


@given(st.dates(date(1950, 1, 1), date(2050, 1, 1)), st.integers(0, 30_000))
def test_full_years_are_the_most_that_can_be_added(born: date, later: int) -> None:
    day = min(born + timedelta(later), date(2150, 1, 1))
    years = full_years(born, day)
    assert add_months(born, 12 * years) <= day < add_months(born, 12 * years + 12)


def test_the_days_of_full_years_go_forward() -> None:
    with pytest.raises(ValueError, match="lies before"):
        full_years(date(2026, 5, 3), date(2026, 5, 2))
