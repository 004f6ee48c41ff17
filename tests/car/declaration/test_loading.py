"""A whole declaration: what is known of the car afterwards, what was assumed, and what is refused."""

from __future__ import annotations

import hashlib
from typing import Any

import pytest

from checker.car.declaration.loading import formula_of, load_car
from checker.car.described.stated import ACROSS, ALONG, DEFAULT, WHAT_IF
from checker.car.reading.mistakes import CODES
from checker.quantities.kind import Unknown
from checker.reading.document import Edit
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from tests.car.cars import ABSENT, COMPLETE, assumed, known, loaded, problems, varied, vocabulary
from tests.car.reading.test_values import BARE, WRONG
from tests.examples import each_row

PARTS = {
    "components": [
        {
            "name": "pedal assembly",
            "category": "controls/pedals",
            "count": 2,
            "price": "120.00 GBP",
            "materials": ["steel"],
            "parts": [
                {"name": "bracket", "count": 3, "materials": ["titanium"]},
                {"name": "switch", "category": "safety/kill switch", "parts": [{"name": "lever"}]},
            ],
        },
        {"category": "brakes/disc", "made": "2024-02", "at": {"behind_front_axle": "100 mm"}},
    ]
}


# -- what is known afterwards ------------------------------------------------------------------------


def test_the_car_is_identified() -> None:
    text = b'formula: Dunlin\ncar: {number: "27", name: Redshank}\n'
    car = load_car(parse_document(text, "car.yaml", "CD"), vocabulary())
    assert (car.number, car.name) == ("27", "Redshank")
    assert car.sha256 == hashlib.sha256(text).hexdigest()
    assert loaded(BARE).name == ""


def test_a_fact_that_nobody_stated_is_unknown_by_its_name() -> None:
    car = loaded(BARE)
    assert car.value("engine.capacity") == Unknown(absent=("engine.capacity",))
    assert car.value("engine.capacity").told() == ("engine.capacity is not stated",)
    assert car.stated("engine.capacity") is None


def test_sections_with_only_comments_state_nothing() -> None:
    car = loaded(
        "formula: dunlin\ncar: {number: '27'}\nengine:\n  # capacity: 1450 cc\nballast:\nweighing:\n"
    )
    assert car.value("engine.capacity") == Unknown(absent=("engine.capacity",))
    assert car.entries("ballast", parts=False) == Unknown(absent=("ballast",))


def test_a_list_stated_empty_is_not_a_list_left_out() -> None:
    car = loaded(varied({"ballast": []}, BARE))
    assert car.entries("ballast", parts=True) == ()
    assert car.entries("documents", parts=False) == Unknown(absent=("documents",))


def test_parts_follow_their_component_and_take_its_category() -> None:
    car = loaded(varied(PARTS, BARE))
    every = car.entries("components", parts=True)
    assert not isinstance(every, Unknown)
    assert [(entry.label, entry.path) for entry in every] == [
        ("pedal assembly", "components[0]"),
        ("bracket", "components[0].parts[0]"),
        ("switch", "components[0].parts[1]"),
        ("lever", "components[0].parts[1].parts[0]"),
        ("components[1]", "components[1]"),
    ]
    assert [entry.value("category") for entry in every] == [
        "controls/pedals",
        "controls/pedals",
        "safety/kill switch",
        "safety/kill switch",
        "brakes/disc",
    ]
    assert [entry.standing for entry in every] == [2, 6, 2, 2, 1]
    assert every[3].parent is every[2]
    assert [entry.label for entry in car.lists["components"]] == ["pedal assembly", "components[1]"]


def test_an_entrys_missing_field_is_unknown_by_entry_and_field() -> None:
    car = loaded(varied(PARTS, BARE))
    pedals = car.lists["components"][0]
    assert pedals.value("price") == 120
    assert pedals.value("mass") == Unknown(absent=("pedal assembly: mass",))
    assert pedals.stated("mass") is None
    assert pedals.stated(ALONG) is None


def test_an_entry_keeps_its_place() -> None:
    ballast = [{"label": "B1", "at": {"behind_front_axle": "-50 mm", "right_of_centre": "520 mm"}}]
    piece = loaded(varied({"ballast": ballast}, BARE)).lists["ballast"][0]
    assert (piece.value(ALONG), piece.value(ACROSS)) == (-50, -520)
    assert piece.fields[ACROSS].written == "-520 mm"


def test_structure_goes_by_dotted_names() -> None:
    car = loaded(COMPLETE)
    assert car.value("driver.at.left_of_centre") == -40
    assert (
        car.value("tyres.wet.rear.mass")
        == known(car.value("tyres.dry.rear.mass")) + known(car.value("wear.front_left")) * 2
    )
    assert car.tyre_sets == ("dry", "wet")
    assert car.tyre_set("WET") == "wet"
    assert car.tyre_set("damp") is None


