"""What is to be noticed of a car, and what its verdict rests on, in words."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from checker.car.described.accuracy_classes import AccuracyClass
from checker.car.premises import ApprovalNote, GearTaken, OfApproval, OfGear, Taken, TakenAs, WhatIf
from checker.car.remarks import Notice, Noticed
from checker.quantities.amount import kilograms, millimetres
from checker.report.words.premises import premise_words, taken_words
from checker.report.words.remarks import remark_words
from checker.report.words.units import showing
from tests.examples import each_row

LIGHT, HEAVY = kilograms(Fraction(20)), kilograms(Fraction("158.5"))


@each_row("what", Noticed)
def test_everything_that_there_is_to_notice_has_a_sentence_and_a_cure(what: Noticed) -> None:
    notice = Notice(
        what=what,
        name="club pads",
        amount=millimetres(Fraction(1250)),
        whole=HEAVY,
        names=("A",),
        others=("B",),
        days=(date(2026, 5, 3), date(2026, 5, 4)),
        accuracy=AccuracyClass("III", Fraction(1, 10)),
    )
    message, cure = remark_words(notice)
    assert message
    assert cure


@each_row("how", OfGear)
def test_however_gear_is_taken_it_is_named(how: OfGear) -> None:
    said = premise_words(GearTaken("club pads", how, ("front", "rear"), (LIGHT, HEAVY)))
    assert "club pads" in said


@each_row("what", Taken)
def test_what_is_taken_says_as_what_and_why(what: Taken) -> None:
    taken = TakenAs(millimetres(Fraction(1200)), "club pads", what)
    name, value = taken_words(taken)
    said = premise_words(taken)
    assert said.startswith(f"{name} is taken as {value}")
    ends = (
        "as it is not stated",
        "as it is not known",
        "where it is not stated",
        "no offset of it is stated",
    )
    assert said.endswith(ends)


def test_amounts_are_told_in_the_system_that_is_asked_for() -> None:
    with showing("us"):
        assert taken_words(TakenAs(millimetres(Fraction("1219.2")), what=Taken.TRACK))[1] == "48 in"
        assert premise_words(
            GearTaken("pads", OfGear.TESTED_TOO_LIGHT, ("front_left",), tested=(LIGHT, HEAVY))
        ) == ("pads: a test weight of 44.0925 lb does not prove front_left at the 349.433 lb that it bore")
        assert remark_words(Notice(what=Noticed.BEHIND, name="fuel.at", amount=millimetres(Fraction(1250))))[
            0
        ] == ("fuel.at lies 49 in behind the rear axle")
        assert premise_words(WhatIf(("B1 from ", LIGHT, " to ", HEAVY), moves_loads=True)).startswith(
            "what if: B1 from 44.0925 lb to 349.433 lb; "
        )


@each_row("what", OfApproval)
def test_whatever_became_of_an_approval_it_is_named(what: OfApproval) -> None:
    note = ApprovalNote("A-1", what, ("4.2", "4.3"), date(2026, 5, 3), ("x = ", LIGHT))
    assert premise_words(note).startswith("approval A-1 ")
    with showing("us"):
        assert "20 kg" not in premise_words(note)
