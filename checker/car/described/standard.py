"""The facts and lists that every pack has, whatever its formula.

A pack adds its own to any section and may say more of these (a range, an instrument). The ranges here only
catch slips such as a wheelbase in metres written as millimetres; a rule's limits are the pack's affair.

What describes where things sit and what was weighed is structure, not fact: no formula names it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from checker.car.described.vocabulary import FactType, ListType
from checker.quantities.dimension import MONEY
from checker.quantities.kind import DATE, NUMBER, PERCENT, TEXT, Kind, quantity
from checker.quantities.units import parse_unit

AXLES = ("front", "rear")
SIDES = ("left", "right")
WHEELS = ("front_left", "front_right", "rear_left", "rear_right")

STRUCTURE: dict[str, tuple[str, ...]] = {
    "weighing": ("instrument", "readings", "floor", "without", "since", "when"),
    "fuel": ("at",),
    "driver": ("at",),
    "wear": WHEELS,
    "tyres": (),
    "fluids": (),
    "centre_of_gravity": (),
    "instruments": (),
    "checks": (),
    "approvals": (),
    "unfinished": (),
    "planning": (),
    "formula": (),
}
"""Sections, and the keys in them, that are structure. A pack may not name a list or a fact like these."""

BEGINS = ("made", "issued")
"""Fields of entries that tell since when the thing has been there."""
PRICE_BASES = ("receipt", "price list", "quotation", "valuation")

STRUCTURAL_FIELDS = ("count", "at", "parts")
"""Keys of an entry that are no fields: a pack may not name a field like these."""

ANYONE_STATES = frozenset({"event.date", "event.session"})
"""Facts that may stand in the car's own file, whoever a pack reserves them for."""


def measured(
    name: str,
    unit: str,
    *,
    positive: bool = True,
    low: int | Fraction | None = None,
    high: int | Fraction | None = None,
    **more: Any,
) -> FactType:
    """The type of a quantity shown in that unit; `low` and `high` are in that unit too."""
    its_unit = parse_unit(unit, None)
    bounds = [None if bound is None else bound * its_unit.factor for bound in (low, high)]
    return FactType(name, its_unit.kind, its_unit, positive=positive, low=bounds[0], high=bounds[1], **more)


def _one_of(name: str, *words: str, **more: Any) -> FactType:
    return FactType(name, Kind("text", words=words), **more)


def standard_facts() -> dict[str, FactType]:
    """The standard facts by full name."""
    facts = (
        FactType("car.number", TEXT, about="The car's racing number, in quotes"),
        FactType("car.name", TEXT, optional=True, about="What the car is called"),
        FactType("car.chassis_built", DATE, happened=True, about="The day the chassis was built"),
        FactType("event.date", DATE, optional=True, about="The day the car is judged for"),
        FactType("event.session", TEXT, optional=True, about="The session the car is judged for"),
        measured("fuel.capacity", "L", high=1000, about="What the tank holds when full"),
        measured(
            "fuel.unusable",
            "L",
            high=100,
            default=Fraction(0),
            default_text="0 L",
            about="What stays in the tank when the engine runs dry",
        ),
        measured(
            "fuel.density",
            "kg/L",
            low=Fraction(6, 10),
            high=Fraction(95, 100),
            about="Mass of one litre of the fuel",
        ),
        measured(
            "driver.mass", "kg", low=20, high=250, about="The driver as seated, with all equipment worn"
        ),
        _signed(
            "fuel.temperature", "degC", -40, 80, "Of the fuel on board; warm fuel is lighter by the litre"
        ),
        _signed(
            *("fuel.density_temperature", "degC", -40, 80),
            "The temperature that the density is stated for; 15 degC if not said",
        ),
        FactType(
            "fuel.expansion",
            PERCENT,
            parse_unit("%", None),
            positive=True,
            low=Fraction(0),
            high=Fraction(1, 100),
            optional=True,
            about="What the fuel gains in volume for each degree; 0.095 % if not said",
        ),
        FactType("driver.born", DATE, happened=True, optional=True, about="The driver's day of birth"),
        measured("weighing.fuel", "L", high=1000, about="Fuel on board when weighed"),
        _one_of("weighing.driver", "out", "aboard", about="Where the driver was when the car was weighed"),
        FactType("weighing.tyres", TEXT, about="The tyre set on the car when weighed and measured"),
        _one_of(
            "weighing.wear",
            "new",
            "worn",
            default="new",
            default_text="new",
            about="Whether tyres and brakes were new or worn when weighed",
        ),
        *_dimensions(),
    )
    return {fact.name: fact for fact in facts}


