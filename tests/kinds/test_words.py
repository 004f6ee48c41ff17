"""Kinds `allowed`, `banned` and `required`: words, families, lists of them, and materials that nobody knows."""

from __future__ import annotations

from typing import Any

import pytest

from checker.report.words.acts import act_words
from checker.report.words.findings import found_words
from tests.examples import each_row
from tests.kinds.workbench import codes, judge, problems, shown

FACTS = """{
  body.kind: {one_of: [open, closed]}, body.seats: {type: count}, paint.colours: {type: text, several: true},
  floor.material: {type: material}, floor.layers: {type: material, several: true}, floor.place: {type: category},
  cockpit.controls: {one_of: [brake bias, mirror, damper], several: true}, note.extra: {type: text}
}"""
MORE = """{
  lists: {
    components: {fields: {forged: {type: truth, default: false}, finish: {type: text}}},
    lamps: {known_by: name, fields: {name: {type: text}, colour: {one_of: [red, white]}, marks: {type: text, several: true}}},
    nameless: {fields: {size: {unit: mm}}}
  },
  categories: [brakes/disc, brakes/pad, wheels, safety/kill switch, safety/suit, safety/suit/lined, traction control],
  materials: {steel: [mild steel], light metal: [aluminium, exotic], exotic: [titanium], carbon composite: [carbon fibre]},
  tables: {
    pedal: {by: kind, rows: [{kind: open, value: [steel, light metal]}, {kind: closed, value: no limit}]},
    kit: {by: kind, rows: [{kind: open, value: [safety/suit, safety/kill switch]}, {kind: closed, value: [safety/suit]}]},
    wrong: {by: kind, rows: [{kind: any, value: [steel, unobtainium]}]},
    paper: {by: kind, rows: [{kind: open, value: no limit}, {kind: closed, value: [log book]}]}
  }
}"""


def told(check: str, **car: Any) -> tuple[str, str | None]:
    return shown(judge(check, car, FACTS, MORE))


def part(name: str, category: str | None, *materials: str, **more: Any) -> dict[str, Any]:
    entry: dict[str, Any] = {"name": name, **({"category": category} if category else {})}
    if materials:
        entry["materials"] = list(materials)
    return {**entry, **more}


DISC = part("disc", "brakes/disc", "mild steel")
EXOTIC = part("pad", "brakes/pad", "titanium")
MISSPELT = part("pad", "brakes/pad", "titanum")
WHEEL = part("wheel", "wheels", "aluminium", count=4)


