"""A unit is one line of the table of units: all that reads, shows and explains units knows it from there."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from fractions import Fraction

import pytest

from checker.pack.editors.declaration_schema import declaration_schema
from checker.quantities.dimension import LENGTH
from checker.quantities.literal import parse_literal
from checker.quantities.misread import LiteralError
from checker.quantities.unit_table import QUANTITIES
from checker.quantities.units import base_unit, parse_unit, units_of
from tests.kinds.workbench import judge, pack_of, shown

CHECK = "{limit: body.width, at_most: 2 smoot}"
FACTS = "{body.width: {unit: smoot}}"


@pytest.fixture
def smoot(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Five feet and seven inches, as students once measured a bridge."""
    caches = (parse_unit, units_of, base_unit)
    monkeypatch.setitem(QUANTITIES, "smoot", (LENGTH, 67 * Fraction("25.4")))
    for cache in caches:
        cache.cache_clear()
    yield
    for cache in caches:
        cache.cache_clear()


def test_without_its_line_it_is_no_unit() -> None:
    with pytest.raises(LiteralError, match="smoot is not a unit"):
        parse_literal("2 smoot", None)


@pytest.mark.usefixtures("smoot")
def test_one_line_makes_a_unit() -> None:
    assert parse_literal("2 smoot", None).value == 134 * Fraction("25.4")
    assert parse_literal("1 smoot 2 in", None).value == 69 * Fraction("25.4")
    assert parse_unit("smoot/s", None).kind == parse_unit("m/s", None).kind
    assert "smoot" in units_of(parse_unit("mm", None).kind, None)
    found = judge(CHECK, {"body": {"width": "2.5 smoot"}}, FACTS)
    assert shown(found) == ("fail", "-0.5 smoot")
    assert shown(judge(CHECK, {"body": {"width": "134 in"}}, FACTS)) == ("pass", "0 smoot")
    schema = declaration_schema(pack_of(CHECK, FACTS))
    patterns = re.findall(r'"pattern": "([^"]*)"', json.dumps(schema))
    assert any("smoot" in pattern for pattern in patterns)