def _signed(name: str, unit: str, low: int, high: int, about: str) -> FactType:
    """What may be below 0, and is stated where it is worth it."""
    return measured(name, unit, positive=False, low=low, high=high, optional=True, about=about)


def _dimensions() -> Iterator[FactType]:
    """The levers, and what moves an axle's contact centres."""
    for side in SIDES:
        about = f"Between the hub centres, {side} side"
        yield measured(f"dimensions.wheelbase_{side}", "mm", low=500, high=6000, about=about)
    for axle in AXLES:
        about = f"Outside to outside of the {axle} tyres at hub height"
        yield measured(f"dimensions.{axle}_width_over_tyres", "mm", low=300, high=4000, about=about)
    for axle in AXLES:
        about = f"Of each {axle} wheel, negative where its top leans in; it needs the tyre's radius"
        yield _signed(f"dimensions.{axle}_camber", "deg", -15, 15, about)
        about = f"How far the car's centre line lies left of the middle between the {axle} wheels"
        yield _signed(f"dimensions.{axle}_centre_line_offset", "mm", -500, 500, about)


def standard_lists(currency: str | None) -> dict[str, ListType]:
    """The standard lists by name; only a pack with a currency has prices.

    `count`, `at` and `parts` go without saying: they are structure.
    """
    day_or_month = ("day", "month")
    prices = [
        _one_of("price_basis", *PRICE_BASES, about="What the price rests on"),
        FactType("price_date", DATE, happened=True, about="The day of the receipt or list"),
        FactType("receipt", TEXT, about="The receipt's reference"),
    ]
    if currency:
        unit, least = parse_unit(currency, currency), Fraction(1, 100)
        price = FactType("price", quantity(MONEY), unit, positive=True, low=least, about="For one piece")
        prices.insert(0, price)
    components = (
        FactType("name", TEXT, about="What it is called"),
        FactType("category", Kind("text", tree="category"), about="In full, as brakes/disc"),
        measured("mass", "kg", high=2000, of_a_thing=True, about="Of one piece"),
        *prices,
        FactType("materials", Kind("text", tree="material"), several=True, about="All that it is made of"),
        FactType("made", DATE, happened=True, precision=day_or_month, about="Day or month of manufacture"),
        FactType("expires", DATE, precision=day_or_month, about="Last day or month that its label allows"),
        FactType("standards", TEXT, several=True, about="Standards on its label"),
    )
    ballast = (
        FactType("label", TEXT, about="The mark on the piece"),
        measured("mass", "kg", high=1000, of_a_thing=True, about="Of one piece"),
        FactType("fixings", NUMBER, whole=True, high=Fraction(100), about="Bolts that hold it"),
        FactType("material", Kind("text", tree="material"), known_only=True, about="What it is made of"),
    )
    documents = (
        FactType("kind", TEXT, about="What paper it is"),
        FactType("reference", TEXT, about="Its number"),
        FactType("issued", DATE, happened=True, about="Day of issue"),
        FactType("expires", DATE, precision=day_or_month, about="Last day or month that it is valid"),
    )
    return {
        name: ListType(name, {field.name: field for field in fields}, known_by)
        for name, fields, known_by in (
            ("components", components, "name"),
            ("ballast", ballast, "label"),
            ("documents", documents, "kind"),
        )
    }
