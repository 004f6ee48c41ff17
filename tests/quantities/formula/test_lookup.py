"""Tables: their keys, rows and columns, and keys that find no row."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from checker.quantities.dimension import MASS
from checker.quantities.formula.scope import Cell, NoLimit, TableFunction
from checker.quantities.kind import NUMBER, Kind, Unknown, quantity
from tests.examples import each_row
from tests.quantities.formula.workshop import SCOPE, absent, compiled, let, problems, reasons, value, wrong


def test_a_table_with_one_column() -> None:
    text = "minimum(engine.capacity) + 10 kg"
    assert compiled(text).kind == quantity(MASS)
    assert "minimum" in compiled(text).uses
    assert value(text, engine__capacity=Fraction(1300 * 1000)) == 570
    assert value("minimum(1600 cc)") == 1290 * Fraction("0.45359237")
    assert absent(value(text)) == ("engine.capacity",)
    assert reasons(value("minimum(3000 cc)")) == ("table minimum has no row for that",)


def test_no_limit_is_kept_as_a_bound_and_is_unknown_elsewhere() -> None:
    assert isinstance(value("minimum(2000 cc)"), NoLimit)
    assert isinstance(value("minimum(2000 cc) if true else 3 kg"), NoLimit)
    for text in (
        "minimum(2000 cc) + 1 kg",
        "-minimum(2000 cc)",
        "max(minimum(2000 cc), 1 kg)",
        "abs(minimum(2000 cc))",
    ):
        found = value(text)
        assert isinstance(found, Unknown)
        assert not isinstance(found, NoLimit)
        assert found.told() == ("the table sets no limit",)


def test_a_table_with_several_columns() -> None:
    assert compiled("tyre(engine.position, engine.boosted)").kind == Kind("row", items="tyre")
    given: dict[str, Any] = {"engine__position": "rear", "engine__boosted": True}
    assert value("tyre(engine.position, engine.boosted).width", **given) == 8 * Fraction("25.4")
    assert value("tyre(engine.position, engine.boosted).makers", **given) == ("Alder", "Brock")
    assert value("count(m for m in tyre(engine.position, engine.boosted).makers)", **given) == 2
    scope = let("row", "tyre(engine.position, engine.boosted)")
    assert value("row.width", scope=scope, **given) == 8 * Fraction("25.4")
    assert absent(value("row.width", scope=scope)) == ("engine.position", "engine.boosted")
    assert wrong("row.widht", scope) == [(201, "row.widht")]
    assert problems("row.widht", scope)[0].hint == "Did you mean 'width'?"
    assert wrong("row + 1", scope) == [(302, "row")]
    assert wrong("tyre('front', true).value") == [(201, "tyre('front', true).value")]
    assert wrong("tyre.width") == [(201, "tyre.width")]


@each_row(
    ("text", "number", "at"),
    [
        ("minimum(3 kg)", 301, "3 kg"),
        ("minimum(3)", 301, "3"),
        ("minimum('a')", 302, "'a'"),
        ("minimum(3 %)", 302, "3 %"),
        ("minimum(brakes.pad)", 304, "brakes.pad"),
        ("tyre(1, 2)", 302, "1"),
        ("tyre('front', 'a')", 302, "'a'"),
        ("tyre('mid', true)", 404, "'mid'"),
        ("minimum(minimum(1300 cc))", 301, "minimum(1300 cc)"),
        ("minimum(1300 cc).value", 201, "minimum(1300 cc).value"),
    ],
)
def test_keys_of_the_wrong_kind(text: str, number: int, at: str) -> None:
    assert wrong(text)[0] == (number, at)


def test_all_wrong_keys_are_told() -> None:
    assert wrong("tyre(1, 'a')") == [(302, "1"), (302, "'a'")]


def test_a_key_made_with_roots_stands_on_the_edge_of_a_band_where_it_should() -> None:
    capacity = "sqrt(1690000) * sqrt(2) * sqrt(2) / 2 * 1 cc"
    assert value(f"minimum({capacity})") == 560
    assert value("minimum(sqrt(2) * sqrt(2) * 0 * 1 cc)") == 560


def test_a_key_that_its_tree_does_not_know_finds_no_row() -> None:
    scope = replace(SCOPE, tables={"by_material": BY_MATERIAL})
    assert value("by_material(seat.material)", scope=scope, seat__material="Steel") == 3
    assert value("by_material(seat.material)", scope=scope, seat__material="aluminium") == 3
    told = value("by_material(seat.material)", scope=scope, seat__material="stele")
    assert reasons(told) == ("'stele' is no material that this pack knows; did you mean 'steel'?",)
    assert absent(value("by_material(seat.material)", scope=scope)) == ("seat.material",)


BY_MATERIAL = TableFunction(
    "by_material",
    (("material", Kind("any")),),
    {"value": NUMBER},
    lambda _: {"value": Cell(Fraction(3))},
)