def test_facts_may_stand_among_tyre_sets() -> None:
    car = loaded(varied({"tyres.new_this_meeting": 2}))
    assert car.value("tyres.new_this_meeting") == 2
    assert car.tyre_sets == ("dry", "wet")


def test_instruments_are_the_files_and_the_packs() -> None:
    gear = {"club pads": {"resolution": "0.5 kg", "permissible_error": "500 g"}}
    car = loaded(varied({"instruments": gear, "weighing.instrument": "Club Pads"}))
    assert car.weighing.instrument == "club pads"
    pads = car.instrument("club pads")
    assert pads is not None
    assert pads.resolution == pads.permissible_error.amount == known(car.value("fuel.unusable")) / 10**6
    assert car.instrument("tape") is not None
    assert car.instrument("ruler") is None


def test_approvals_are_cited() -> None:
    assert loaded(varied({"approvals": ["A-2026-014"]}, BARE)).approvals == ("A-2026-014",)


# -- defaults, reserved facts, what-ifs --------------------------------------------------------------


def test_defaults_are_taken_and_said() -> None:
    car = loaded(BARE)
    unusable = car.stated("fuel.unusable")
    assert unusable is not None
    assert (unusable.value, unusable.written, unusable.origin) == (0, "0 L", DEFAULT)
    assert car.value("weighing.wear") == "new"
    assert assumed(car) == (
        "fuel.unusable is taken as 0 L, as it is not stated",
        "weighing.wear is taken as new, as it is not stated",
        "event.longest_wheelbase is taken as 2400 mm, as it is not stated",
    )


WIDE = {"dimensions.front_width_over_tyres": "1700 mm"}
TYRES = {"front": {"mass": "14 kg", "section": "200 mm"}}


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({**WIDE, "tyres": {"dry": TYRES}}, True),
        ({"tyres": {"dry": TYRES}}, False),
        ({**WIDE, "tyres": {"dry": TYRES, "wet": TYRES}}, False),
        ({**WIDE, "tyres": {"dry": TYRES}, "weighing.tyres": "dry"}, False),
    ],
)
def test_the_lone_tyre_set_that_widths_are_taken_on_is_said(more: dict[str, Any], told: bool) -> None:
    sentence = "weighing.tyres is taken as dry, as it is not stated"
    assert (sentence in assumed(loaded(varied(more, BARE)))) == told


def test_the_default_of_a_field_is_said_once() -> None:
    joints = [{"name": "upper"}, {"name": "lower"}, {"name": "other", "original": True}]
    car = loaded(varied({"joints": joints}, BARE))
    assert [entry.value("original") for entry in car.lists["joints"]] == [False, False, True]
    assert assumed(car)[3:] == ("joints: original is taken as false where it is not stated",)


RESERVED = {
    "inspection.sound": True,
    "event": {"longest_wheelbase": "2300 mm", "session": "race", "date": "2026-05-03"},
    "joints": [{"name": "upper", "ruled_sound": True}, {"name": "lower", "ruled_sound": True}],
}


def test_an_entrants_word_on_reserved_facts_is_believed_at_home_and_said() -> None:
    car = loaded(varied(RESERVED, BARE))
    assert car.value("inspection.sound") is True
    assert car.value("event.longest_wheelbase") == 2300
    assert car.lists["joints"][0].value("ruled_sound") is True
    assert [sentence for sentence in assumed(car) if "own file" in sentence] == [
        "inspection.sound is true, as the car's own file says; an official states it",
        "event.longest_wheelbase is 2300 mm, as the car's own file says; the organiser states it",
        "joints: ruled_sound is as the car's own file says; an official states it",
    ]
    assert car.warnings == ()


def test_to_an_official_an_entrants_word_on_reserved_facts_does_not_count() -> None:
    car = loaded(varied(RESERVED, BARE), audience="official")
    assert isinstance(car.value("inspection.sound"), Unknown)
    assert car.value("event.longest_wheelbase") == 2400
    assert isinstance(car.lists["joints"][0].value("ruled_sound"), Unknown)
    assert car.value("event.session") == "race"
    assert car.value("event.date") is not None
    assert [warning.code for warning in car.warnings] == ["CD213"] * 4
    assert all(warning.warning and warning.hint for warning in car.warnings)


def test_what_officials_read_counts_for_everybody() -> None:
    readings = {
        "formula": "dunlin",
        "inspection": {"sound": False},
        "event": {"longest_wheelbase": "2350 mm"},
    }
    for audience in ("entrant", "official"):
        car = loaded(varied(RESERVED, BARE), readings, audience=audience)
        assert car.value("inspection.sound") is False
        assert car.value("event.longest_wheelbase") == 2350


