"""Fields that are worked out from others are not declared."""

from __future__ import annotations

from dataclasses import replace

import pytest

from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import ListType
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import NUMBER, Unknown
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from tests.car.cars import HOLES, vocabulary

DOUBLE = replace(
    HOLES.fields["width"],
    name="double",
    formula=Expression(NUMBER, lambda scene: 2 * scene.names[""].value("width"), text="2 * width"),
)
WITH_DOUBLE = replace(
    vocabulary(),
    lists={"holes": ListType("holes", {**HOLES.fields, "double": DOUBLE})},
)


def test_a_worked_out_field_is_not_declared() -> None:
    text = b'formula: dunlin\ncar: {number: "27"}\nholes: [{width: 9 mm, double: 18 mm}]\n'
    with pytest.raises(InputError) as caught:
        load_car(parse_document(text, "car.yaml", "CD"), WITH_DOUBLE)
    (problem,) = caught.value.problems
    assert problem.code == "CD218"
    assert "holes[0].double is worked out" in problem.message
    assert str(problem.span) == "car.yaml:3:23"


def test_its_value_is_not_for_the_entry_to_say() -> None:
    text = b'formula: dunlin\ncar: {number: "27"}\nholes: [{width: 9 mm}]\n'
    (hole,) = load_car(parse_document(text, "car.yaml", "CD"), WITH_DOUBLE).lists["holes"]
    assert hole.value("width") == 9
    assert isinstance(hole.value("double"), Unknown)
