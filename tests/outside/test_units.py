"""Unit factors against published ones, and against `pint` as a second opinion.

Each row names where its value is published. "read" means that the value was read in a copy of that document,
"recalled" that it was written from memory of it, "recomputed" that it follows from the exact definitions.
A value with an equals sign is exact; one printed with fewer digits holds to half a unit of its last.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest

from checker.quantities.literal import parse_literal
from checker.quantities.misread import LiteralError
from checker.quantities.unit_table import JOINED, QUANTITIES
from checker.quantities.units import UnknownUnit, minor_digits, parse_unit
from tests.examples import each_row

INDIA = "Standards of Weights and Measures Act 1976 (India), Schedule; read"
UK = "Weights and Measures Act 1985 (UK), Schedule 1 Part V; read"
SI = "SI Brochure (BIPM), defined; recalled"
DEFINED = "recomputed from the definitions of inch, pound and standard gravity"


def amount(text: str) -> Fraction:
    value = parse_literal(text, None).value
    assert isinstance(value, Fraction)
    return value


@each_row(
    ("ours", "published", "source"),
    [
        ("1 in", "0.0254 m", INDIA),
        ("1 ft", "0.3048 m", INDIA),
        ("3 ft", "0.9144 m", f"{INDIA}: the yard"),
        ("1 lb", "0.45359237 kg", f"{INDIA}; {UK}"),
        ("1 oz", "0.028349523125 kg", f"1/16 lb; {UK}"),
        ("14 lb", "6.35029318 kg", f"the stone; {DEFINED}"),
        ("112 lb", "50.80234544 kg", f"the UK hundredweight; {DEFINED}"),
        ("1 lbf", "4.4482216152605 N", INDIA),
        ("550 lbf", "2446.521888393275 N", f"550 pound-force; {DEFINED}"),
        ("1 hp", "745.69987158227022 W", f'{INDIA}, "UK" horsepower, 550 ft lbf/s'),
        ("231 in3", "3.785411784 L", f"the US liquid gallon, 231 in3; {INDIA}"),
        ("1 in3", "16.387064 ml", INDIA),
        ("1728 in3", "0.028316846592 m3", f"the cubic foot; {INDIA}"),
        ("1 bar", "100000 Pa", "recomputed from the definition of the bar"),
        ("1 mph", "0.44704 m/s", "recomputed from the mile of 5280 ft"),
        ("1 yd", "0.9144 m", INDIA),
        ("1 mi", "1609.344 m", f"the mile of 5280 ft; {DEFINED}"),
        ("1 st", "6.35029318 kg", f"the stone, 14 lb; {UK}"),
        ("1 kgf", "9.80665 N", f"standard gravity; {SI}"),
        ("1 gal_US", "3.785411784 L", f"231 in3; {INDIA}"),
        ("1 gal_imp", "4.54609 L", "Weights and Measures Act 1985 (UK), Schedule 1 Part IV; recalled"),
        ("1 ft2", "144 in2", "recomputed from the foot of 12 in"),
        ("1 dm2", "0.01 m2", SI),
        ("900 kn", "463 m/s", "the knot, 1852 m/h; recalled"),
        ("1 hPa", "100 Pa", SI),
        ("1000 mAh", "1 Ah", SI),
    ],
)
def test_exact_factors(ours: str, published: str, source: str) -> None:
    assert amount(ours) == amount(published), source


@each_row(
    ("ours", "per", "published", "source"),
    [
        ("1 psi", "1 Pa", "6894.757293168361", f"lbf/in2; {DEFINED}"),
        ("1 psi", "1000 Pa", "6.894757", "NIST SP 811 (2008) Appendix B: 6.894 757 E+03; recalled"),
        ("1 bar", "1 psi", "14.503773773", DEFINED),
        ("101325 Pa", "1 psi", "14.695948776", f"the standard atmosphere; {DEFINED}"),
        ("1.852 km/h", "1 m/s", "0.514444444444", "the knot, 1852 m/h; recomputed"),
        ("1 lb/ft", "1 kg/m", "1.48816394357", DEFINED),
        ("1 lbf/in", "1 N/mm", "0.175126835246", DEFINED),
        ("1 kg", "1 lb", "2.20462262185", DEFINED),
        ("100 hp", "1 kW", "74.569987", DEFINED),
        ("100 hp", "735.49875 W", "101.3869665", f'metric horsepower: {INDIA}, "European"'),
    ],
)
def test_printed_factors(ours: str, per: str, published: str, source: str) -> None:
    decimals = len(published.partition(".")[2])
    assert abs(amount(ours) / amount(per) - Fraction(published)) <= Fraction(1, 2 * 10**decimals), source


def test_pound_force_is_the_pound_under_standard_gravity() -> None:
    assert amount("1 lbf") / amount("1 lb") == amount("9.80665 m/s/s"), SI


def test_foot_pound_force() -> None:
    assert amount("1 ft") * amount("1 lbf") == amount("1.3558179483314004 Nm"), INDIA


def test_technical_units_follow_from_standard_gravity() -> None:
    kilogram_force = amount("1 kg") * amount("9.80665 m/s/s")
    assert kilogram_force / amount("1 cm2") == amount("98066.5 Pa"), f"kgf/cm2; {DEFINED}"
    metric_horsepower = 75 * kilogram_force * amount("1 m") / amount("1 s")
    assert metric_horsepower == amount("735.49875 W"), f'75 kgf m/s; {INDIA}, "European"'


def test_us_fluid_ounce_follows_from_the_us_gallon() -> None:
    assert amount("231 in3") / 128 == amount("29.5735295625 ml"), DEFINED


def test_horsepower_is_the_mechanical_one() -> None:
    assert amount("1 hp") != amount("746 W"), "the electric horsepower, NIST SP 811 B.8; read in a table"
    assert amount("1 hp") != amount("735.49875 W"), f"the metric horsepower, {INDIA}"


def test_the_foot_is_not_the_us_survey_foot() -> None:
    survey = Fraction(1200, 3937) * amount("1 m")
    assert amount("1 ft") != survey, "1200/3937 m; recomputed"
    assert abs(survey / amount("1 m") - Fraction("0.3048006096")) < Fraction(1, 10**10)


@each_row(
    "name",
    ["gal", "gallon", "floz", "cwt", "atm", "PS", "ch", "CV", "knot", "ton", "psia"],
)
def test_units_with_two_meanings_or_out_of_the_list_are_refused(name: str) -> None:
    """The UK gallon alone has two values in print: 4.546 09 L (1985 Act) and 4.546 087 L (superseded)."""
    with pytest.raises(LiteralError, match="is not a unit"):
        parse_literal(f"1 {name}", None)


PINT_NAMES = {
    "cc": "cm**3",
    "Nm": "newton*meter",
    "mm2": "mm**2",
    "cm2": "cm**2",
    "m2": "m**2",
    "in": "inch",
    "in2": "inch**2",
    "mm3": "mm**3",
    "cm3": "cm**3",
    "m3": "m**3",
    "in3": "inch**3",
    "mm4": "mm**4",
    "Hz": "1/s",
    "rpm": "1/min",  # revolutions, not radians
    "h": "hour",
    "dm2": "dm**2",
    "s2": "s**2",
    "ft2": "foot**2",
    "st": "stone",
    "kn": "knot",
    "gal_US": "gallon",
    "gal_imp": "imperial_gallon",
}
NOT_IN_PINT = ("deg", "degC", "dBA", "dBC", "dB", "cd")  # base units here


@pytest.fixture(scope="module")
def registry() -> Any:
    import pint  # loaded only by who runs this, for it takes long

    return pint.UnitRegistry(non_int_type=Fraction)


@pytest.mark.parametrize(
    "name",
    [
        name
        for name in (*QUANTITIES, *JOINED)
        if "deg" not in name and name[:2] not in ("dB", "cd", "ra", "lx") and name != "K"
    ],
)
def test_pint_agrees_exactly(name: str, registry: Any) -> None:
    first, *others = (f"({PINT_NAMES.get(part, part)})" for part in name.split("/"))
    theirs = registry.Quantity(Fraction(1), "/".join((first, *others))).to_base_units()
    unit = parse_unit(name, None)
    mass, length, time, _, _, current, *_ = unit.kind.dimension.exponents
    base = registry.Quantity(Fraction(1), f"kg**{mass} * m**{length} * s**{time} * A**{current}")
    assert theirs.dimensionality == base.dimensionality
    assert theirs.magnitude == unit.factor / Fraction(1000) ** length  # ours count mm


def test_a_radian_is_that_of_pint_to_30_digits() -> None:
    from mpmath import mp, workdps

    with workdps(40):
        assert (
            abs(
                mp.mpf(parse_unit("rad", None).factor.numerator) / parse_unit("rad", None).factor.denominator
                - 180 / mp.pi
            )
            < mp.mpf(10) ** -28
        )


def test_a_lux_is_a_candela_per_square_metre() -> None:
    """The SI Brochure, 9th edition, table 4: lx = cd sr/m2."""
    assert parse_unit("lx", None).kind == parse_unit("cd/m2", None).kind
    assert parse_unit("lx", None).factor == parse_unit("cd/m2", None).factor


def test_what_pint_is_not_asked_for_are_base_units() -> None:
    assert [parse_unit(name, None).factor for name in NOT_IN_PINT] == [1] * len(NOT_IN_PINT)


@each_row(
    ("code", "digits"),
    [("AUD", 2), ("EUR", 2), ("USD", 2), ("GBP", 2), ("INR", 2), ("JPY", 0), ("BHD", 3), ("BIF", 0)],
)
def test_minor_digits_of_currencies(code: str, digits: int) -> None:
    """ISO 4217 minor units; read in OPC 10000-3 clause 8.61, the last two in a public list of codes."""
    assert minor_digits(code) == digits


ELSEWHERE = (
    *(
        "sr",
        "lm",
        "mol",
        "atm",
        "torr",
        "mmHg",
        "cal",
        "kcal",
        "BTU",
        "acre",
        "ha",
    ),
    *(
        "PS",
        "T",
        "Wb",
        "S",
        "H",
        "pt",
        "qt",
        "bbl",
        "dyn",
        "erg",
        "P",
        "St",
        "dm3",
        "km2",
        "gr",
        "cwt",
        "fathom",
    ),
)


@pytest.mark.parametrize("name", ELSEWHERE)
def test_an_unknown_unit_never_hints_at_another_quantity(name: str, registry: Any) -> None:
    with pytest.raises(UnknownUnit) as caught:
        parse_unit(name, None)
    word, _, meant = caught.value.hint.partition(" ")
    if word != "perhaps":
        return
    symbol = re.sub(r"(?<=[a-z])([23])$", r"**\1", name)
    assert registry(symbol).dimensionality == registry(PINT_NAMES.get(meant, meant)).dimensionality, meant