@each_row(
    ("check", "components", "expected"),
    [
        ("{banned: [exotic]}", [DISC, WHEEL], ("pass", "0")),
        ("{banned: [exotic]}", [DISC, EXOTIC], ("fail", "-1")),
        ("{banned: [light metal]}", [WHEEL, EXOTIC], ("fail", "-5")),  # four wheels and a pad
        ("{banned: [EXOTIC]}", [DISC, EXOTIC], ("fail", "-1")),
        ("{banned: [wheels]}", [WHEEL], ("fail", "-4")),
        ("{banned: [brakes]}", [DISC, EXOTIC, WHEEL], ("fail", "-2")),
        ("{banned: [traction control]}", [DISC], ("pass", "0")),
        ("{banned: [wheels, exotic]}", [DISC, EXOTIC, WHEEL], ("fail", "-5")),
        ("{banned: [exotic, light metal]}", [EXOTIC], ("fail", "-1")),
        ("{banned: [exotic]}", [], ("pass", "0")),
        ("{banned: [exotic]}", None, ("not_shown", None)),
        ("{banned: [exotic]}", [MISSPELT], ("not_shown", None)),
        ("{banned: [exotic]}", [MISSPELT, EXOTIC], ("fail", "-1")),
        ("{banned: [exotic]}", [part("pad", "brakes/pad")], ("not_shown", None)),
        ("{banned: [exotic]}", [part("pad", None, "steel")], ("pass", "0")),
        # each word only in its own tree
        ("{banned: [traction control]}", [MISSPELT], ("pass", "0")),
        ("{banned: [traction control]}", [part("pad", "brakes/pad")], ("pass", "0")),
        ("{banned: [traction control]}", [part("box", None, "steel")], ("not_shown", None)),
        ("{banned: [traction control, exotic]}", [part("box", None, "titanium")], ("fail", "-1")),
        # everything is made of something
        ("{banned: [exotic]}", [part("pad", "brakes/pad", materials=[])], ("not_shown", None)),
        ("{within: brakes, banned: [exotic]}", [DISC, WHEEL], ("pass", "0")),
        ("{within: brakes, banned: [light metal]}", [DISC, WHEEL], ("pass", "0")),
        ("{within: brakes, banned: [exotic]}", [EXOTIC, EXOTIC | {"count": 2}], ("fail", "-3")),
        ("{within: brakes, banned: [exotic]}", [WHEEL], ("not_shown", None)),
        ("{within: brakes, banned: [exotic], if_none: pass}", [WHEEL], ("pass", "0")),
        (
            "{within: wheels, banned: [light metal], unless: forged}",
            [WHEEL | {"forged": True}],
            ("not_applicable", None),
        ),
        ("{within: wheels, banned: [light metal], unless: forged}", [WHEEL], ("fail", "-4")),
        (
            "{banned: [light metal], unless: category in 'wheels' and forged}",
            [WHEEL | {"forged": True}, DISC],
            ("pass", "0"),
        ),
        (
            "{banned: [light metal], unless: category in 'wheels' and forged}",
            [WHEEL | {"forged": True}, EXOTIC],
            ("fail", "-1"),
        ),
        ("{banned: [light metal], where: mass > 1 kg}", [WHEEL | {"mass": "0.5 kg"}], ("pass", "0")),
        ("{banned: [light metal], where: mass > 1 kg}", [WHEEL | {"mass": "2 kg"}], ("fail", "-4")),
        ("{banned: [light metal], where: mass > 1 kg}", [WHEEL], ("not_shown", None)),
        ("{each: components, banned: [brakes/pad], of: category}", [EXOTIC, DISC], ("fail", "-1")),
        ("{each: components, banned: [shiny], of: finish}", [DISC | {"finish": "Shiny"}], ("fail", "-1")),
        ("{each: components, banned: [shiny], of: finish}", [DISC], ("not_shown", None)),
        # inside a combination an item offends by each of its words
        (
            "{within: brakes, all_of: [{banned: [exotic, carbon composite]}]}",
            [part("pad", "brakes/pad", "titanium", "carbon fibre", count=2)],
            ("fail", "-2"),
        ),
    ],
)
def test_banned(check: str, components: Any, expected: tuple[str, str | None]) -> None:
    assert told(check, **({} if components is None else {"components": components})) == expected


def test_every_offender_is_named_with_what_to_do() -> None:
    found = judge("{banned: [light metal]}", {"components": [WHEEL, EXOTIC]}, FACTS, MORE)
    assert "wheel: aluminium (light metal) is banned" in found_words(found.finding)
    assert "pad: titanium (light metal) is banned" in found_words(found.finding)
    assert "wheel: make it of something other than aluminium (light metal)" in act_words(found.act)


def test_parts_are_seen_and_stand_as_often_as_their_component() -> None:
    bell = part("bell", None, "titanium")
    found = judge("{banned: [exotic]}", {"components": [DISC | {"count": 2, "parts": [bell]}]}, FACTS, MORE)
    assert shown(found) == ("fail", "-2")
    assert found.item == "bell"


