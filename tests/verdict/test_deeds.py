"""What is told to be done that is no amount is done on the car too; what cannot be tried says so."""

from __future__ import annotations

from typing import Any

from checker.kinds.judging.acts import Act, Acts, Advice, Untried
from checker.report.words.acts import act_words
from checker.verdict.advice import advised
from checker.verdict.inspection import Inspection, inspect_car
from tests.building import DAY, car_of, pack_of
from tests.examples import each_row

SECTIONS = """
facts:
  body.colour: {one_of: [red, blue, green]}
  body.sound: {type: truth}
  body.left: {unit: mm}
  body.right: {unit: mm}
  body.tyres: {type: text, several: true}
  body.built: {type: date}
  body.grade: {grades: [low, high]}
  seat.made: {type: date}
  aids.launch: {type: truth}
  aids.traction: {type: truth}
categories: [wheels, safety/belts, safety/helmet]
materials: {steel: [], titanium: [], aluminium: []}
"""
BELTS = "components: [{name: belts, category: safety/belts, materials: [titanium], made: 2019-05-01}]"


def leaves(advice: Advice | None) -> list[Act]:
    if isinstance(advice, Acts):
        return [act for one in advice.acts for act in leaves(one)]
    return [] if advice is None else [advice]


def tried(check: str, car: str, more: str = "") -> Inspection:
    pack = pack_of(f'"1": {{title: T, text: Words, check: {check}{more}}}', SECTIONS)
    return advised(inspect_car(pack, car_of(pack, car), DAY, "entrant"))


@each_row(
    ("check", "car", "said"),
    [
        ("{limit: body.colour, exactly: red}", "body: {colour: blue}", "colour: make it red"),
        ("{limit: body.built, at_least: 2020-01-01}", "body: {built: 2019-01-01}", "built: 2020-01-01 or later"),
        ("{limit: body.grade, at_least: high}", "body: {grade: low}", "grade: high or better"),
        ("{limit: abs(body.left - body.right), at_most: 2 mm}", "body: {left: 9 mm, right: 5 mm}",
         "bring left and right nearer together by 2 mm"),
        ("{valid: seat.made + 5 years}", "seat: {made: 2019-05-01}", "renew before"),
        ("{within: safety/belts, valid: made + 5 years}", BELTS, "belts: renew before"),
        ("{within: safety/belts, banned: [titanium]}", BELTS, "belts: make it of something other than titanium"),
        ("{within: safety/belts, allowed: [steel]}", BELTS, "belts: replace titanium by steel"),
        ("{banned: [titanium]}", BELTS, "belts: make it of something other than titanium"),
        ("{banned: [safety/belts]}", BELTS, "remove or replace safety/belts"),
        ("{required: [safety/belts, safety/helmet]}", BELTS, "provide safety/helmet"),
        ("{required: [log book, receipt], of: documents}", "documents: [{kind: receipt}]", "provide log book"),
        ("{required: [soft], of: body.tyres}", "body: {tyres: [hard]}", "provide soft"),
        ("{banned: [soft], of: body.tyres}", "body: {tyres: [hard, soft]}", "remove or replace soft"),
        ("{limit: sum(b.mass for b in ballast if b.fixings > 1), at_most: 9 kg}",
         "ballast: [{label: B1, mass: 9 kg, fixings: 1}, {label: B2, mass: 6 kg, fixings: 2}, "
         "{label: B3, mass: 4.5 kg, fixings: 2}]", "take off 1.5 kg"),
        ("{all_of: [{limit: body.colour, exactly: red}, {limit: body.left, at_most: 3 mm}]}",
         "body: {colour: blue, left: 4 mm}", "colour: make it red; lower left by 1 mm"),
    ],
)  # fmt: skip
def test_what_is_told_is_done_and_is_enough(check: str, car: str, said: str) -> None:
    act = tried(check, car).outcomes[0].assessment.act
    assert act_words(act).startswith(said)
    assert "not tried" not in act_words(act)
    assert [(one.enough, one.untried) for one in leaves(act)] == [(True, None)] * len(leaves(act))


@each_row(
    ("check", "car", "why"),
    [
        ("{limit: body.colour, exactly: red, act: repaint it}", "body: {colour: blue}", Untried.AS_WRITTEN),
        ("{at_most_of: {count: 1, of: [{holds: aids.launch}, {holds: aids.traction}]}}",
         "aids: {launch: true, traction: true}", Untried.CHOICE),
        ("{limit: count(components), at_least: 3}", BELTS, Untried.CHOICE),
        ("{banned: [red], of: body.colour}", "body: {colour: red}", Untried.CHOICE),
        ("{within: wheels, banned: [titanium], if_none: fail}", BELTS, Untried.CHOICE),
        ("{limit: body.left + body.right, at_most: 9 mm}", "body: {left: 9 mm, right: 5 mm}", Untried.WORKED_OUT),
    ],
)  # fmt: skip
def test_what_is_not_tried_says_so_and_why(check: str, car: str, why: Untried) -> None:
    act = tried(check, car).outcomes[0].assessment.act
    assert {(one.enough, one.untried) for one in leaves(act)} == {(None, why)}
    assert "which was not tried" in act_words(act)


def test_beside_what_is_not_tried_nothing_is_said_to_be_enough() -> None:
    check = (
        "{all_of: [{limit: body.colour, exactly: red, act: repaint it}, {limit: body.left, at_most: 3 mm}]}"
    )
    act = tried(check, "body: {colour: blue, left: 4 mm}").outcomes[0].assessment.act
    assert [(one.enough, one.untried) for one in leaves(act)] == [
        (None, Untried.AS_WRITTEN),
        (None, Untried.BESIDE),
    ]


def test_a_renewal_that_does_not_help_says_so() -> None:
    """The seat is too old by its label, whatever day it was made."""
    found = tried("{valid: 'min(seat.made + 5 years, day(2020, 1, 1))'}", "seat: {made: 2019-05-01}")
    act = found.outcomes[0].assessment.act
    assert [one.enough for one in leaves(act)] == [False]
    assert act_words(act).endswith("which is not enough by itself")


def test_what_leaves_something_unknown_is_enough_only_as_far_as_is_known() -> None:
    check = "{all_of: [{limit: body.left, at_most: 3 mm}, {limit: body.right, at_most: 3 mm}]}"
    found = tried(check, "body: {left: 4 mm}")
    act: Any = found.outcomes[0].assessment.act
    assert act_words(act) == "lower left by 1 mm, as far as is known"
    assert (act.enough, act.untried) == (None, Untried.OPEN)
