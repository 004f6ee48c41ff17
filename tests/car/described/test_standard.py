"""What every pack has without saying so."""

from __future__ import annotations

from checker.car.described.standard import STRUCTURAL_FIELDS, STRUCTURE, standard_facts, standard_lists
from checker.car.described.vocabulary import FactType


def test_the_standard_facts() -> None:
    assert sorted(standard_facts()) == sorted(
        (
            *("car.number", "car.name", "car.chassis_built", "event.date", "event.session"),
            *("fuel.capacity", "fuel.unusable", "fuel.density", "driver.mass", "driver.born"),
            *("weighing.fuel", "weighing.driver", "weighing.tyres", "weighing.wear"),
            *("dimensions.wheelbase_left", "dimensions.wheelbase_right"),
            *("dimensions.front_width_over_tyres", "dimensions.rear_width_over_tyres"),
            *("dimensions.front_camber", "dimensions.rear_camber"),
            *("dimensions.front_centre_line_offset", "dimensions.rear_centre_line_offset"),
            *("fuel.temperature", "fuel.density_temperature", "fuel.expansion"),
        )
    )


def test_the_standard_lists() -> None:
    assert {name: tuple(its.fields) for name, its in standard_lists("GBP").items()} == {
        "components": (
            *("name", "category", "mass", "price", "price_basis", "price_date", "receipt"),
            *("materials", "made", "expires", "standards"),
        ),
        "ballast": ("label", "mass", "fixings", "material"),
        "documents": ("kind", "reference", "issued", "expires"),
    }
    assert {name: its.known_by for name, its in standard_lists("GBP").items()} == {
        "components": "name",
        "ballast": "label",
        "documents": "kind",
    }


def test_without_a_currency_there_are_no_prices() -> None:
    assert "price" not in standard_lists(None)["components"].fields


def test_every_standard_fact_and_field_is_explained() -> None:
    fields = [field for its in standard_lists("GBP").values() for field in its.fields.values()]
    for fact in (*standard_facts().values(), *fields):
        assert isinstance(fact, FactType)
        assert fact.about, fact.name


def test_facts_and_structure_do_not_share_names() -> None:
    structural = {f"{section}.{key}" for section, keys in STRUCTURE.items() for key in keys}
    assert not structural & set(standard_facts())
    fields = {name for its in standard_lists("GBP").values() for name in its.fields}
    assert not set(STRUCTURAL_FIELDS) & fields