@each_row(
    ("check", "car", "expected"),
    [
        ("{within: brakes, allowed: [steel]}", {"components": [DISC]}, ("pass", "0")),
        ("{within: brakes, allowed: [steel]}", {"components": [DISC, EXOTIC]}, ("fail", "-1")),
        ("{within: brakes, allowed: [steel, exotic]}", {"components": [DISC, EXOTIC]}, ("pass", "0")),
        (
            "{within: brakes, allowed: [steel]}",
            {"components": [part("x", "brakes", "titanium", "steel", "carbon fibre", count=3)]},
            ("fail", "-3"),
        ),
        ("{within: brakes, allowed: [steel]}", {"components": [MISSPELT]}, ("not_shown", None)),
        ("{within: brakes, allowed: [steel]}", {"components": [part("x", "brakes")]}, ("not_shown", None)),
        (
            "{within: brakes, allowed: [steel]}",
            {"components": [part("x", "brakes", materials=[])]},
            ("not_shown", None),
        ),
        (
            "{within: brakes, allowed: pedal(body.kind)}",
            {"body": {"kind": "open"}, "components": [EXOTIC]},
            ("pass", "0"),
        ),
        (
            "{within: brakes, allowed: pedal(body.kind)}",
            {"body": {"kind": "open"}, "components": [part("x", "brakes", "carbon fibre")]},
            ("fail", "-1"),
        ),
        ("{within: brakes, allowed: pedal(body.kind)}", {"components": [DISC]}, ("not_shown", None)),
        (
            "{allowed: [red, white], of: paint.colours}",
            {"paint": {"colours": ["Red", "white"]}},
            ("pass", "0"),
        ),
        (
            "{allowed: [red, white], of: paint.colours}",
            {"paint": {"colours": ["red", "blue", "pink"]}},
            ("fail", "-2"),
        ),
        ("{allowed: [red, white], of: paint.colours}", {"paint": {"colours": []}}, ("pass", "0")),
        ("{allowed: [red, white], of: paint.colours}", {}, ("not_shown", None)),
        ("{allowed: [brake bias], of: cockpit.controls}", {"cockpit": {"controls": []}}, ("pass", "0")),
        (
            "{allowed: [brake bias], of: cockpit.controls}",
            {"cockpit": {"controls": "mirror"}},
            ("fail", "-1"),
        ),
        ("{allowed: [light metal], of: floor.material}", {"floor": {"material": "titanium"}}, ("pass", "0")),
        (
            "{allowed: [light metal], of: floor.layers}",
            {"floor": {"layers": ["titanium", "steel"]}},
            ("fail", "-1"),
        ),
        ("{allowed: [light metal], of: floor.layers}", {"floor": {"layers": []}}, ("not_shown", None)),
        ("{banned: [light metal], of: floor.layers}", {"floor": {"layers": []}}, ("not_shown", None)),
        (
            "{allowed: [light metal], of: floor.material}",
            {"floor": {"material": "unheard of"}},
            ("not_shown", None),
        ),
        ("{allowed: [brakes], of: floor.place}", {"floor": {"place": "brakes/disc"}}, ("pass", "0")),
        (
            "{each: lamps, allowed: [red], of: colour}",
            {"lamps": [{"name": "a", "colour": "white"}]},
            ("fail", "-1"),
        ),
        ("{allowed: [near, far], of: lamps}", {"lamps": [{"name": "near"}, {"name": "Far"}]}, ("pass", "0")),
        (
            "{allowed: [near, far], of: lamps}",
            {"lamps": [{"name": "near"}, {"name": "side"}]},
            ("fail", "-1"),
        ),
        ("{allowed: [near, far], of: lamps}", {"lamps": []}, ("pass", "0")),
        ("{allowed: [near, far], of: lamps}", {}, ("not_shown", None)),
        (
            "{each: lamps, allowed: [x, y], of: marks}",
            {"lamps": [{"name": "a", "marks": ["x", "z", "q"]}]},
            ("fail", "-1"),
        ),
        # a table that sets no limit
        (
            "{within: brakes, allowed: pedal(body.kind)}",
            {"body": {"kind": "closed"}, "components": [EXOTIC]},
            ("pass", None),
        ),
        (
            "{within: brakes, banned: pedal(body.kind)}",
            {"body": {"kind": "closed"}, "components": [EXOTIC]},
            ("pass", None),
        ),
    ],
)
def test_allowed(check: str, car: dict[str, Any], expected: tuple[str, str | None]) -> None:
    assert told(check, **car) == expected


SWITCH = part("switch", "safety/kill switch")
LINED = part("overall", "safety/suit/lined")