def test_a_what_if_is_marked() -> None:
    document = parse_document(b'formula: dunlin\ncar: {number: "27"}\n', "car.yaml", "CD")
    edited = document.edited([Edit(("engine", "capacity"), "1450 cc")], "CD199")
    car = load_car(edited, vocabulary())
    stated = car.stated("engine.capacity")
    assert stated is not None
    assert (stated.origin, stated.written) == (WHAT_IF, "1450 cc")
    assert car.sha256 == document.sha256


# -- what is refused ---------------------------------------------------------------------------------

ENTRY = {"name": "pedals", "category": "controls/pedals"}

REFUSED: list[tuple[dict[str, Any], int, str, str]] = [
    ({"colour": "red"}, 201, "no section 'colour'", ""),
    ({"balast": []}, 201, "no section 'balast'", "'ballast'"),
    ({"wear.front_lft": "0.1 kg"}, 201, "no wheel 'front_lft'", "'front_left'"),
    ({"fuel.att": {}}, 201, "no fact 'att'", "'at'"),
    ({"fuel.at.behind": "3 mm"}, 201, "no key of a place 'behind'", "behind_front_axle"),
    ({"fuel.at.behind_rear_axel": "3 mm"}, 201, "no key of a place", "write behind_rear_axle"),
    (
        {"fuel.at.ahead_of_rear_axle": "3 mm"},
        219,
        "both behind_front_axle and ahead_of_rear_axle",
        "keep one",
    ),
    ({"tyres.dry.raer": {}}, 201, "no axle 'raer'", "'rear'"),
    ({"tyres.dry.rear.width": "200 mm"}, 201, "no key of a tyre 'width'", "mass, section"),
    ({"components": [{"nam": "x"}]}, 201, "no field of components 'nam'", "'name'"),
    ({"ballast": [{"label": "B1", "parts": []}]}, 201, "no field of ballast 'parts'", "label"),
    ({"instruments": {"pads": {"step": "1 kg"}}}, 201, "not a key of an instrument", "resolution"),
    ({"weighing.readings[0].front": "300 kg"}, 214, "gives", "one set"),
    ({"weighing.readings[0].front_lft": "150 kg"}, 201, "no load 'front_lft'", "'front_left'"),
    ({"tyres.damp": None}, 202, "nothing is written for the tyre set", "take the line away"),
    ({"tyres.damp": "soft"}, 202, "tyres.damp holds the text 'soft'", ""),
    ({"components": {"name": "x"}}, 202, "components holds a mapping; a list was wanted", "dash"),
    ({"components": ["pedals"]}, 202, "components[0] holds the text 'pedals'", "{name: ...}"),
    ({"holes": [None]}, 202, "holes[0] holds nothing", "{field: ...}"),
    ({"fuel.at": "in the boot"}, 202, "a place as", ""),
    ({"instruments": {"pads": "0.5 kg"}}, 202, "a mapping was wanted", "resolution"),
    ({"weighing.readings": {"total": "500 kg"}}, 202, "a list of readings was wanted", "dash"),
    ({"weighing.readings[0]": "500 kg"}, 202, "loads as", ""),
    ({"instruments": {"pads": {"resolution": 1}}}, 203, "a number with its unit", "0.5 kg"),
    ({"instruments": {"pads": {"resolution": "1 kgs"}}}, 203, "kgs is not a unit", "kg"),
    ({"instruments": {"p": {"resolution": "1 kg", "permissible_error": "1 mm"}}}, 204, "does not fit", ""),
    ({"instruments": {"pads": {"resolution": "2026-03-01"}}}, 204, "an amount was wanted", ""),
    ({"weighing.driver": "in"}, 205, "allowed are out, aboard", ""),
    ({"weighing.readings[0].pads": "swapped"}, 205, "allowed are as marked", ""),
    ({"instruments": {"pads": {"resolution": "-1 kg"}}}, 207, "below zero", ""),
    ({"weighing.readings[0].front_left": "-150 kg"}, 207, "below zero", ""),
    ({"ballast": [{"label": "B1", "mass": "-6 kg"}]}, 207, "below zero", ""),
    (
        {"ballast": [{"label": "B1", "mass": "0 kg"}]},
        208,
        "what is there weighs something",
        "take the line away",
    ),
    ({"components": [{**ENTRY, "mass": "0.0 lb"}]}, 208, "what is there weighs something", "what it weighs"),
    ({"tyres.dry.front.mass": "0 g"}, 208, "what is there weighs something", ""),
    ({"tyres.dry.rear": {"left": {"mass": "0 kg"}}}, 208, "what is there weighs something", ""),
    ({"instruments": {"pads": {"resolution": "0 kg"}}}, 203, "a display has a step", "smallest step"),
    ({"instruments": {"pads": {"permissible_error": "300 %"}}}, 203, "as much as all that it shows", ""),
    ({"instruments": {"pads": {"common_error": "100 %"}}}, 203, "as much as all that it shows", ""),
    ({"components": [{**ENTRY, "count": 0}]}, 208, "at least once", "take the entry away"),
    ({"approvals": [3]}, 210, "is not a reference", "quotes"),
    ({"components": [{**ENTRY, "count": "two"}]}, 210, "a whole number", ""),
    ({"formula": "sandpiper"}, 211, "the pack is that of 'dunlin'", "judge it by"),
    ({"formula": ABSENT}, 211, "does not say by which formula", "formula: dunlin"),
    ({"formula": 5}, 211, "does not say by which formula", "formula: dunlin"),
    ({"car": ABSENT}, 212, "car.number is not stated", '"27"'),
    *(
        ({"car.number": number}, 212, "would be taken for another", "plain letters")
        for number in (
            "27\u200b",
            "2\u202e7",
            "2\u00ad7",
            "27\u00a0A",
            "\uff12\uff17",
            "=1+1",
            "+27",
            "@27",
            " -27",
        )
    ),
    ({"car.number": 27}, 212, "text in quotes", '"27"'),
    ({"weighing.readings": []}, 214, "is empty", "not weighed"),
    ({"weighing.readings[0].front_left": "0 kg"}, 214, "shows nothing", ""),
    ({"weighing.readings[0].front_left": ABSENT}, 214, "does not give front_left", "four wheels"),
    ({"weighing.readings[0].total": "500 kg"}, 214, "gives", "one set"),
    ({"weighing.readings[1]": {"total": "500 kg"}}, 214, "gives total, the first", "same loads"),
    ({"weighing.readings[1]": {"pads": "as marked"}}, 214, "gives no load", "one set"),
    ({"weighing.fuel": "22.1 L"}, 214, "more than the tank holds, 22 L", ""),
    ({"fuel.unusable": "23 L"}, 214, "more than the tank holds, 22 L", ""),
    ({"weighing.tyres": "wett"}, 214, "no tyre set 'wett'", "'wet'"),
    ({"weighing.tyres": "slick"}, 214, "no tyre set 'slick'", "dry, wet"),
    ({"weighing.instrument": "pads"}, 216, "no instrument 'pads' is described", "instruments:"),
    ({"components": [{"category": "control/pedals"}]}, 217, "no category", "'controls/pedals'"),
    ({"fuel.at.right_of_centre": "1 mm"}, 219, "both left_of_centre and right_of_centre", "keep one"),
    ({"tyres.wet.rear.section": "600 mm"}, 220, "more than half the track", "one tyre"),
]


