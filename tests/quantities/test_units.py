"""Units: a closed list, exact factors, and a hint for whatever is not in it."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.dimension import BASES, LENGTH, MASS, MONEY, TIME, Dimension
from checker.quantities.kind import DATE, DAYS, MONTHS, NUMBER, PERCENT, TEXT, quantity
from checker.quantities.unit_table import JOINED, OTHERS, QUANTITIES
from checker.quantities.units import (
    Unit,
    UnknownUnit,
    base_unit,
    is_currency,
    minor_digits,
    parse_unit,
    units_of,
)
from tests.conftest import ROOT
from tests.examples import each_row


def _listed() -> tuple[str, ...]:
    """The units that the language reference lists, and the one that only ever stands below a line."""
    reference = (ROOT / "rulepacks" / "README.md").read_text("utf-8")
    found = re.search(r"\*\*Units\*\*, converted by exact factors: (.*?)\. Names are exact", reference)
    assert found is not None
    told = re.sub(r"(\w+)\(s\)", r"\1 \1s", found[1].replace("the pack's one `currency`", ""))
    return (*re.findall(r"[\w/%]+", re.sub(r"\([^)]*\)", "", told)), "s2")


LISTED = _listed()
DIMENSIONS = st.lists(st.integers(-4, 4), min_size=len(BASES), max_size=len(BASES)).map(
    lambda exponents: Dimension(tuple(exponents))
)


def parsed(text: str, currency: str | None) -> Unit | None:
    try:
        return parse_unit(text, currency)
    except UnknownUnit:
        return None


@each_row("name", LISTED)
def test_the_list_is_complete(name: str) -> None:
    assert parse_unit(name, None).name == name


def test_nothing_else_is_in_the_list() -> None:
    assert set(QUANTITIES) | set(OTHERS) == set(LISTED) - {"km/h", "m/s", "m/s2"}


@each_row(
    ("name", "factor"),
    [
        ("lb", Fraction("0.45359237")),
        ("N", 1000),
        ("Pa", Fraction(1, 1000)),
        ("Nm", 10**6),
        ("rpm", Fraction(1, 60)),
        ("Ah", 3600),
        ("%", Fraction(1, 100)),
        ("years", 12),
        ("kg/L", Fraction(1, 10**6)),
        ("km/h", Fraction(10**6, 3600)),
        ("m/s/s", 1000),
    ],
)
def test_factors_are_base_units_per_one(name: str, factor: Fraction | int) -> None:
    assert parse_unit(name, None).factor == factor


def test_a_joined_unit_has_the_quotient_of_the_dimensions() -> None:
    assert parse_unit("GBP/kg", "GBP").kind == quantity(MONEY / MASS)
    assert parse_unit("mm/m", None) == Unit("mm/m", NUMBER, Fraction(1, 1000))
    assert (
        parse_unit("Nm/deg", None).kind.dimension
        == MASS * LENGTH**2 / TIME**2 / parse_unit("deg", None).kind.dimension
    )


def test_torque_and_energy_agree_and_the_two_sound_levels_do_not() -> None:
    assert parse_unit("Nm", None).kind == parse_unit("Wh", None).kind
    assert parse_unit("dBA", None).kind != parse_unit("dBC", None).kind


@each_row(
    ("text", "hint"),
    [
        ("Kg", "perhaps kg"),
        ("kgs", "perhaps kg"),
        ("l", "perhaps L"),
        ("lbs", "perhaps lb"),
        ("LBS", "perhaps lb"),
        ("inches", "perhaps in"),
        ("kph", "perhaps km/h"),
        ("kg/l", "perhaps kg/L"),
        ("kilogrammes", "perhaps kg"),
        ("kgg", "perhaps kg"),
        ("kilograms", "perhaps kg"),
        ("fahrenheit", "perhaps degF"),
        ("kelvin", "perhaps K"),
        ("J/degF", "degF tells temperatures; its steps are degR, as in W/degR"),
        ("gal", "write gal_US or gal_imp"),
        ("USgal", "perhaps gal_US"),
        ("imp_gal", "perhaps gal_imp"),
        ("db", "write dBA or dBC, as it is measured, or dB where there is no weighting"),
        ("lm", "no unit of the list says that"),
        ("EUR", "this pack's currency is GBP"),
        ("kg/day", "day cannot be joined to another unit by /"),
        ("%/deg", "% cannot be joined to another unit by /"),
        ("furlong", "units are kg, mm, L, deg, % and the like; names are exact in case"),
        ("", "units are kg, mm, L, deg, % and the like; names are exact in case"),
        ("kg/", "units are kg, mm, L, deg, % and the like; names are exact in case"),
        ("m/s/s/s/s/s/s", "join at most 6 names by /"),
    ],
)
def test_an_unknown_unit_has_a_hint(text: str, hint: str) -> None:
    with pytest.raises(UnknownUnit) as caught:
        parse_unit(text, "GBP")
    assert (caught.value.name, caught.value.hint) == (text, hint)


def test_without_a_currency_there_is_no_money() -> None:
    with pytest.raises(UnknownUnit, match="the pack names no currency"):
        parse_unit("GBP", None)
    assert units_of(quantity(MONEY), None) == ()


@each_row(
    ("name", "first"),
    [
        ("t", ("kg", "g", "lb", "oz", "t")),
        ("km", ("mm", "cm", "m", "in", "ft", "km")),
        ("lb/in3", ("kg/L", "g/cc", "kg/m3")),
        ("mph", ("km/h", "m/s")),
        ("GBP", ("GBP",)),
        ("year", ("months",)),
        ("%", ("%",)),
        ("GBP/L", ("GBP/L",)),
    ],
)
def test_units_that_would_do_are_named_commonest_first(name: str, first: tuple[str, ...]) -> None:
    assert units_of(parse_unit(name, "GBP").kind, "GBP")[: len(first)] == first


@each_row("name", [*QUANTITIES, *OTHERS, *JOINED])
def test_every_unit_is_among_those_that_would_do_for_its_kind(name: str) -> None:
    assert name in units_of(parse_unit(name, "GBP").kind, "GBP")


@each_row(
    ("name", "shown"),
    [
        ("lb", "kg"),
        ("mm", "m"),
        ("cc", "m3"),
        ("kg/L", "kg/m3"),
        ("lbf", "N"),
        ("psi", "Pa"),
        ("hp", "W"),
        ("rpm", "Hz"),
        ("Ah", "A s"),
        ("mm4", "m4"),
        ("kg/h", "kg/s"),
        ("L/min", "m3/s"),
        ("GBP", "GBP"),
        ("%", "%"),
        ("day", "days"),
        ("years", "months"),
    ],
)
def test_where_nothing_names_a_unit_kg_m_and_s_do(name: str, shown: str) -> None:
    assert base_unit(parse_unit(name, "GBP").kind, "GBP").name == shown


def test_what_has_no_magnitude_is_shown_without_a_unit() -> None:
    assert [base_unit(kind, None).name for kind in (NUMBER, TEXT, DATE)] == ["", "", ""]


@given(DIMENSIONS)
def test_base_units_have_the_dimension_they_stand_for(dimension: Dimension) -> None:
    kind = quantity(dimension)
    unit = base_unit(kind, "GBP")
    assert unit.kind == kind
    assert unit.factor == Fraction(1000) ** dimension.exponents[1]
    assert parsed(unit.name, "GBP") in (unit, None)  # None: for show only, as "kg m"


@given(DIMENSIONS)
def test_units_that_would_do_can_be_written_and_are_of_the_kind(dimension: Dimension) -> None:
    kind = quantity(dimension)
    assert all(parse_unit(name, "GBP").kind == kind for name in units_of(kind, "GBP"))


@given(st.text(), st.sampled_from([None, "GBP", "JPY"]))
def test_any_text_is_a_unit_or_an_unknown_unit(text: str, currency: str | None) -> None:
    unit = parsed(text, currency)
    if unit is not None:
        assert unit.name == text
        assert unit.factor > 0
        assert unit.kind in (PERCENT, DAYS, MONTHS, NUMBER) or unit.kind.name == "quantity"


def test_a_currency_is_three_capitals() -> None:
    assert is_currency("GBP")
    assert not any(is_currency(code) for code in ("gbp", "GB", "GBPS", "", "ÄÖÜ"))


def test_money_has_the_decimals_of_its_currency() -> None:
    assert [minor_digits(code) for code in ("GBP", "JPY", "BHD", "ZZZ")] == [2, 0, 3, 2]
