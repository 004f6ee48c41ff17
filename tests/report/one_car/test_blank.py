"""A blank declaration can be filled in, and is worth nothing until it is."""

from __future__ import annotations

import re
from itertools import count
from typing import Any

import pytest

from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import FactType
from checker.pack.editions.loading import load_edition
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.printer import to_yaml
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.report.one_car.blank import blank_declaration
from tests.building import pack_of_check

pytestmark = pytest.mark.usefixtures("at_root")

SMALL = """
facts: {"body.width": {unit: mm, about: "Over \\u2264 all"}}
lists: {rods: {known_by: name, fields: {name: {type: text}, bore: {unit: mm}}}}
categories: [body/panel]
materials: {steel: []}
"""


def dunlin() -> Pack:
    return load_edition("rulepacks/dunlin/2026.1.yaml")


def small() -> Pack:
    return pack_of_check("{limit: body.width, at_most: 10 mm}", SMALL)


def read(text: str) -> Document:
    return parse_document(text.encode(), "blank.yaml", "CD")


def taken_in(text: str) -> str:
    """The blank with every line to fill in made part of it: those with no blank after the #."""
    return re.sub(r"^(\s*)#(?! (?! ))", r"\1", text, flags=re.MULTILINE)


@pytest.mark.parametrize("make", [dunlin, small])
def test_with_a_number_it_is_a_declaration_that_shows_nothing(make: Any) -> None:
    pack = make()
    car = load_car(read(blank_declaration(pack).replace('number: ""', 'number: "7"')), pack.vocabulary)
    assert car.number == "7"
    assert not car.lists
    assert {name for name, stated in car.facts.items() if stated.span is not None} == {"car.number"}


def test_untouched_it_is_read_and_states_nothing() -> None:
    car = load_car(read(blank_declaration(small())), small().vocabulary)
    assert car.number == ""
    assert not [name for name, stated in car.facts.items() if stated.span is not None]


def test_for_an_official_it_wants_a_number() -> None:
    with pytest.raises(InputError) as caught:
        load_car(read(blank_declaration(small())), small().vocabulary, audience="official")
    assert [problem.code for problem in caught.value.problems] == ["CD212"]


@pytest.mark.parametrize("make", [dunlin, small])
def test_a_line_that_is_taken_in_but_left_empty_is_a_mistake(make: Any) -> None:
    pack = make()
    with pytest.raises(InputError) as raised:
        load_car(read(taken_in(blank_declaration(pack))), pack.vocabulary)
    empty = [p for p in raised.value.problems if "nothing is written" in p.message]
    assert len(empty) > 20
    assert not [p for p in raised.value.problems if p.code == "CD201"], (
        "the blank names a key that nobody knows"
    )


@pytest.mark.parametrize("make", [dunlin, small])
def test_every_line_can_be_filled_in(make: Any) -> None:
    pack = make()
    document = read(taken_in(blank_declaration(pack)))
    filled = to_yaml(_filled(document.data, (), pack))
    car = load_car(read(filled), pack.vocabulary)
    stated = {name for name, one in car.facts.items() if one.span is not None}
    assert stated == set(pack.vocabulary.facts)
    for name, its_list in pack.vocabulary.lists.items():
        entry = car.lists[name][0]
        declared = {f.name for f in its_list.fields.values() if f.formula is None}
        assert declared <= set(entry.fields)
    assert {"fuel.at.left_of_centre", "tyres.dry.rear.section", "wear.rear_right"} <= set(car.structure)
    assert car.weighings == 2, "one as marked, one with the pads swapped"
    assert car.approvals == ("A-2026-014",)


def _filled(data: Any, path: tuple[str, ...], pack: Pack) -> Any:
    """The data with a sound value in every place that is empty."""
    if isinstance(data, dict):
        return {key: _filled(value, (*path, key), pack) for key, value in data.items()}
    if isinstance(data, list):
        return [_filled(value, path, pack) for value in data]
    return data if data else _value(path, pack)


def _value(path: tuple[str, ...], pack: Pack) -> Any:
    fact = pack.vocabulary.facts.get(".".join(path))
    its_list = pack.vocabulary.lists.get(path[0])
    if fact is None and its_list is not None and len(path) == 2:
        fact = its_list.fields.get(path[1])
    if path[-1] == "count":
        return 1
    if path == ("car", "number"):
        return "7"
    if fact is not None:
        return _of_type(fact, pack)
    if path[0] == "approvals":
        return "A-2026-014"
    if path[:2] == ("weighing", "since") and path[-1] in _DONE:
        return _DONE[path[-1]]
    if path[0] == "planning" and path[-1] in _PLANNED:
        return _PLANNED[path[-1]] if path[-1] != "label" else f"P{next(_NUMBERS)}"
    return {"instrument": "home pads", "parts": []}.get(path[-1], _SIZES.get(path[-1], "1 kg"))


_DONE = {"added": "word", "moved": "driver", "label": "B9"}
_PLANNED = {
    "name": "left box",
    "label": "",
    "pieces": 2,
    "fixings": 3,
    "what": "word",
    "may_come_off": "word",
    "fuel_per_lap": "0.2 L",
    "laps": 20,
    "start_at_least": "5 L",
    "start_at_most": "6 L",
}
_NUMBERS = count(1)
_SIZES = {
    "behind_front_axle": "1000 mm",
    "left_of_centre": "10 mm",
    "section": "90 mm",
    **dict.fromkeys(("across", "along", "pad_height"), "2 mm"),
    "stiffness": "25 N/mm",
    "height": "420 mm",
    **dict.fromkeys(("front_left", "front_right", "rear_left", "rear_right"), "2 kg"),
}


def _of_type(fact: FactType, pack: Pack) -> Any:
    if fact.name == "weighing.tyres":
        return "dry"
    if fact.unit is not None:
        value = fact.low if fact.low is not None else 1000 * fact.unit.factor
        if fact.name in ("fuel.unusable", "weighing.fuel"):
            value = fact.unit.factor / 10
        return f"{value / fact.unit.factor} {fact.unit.name}"
    if fact.kind.tree is not None:
        tree = pack.vocabulary.tree(fact.kind)
        return tree.words[-1] if tree is not None and tree.words else "word"
    if fact.kind.words:
        return fact.kind.words[0]
    if fact.kind.name == "date":
        return {"day": "2026-05-03", "month": "2026-05", "year": "2026"}[fact.precision[0]]
    if fact.kind.name == "number":
        return int(fact.low) if fact.low is not None else 1
    return {"truth": True, "text": "word"}[fact.kind.name]


def test_it_tells_units_words_and_how_things_are_measured() -> None:
    text = " ".join(blank_declaration(dunlin()).replace("#", " ").split())
    for told in (
        "position: front, mid or rear",
        "Swept volume of all cylinders. Measured with the burette; engine cold",
        "capacity: cc, 500 cc to 3000 cc",
        "Stated by an official",
        "carbon fibre",
        "suspension/damper",
        "Let nobody get in, out or under",
    ):
        assert told in text


def test_sections_stand_in_the_packs_order() -> None:
    text = blank_declaration(dunlin())
    order = [
        text.index(f"\n{section}:")
        for section in ("car", "weighing", "engine", "noise", "cage", "transponder")
    ]
    assert order == sorted(order)