@each_row(("changes", "number", "message", "hint"), REFUSED)
def test_what_is_wrong_is_named_with_its_cure(
    changes: dict[str, Any], number: int, message: str, hint: str
) -> None:
    found = problems(varied(changes))
    assert [problem.code for problem in found] == [f"CD{number}"]
    assert message in found[0].message
    assert hint in found[0].hint
    assert found[0].span is not None


def test_two_entries_of_one_name_are_a_warning() -> None:
    car = loaded(
        varied({"ballast": [{"label": "B1"}, {"label": "b1"}], "documents": [{"kind": "x"}, {"kind": "x"}]})
    )
    (warning,) = car.warnings
    assert (warning.code, warning.warning) == ("CD215", True)
    assert "two entries called 'b1'" in warning.message
    assert warning.related[0][0] == "the first"


def test_all_mistakes_are_found_at_once_from_top_to_bottom() -> None:
    text = """formula: dunlin
car: {number: "27"}
fuel: {capacity: 22, density: heavy}
engine: {capacity: 1450 kg}
components: [{name: 3}]
driver: {mass: 5 kg}
"""
    assert [problem.span.line for problem in problems(text) if problem.span] == [3, 3, 4, 5, 6]


def test_every_code_is_explained_and_raised_here() -> None:
    elsewhere = {
        209,
        213,
        215,
        218,
        221,
        222,
    }  # what may stand once, in kinds/test_many; warnings above; what is worked out, in test_entries; gear, in test_gear; days, in test_tomorrow
    raised = {number for _, number, _, _ in REFUSED} | {row[2] for row in WRONG}
    assert raised | elsewhere == set(CODES)
    assert all(CODES.values())


# -- the formula, before the pack is known -----------------------------------------------------------


def test_the_formula_is_read_before_the_pack_is_known() -> None:
    assert formula_of(parse_document(b"formula: dunlin\n", "car.yaml", "CD")) == "dunlin"


@pytest.mark.parametrize("text", ["- 1\n", "just words\n", "formula:\n", "car: {}\n"])
def test_a_file_that_is_no_declaration_is_refused(text: str) -> None:
    with pytest.raises(InputError) as caught:
        formula_of(parse_document(text.encode(), "car.yaml", "CD"))
    assert caught.value.problems[0].code == "CD211"