@each_row(
    ("check", "car", "expected"),
    [
        ("{required: [safety/kill switch]}", {"components": [SWITCH]}, ("pass", "0")),
        ("{required: [safety/kill switch]}", {"components": [DISC]}, ("fail", "-1")),
        ("{required: [safety/kill switch]}", {"components": []}, ("fail", "-1")),
        ("{required: [safety/kill switch]}", {}, ("not_shown", None)),
        ("{required: [safety/kill switch]}", {"components": [part("box", None)]}, ("not_shown", None)),
        ("{required: [safety/kill switch]}", {"components": [part("box", None), SWITCH]}, ("pass", "0")),
        (
            "{required: [safety/suit]}",
            {"components": [LINED]},
            ("pass", "0"),
        ),  # the better serves as the lesser
        ("{required: [safety/suit/lined]}", {"components": [part("overall", "safety/suit")]}, ("fail", "-1")),
        ("{required: [safety/suit, safety/kill switch]}", {"components": [LINED]}, ("fail", "-1")),
        (
            "{required: [safety/suit, safety/kill switch], at_least: 1}",
            {"components": [LINED]},
            ("pass", "0"),
        ),
        (
            "{required: [safety/suit, safety/kill switch, wheels], at_least: 2}",
            {"components": [DISC]},
            ("fail", "-2"),
        ),
        (
            "{required: [safety/suit, safety/kill switch], at_least: body.seats}",
            {"components": [LINED], "body": {"seats": 2}},
            ("fail", "-1"),
        ),
        (
            "{required: [safety/suit, safety/kill switch], at_least: body.seats}",
            {"components": [LINED]},
            ("not_shown", None),
        ),
        ("{required: kit(body.kind)}", {"components": [LINED], "body": {"kind": "closed"}}, ("pass", "0")),
        ("{required: kit(body.kind)}", {"components": [LINED], "body": {"kind": "open"}}, ("fail", "-1")),
        ("{required: kit(body.kind)}", {"components": [LINED]}, ("not_shown", None)),
        ("{required: [log book], of: documents}", {"documents": [{"kind": "Log Book"}]}, ("pass", "0")),
        ("{required: [log book], of: documents}", {"documents": []}, ("fail", "-1")),
        ("{required: [log book], of: documents}", {"documents": [{"reference": "7"}]}, ("not_shown", None)),
        (
            "{required: paper(body.kind), of: documents}",
            {"documents": [], "body": {"kind": "open"}},
            ("pass", None),
        ),
        ("{required: [near], of: lamps}", {"lamps": [{"name": "near"}]}, ("pass", "0")),
        ("{required: [red], of: paint.colours}", {"paint": {"colours": ["red", "blue"]}}, ("pass", "0")),
        ("{required: [red], of: paint.colours}", {"paint": {"colours": []}}, ("fail", "-1")),
        (
            "{required: [light metal], of: floor.layers}",
            {"floor": {"layers": ["steel", "titanium"]}},
            ("pass", "0"),
        ),
        (
            "{required: [light metal], of: floor.layers}",
            {"floor": {"layers": ["steel", "unheard of"]}},
            ("not_shown", None),
        ),
        (
            "{each: lamps, required: [x], of: marks}",
            {"lamps": [{"name": "a", "marks": ["y"]}]},
            ("fail", "-1"),
        ),
    ],
)
def test_required(check: str, car: dict[str, Any], expected: tuple[str, str | None]) -> None:
    assert told(check, **car) == expected


@pytest.mark.parametrize("check", ["{banned: [near], of: lamps}", "{allowed: [far], of: lamps}"])
def test_an_entry_that_stands_twice_offends_twice(check: str) -> None:
    lamps = [{"name": "near", "count": 2}, {"name": "far"}, {"name": "near"}]
    assert told(check, lamps=lamps) == ("fail", "-3")


def test_what_is_missing_is_named() -> None:
    found = judge("{required: [safety/suit, safety/kill switch]}", {"components": [DISC]}, FACTS, MORE)
    assert act_words(found.act) == "provide safety/suit, safety/kill switch"
    found = judge(
        "{required: [safety/suit, safety/kill switch], at_least: 1}", {"components": [DISC]}, FACTS, MORE
    )
    assert act_words(found.act) == "provide 1 of safety/suit, safety/kill switch"


@each_row(
    ("check", "code", "text"),
    [
        ("{banned: [exotics]}", "PK204", "exotics"),
        ("{within: brakes, allowed: [steel, aluminum]}", "PK204", "aluminum"),
        ("{within: brakes, allowed: [brakes/disc]}", "PK204", "brakes/disc"),
        ("{required: [kill switch]}", "PK204", "kill switch"),
        ("{allowed: [brake bais], of: cockpit.controls}", "PK204", "brake bais"),
        ("{within: brakes, allowed: wrong(body.kind)}", "PK204", "wrong(body.kind)"),
        ("{banned: carbon composite}", "PK302", "carbon composite"),
        ("{banned: body.seats}", "PK302", "body.seats"),
        ("{banned: []}", "PK302", "[]"),
        ("{banned: [12]}", "PK302", "12"),
        ("{banned: [steel], of: body.seats}", "PK302", "steel"),
        ("{allowed: [steel]}", "PK502", "allowed"),
        ("{pairs: components, allowed: [steel]}", "PK502", "allowed"),
        ("{each: lamps, banned: [red]}", "PK502", "banned"),
        ("{required: [red], of: nameless}", "PK302", "nameless"),
        ("{required: [red], of: paint.colors}", "PK201", "paint.colors"),
        ("{required: [safety/suit], at_least: 2}", "PK503", "2"),
        ("{required: [safety/suit], at_least: 2 kg}", "PK301", "2 kg"),
    ],
)
def test_mistakes_are_told_at_their_place(check: str, code: str, text: str) -> None:
    found = problems(check, FACTS, MORE)
    assert found[0].code == code
    span = found[0].span
    assert span is not None
    assert span.source_line[span.column - 1 : span.end_column - 1] == text


def test_a_bare_word_is_taken_for_a_list_that_lacks_its_brackets() -> None:
    (found,) = problems("{banned: carbon composite}", FACTS, MORE)
    assert found.hint == "banned: [carbon composite]"
    assert codes("{banned: [carbon composite]}", FACTS, MORE) == []
