"""Entries by pages: the same as by the terminal, each once, whatever is sent twice, late, or after a crash."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.record.car_contents import Judged, Measured, Noted, Protested, Ruled, Weighed
from checker.meeting.record.contents import Announced, GearChecked
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import COMPLIES, standings
from checker.meeting.standing.verifying import verify
from checker.reading.quick_dataclasses import replace
from tests.examples import quick_first
from tests.meeting.days import LOADS, shifted, weighed
from tests.pages.weigh_in.devices import CARS, WeighIn


def test_a_weighing_by_pages_is_that_of_the_terminal(weigh_in: WeighIn, tmp_path: Path) -> None:
    device = weigh_in.device("TB")
    answer = device.weigh()
    assert answer.status_code == 303
    verdict = device.get(answer.headers["location"])
    assert "WEIGHT OK" in verdict.text
    assert "Next weighing" in verdict.text
    (entry,) = weigh_in.entries("weighed")
    (tmp_path / "terminal").mkdir()
    other = WeighIn(tmp_path / "terminal", CARS)
    other.office.close()
    with Meeting.open(other.day) as meeting:
        weighed(meeting)
    (by_terminal,) = other.entries("weighed")
    assert isinstance(entry.content, Weighed)
    assert replace(entry.content, once="") == by_terminal.content
    assert entry.by == "TB"


def test_both_weighings_and_the_seal_make_a_car_comply_and_the_record_verifies(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    assert device.weigh().status_code == 303
    second = {**device.hidden("/scales?car=7"), **LOADS}
    assert device.post("/scales", second).status_code == 303
    device.client.get("/checks?car=7")
    seal = {**device.hidden("/checks?car=7"), "as_it_should": "yes"}
    assert (seal["clause"], seal["fact"]) == ("5", "seals.sump")
    assert device.post("/checks", seal).status_code == 303
    with Meeting.open(weigh_in.day, writing=False) as meeting:
        assert next(one for one in standings(meeting) if one.car == "7").status == COMPLIES
    assert "COMPLIES" in weigh_in.device().get("/").text
    assert verify(weigh_in.day).faults == ()


def test_what_is_sent_twice_is_entered_once_and_answered_with_the_same_entry(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    form = device.weighing()
    first, second = device.post("/scales", form), device.post("/scales", form)
    assert first.headers["location"] == second.headers["location"]
    assert len(weigh_in.entries("weighed")) == 1


def test_what_is_changed_in_a_form_that_was_entered_is_never_taken_for_it(weigh_in: WeighIn) -> None:
    """Who goes back to a form and types another load is told, and not shown the old verdict."""
    device = weigh_in.device("TB")
    form = device.weighing()
    assert device.post("/scales", form).status_code == 303
    changed = device.post("/scales", {**form, **shifted(front_left=0.5)})
    assert changed.status_code == 422
    assert "has changed since it was put on this screen" in changed.text
    remark = {**device.hidden("/cars?car=7", "/cars/note"), "topic": "remark", "text": "clean"}
    first = device.post("/cars/note", remark).headers["location"]
    assert device.post("/cars/note", remark).headers["location"] == first
    assert device.post("/cars/note", {**remark, "text": "oily"}).headers["location"] != first
    assert len(weigh_in.entries("noted")) == 2


def test_what_is_sent_again_after_a_crash_is_entered_once(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    form = device.weighing()
    first = device.post("/scales", form)
    weigh_in.restart()
    device.go_on()
    second = device.post("/scales", form)
    assert (first.status_code, second.status_code) == (303, 303), "signed on still, and its token counts"
    assert first.headers["location"] == second.headers["location"]
    assert len(weigh_in.entries("weighed")) == 1


def test_what_never_arrived_is_taken_after_a_crash(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    form = device.weighing()
    weigh_in.restart()
    device.go_on()
    assert device.post("/scales", form).status_code == 303
    assert len(weigh_in.entries("weighed")) == 1


def test_two_forms_for_one_weighing_are_not_both_taken(weigh_in: WeighIn) -> None:
    """Two officials, or one at two devices, have the same car on the screen."""
    one, other = weigh_in.device("TB"), weigh_in.device("KV")
    mine, theirs = one.weighing(), other.weighing(loads=shifted(front_left=0.5))
    assert one.post("/scales", mine).status_code == 303
    answer = other.post("/scales", theirs)
    assert answer.status_code == 422
    assert "has changed since it was put on this screen" in answer.text
    assert len(weigh_in.entries("weighed")) == 1


def test_what_looks_like_a_slip_is_asked_about_before_it_is_stored(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    form = device.weighing(loads={**LOADS, "front_left": "255"})
    asked = device.post("/scales", form)
    assert "Right car? All digits typed?" in asked.text
    assert 'value="255"' in asked.text, "what was typed is kept"
    assert weigh_in.entries("weighed") == []
    assert device.post("/scales", {**form, "right": "yes"}).status_code == 303
    (entry,) = weigh_in.entries("weighed")
    assert isinstance(entry.content, Weighed)
    assert entry.content.confirmed


@pytest.mark.parametrize(
    ("field", "typed"),
    quick_first(
        [
            ("front_left", "1a5.0"),
            ("front_left", ""),
            ("fuel", "six"),
            ("car", "70"),
            ("once", "again"),
            ("corrects", "99"),
            ("front_left", "155,0,0"),
            ("front_left", "-155"),
            ("fuel", ""),
            ("tyres", "paddle"),
            ("seen", "x"),
            ("once", ""),
            ("occasion", "x" * 301),
        ],
        6,
    ),
)
def test_what_cannot_be_read_is_refused_and_nothing_is_stored(
    weigh_in: WeighIn, field: str, typed: str
) -> None:
    device = weigh_in.device("TB")
    answer = device.post("/scales", {**device.weighing(), field: typed})
    assert answer.status_code in (400, 404, 422), answer.text
    assert weigh_in.entries("weighed") == []


def test_a_wheel_is_corrected_with_a_reason(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    device.weigh()
    number = weigh_in.entries("weighed")[0].number
    form = {**device.hidden(f"/scales?corrects={number}"), **shifted(front_left=0.5)}
    answer = device.post("/scales", form)
    assert answer.status_code == 303
    corrected = weigh_in.entries("weighed")[-1].content
    assert isinstance(corrected, Weighed)
    assert (corrected.corrects, corrected.loads["front_left"]) == (number, "155.5 kg")
    assert corrected.reason
    assert "no longer counts since" in device.get(f"/scales/verdict?entry={number}").text


def test_a_car_that_may_not_be_weighed_again_is_refused_before_it_rolls_on(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    for _ in range(2):
        device.post("/scales", {**device.hidden("/scales?car=7"), "fuel": "6", **LOADS})
    assert device.get("/scales?car=7").status_code == 422


def test_a_gauge_that_went_is_stored_as_a_gauge(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    page = device.get("/checks?car=7").text
    assert "engine.inlet_bore" in page
    form = {
        **device.hidden("/checks?car=7"),
        "clause": "4",
        "fact": "engine.inlet_bore",
        "value": "36.0",
        "gauge": "no-go",
    }
    assert device.post("/checks", form).status_code == 303
    (entry,) = weigh_in.entries("measured")
    assert (entry.content.value, entry.content.gauge) == ("36.0 mm", "no-go")  # type: ignore[union-attr]
    assert "a gauge did not go: 36.0 mm" in device.get("/checks?car=7").text
    other = {**device.hidden("/checks?car=7"), "clause": "4", "fact": "seals.sump", "value": "x"}
    assert device.post("/checks", other).status_code == 422


def test_a_check_of_the_pads_is_one_form_and_puts_cars_in_doubt(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    device.weigh()
    shown = {"front_left": "20.0", "front_right": "20.0", "rear_left": "11", "rear_right": "20.5"}
    form = {**device.hidden("/pads"), "gear": "pads", "applied": "20", **shown}
    first, again = device.post("/pads", form), device.post("/pads", form)
    assert first.headers["location"] == again.headers["location"]
    checks = [one.content for one in weigh_in.entries("gear_checked")]
    assert [one.good for one in checks if isinstance(one, GearChecked)] == [True, True, False, True]
    page = device.get("/pads").text
    assert "In doubt, to be weighed again: cars 7." in page
    assert "BAD" in page


def test_a_protest_is_taken_down_ruled_on_and_struck_by_pages(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    words = {"clause": "1", "text": "it was lighter yesterday", "from": "8"}
    protest = {**device.hidden("/cars?car=7", "/cars/protest"), **words}
    assert device.post("/cars/protest", protest).status_code == 303
    (taken,) = weigh_in.entries("protested")
    assert isinstance(taken.content, Protested)
    assert taken.content.by_car == "8"
    for decision in ("uphold", "exclude"):
        ruling = {
            **device.hidden("/cars?car=7", "/cars/ruling"),
            "clause": "1",
            "decision": decision,
            "reason": "weighed before all",
            "protest": str(taken.number),
        }
        assert device.post("/cars/ruling", ruling).status_code == 303
    rulings = [one.content for one in weigh_in.entries("ruled") if isinstance(one.content, Ruled)]
    assert [(one.decision, one.protest) for one in rulings] == [
        ("stand", taken.number),
        ("reject", taken.number),
    ]
    assert rulings[1].corrects
    number = str(weigh_in.entries("ruled")[-1].number)
    strike = {**device.hidden("/cars?car=7", "/cars/strike"), "struck": number, "reason": "the wrong clause"}
    assert device.post("/cars/strike", strike).status_code == 303
    assert len(weigh_in.entries("struck")) == 1


def test_a_ruling_never_replaces_one_that_its_page_did_not_show(weigh_in: WeighIn) -> None:
    one, other = weigh_in.device("KV"), weigh_in.device("TB")
    words = {"clause": "1", "decision": "exclude", "reason": "too light"}
    mine = {**one.hidden("/cars?car=7", "/cars/ruling"), **words}
    theirs = {**other.hidden("/cars?car=7", "/cars/ruling"), **words}
    assert one.post("/cars/ruling", mine).status_code == 303
    assert other.post("/cars/ruling", theirs).status_code == 422


def test_notes_and_announcements_are_entered_and_cars_are_judged_again(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    for _ in range(2):
        device.post("/scales", {**device.hidden("/scales?car=7"), "fuel": "6", **LOADS})
    judged = len(weigh_in.entries("judged"))
    said = {**device.hidden("/day", "/day/announcement"), "fact": "event.wet", "value": "yes", "car": ""}
    assert device.post("/day/announcement", said).status_code == 303
    (announced,) = weigh_in.entries("announced")
    assert isinstance(announced.content, Announced)
    assert len(weigh_in.entries("judged")) == judged + 1
    note = {**device.hidden("/cars?car=7", "/cars/note"), "topic": "remark", "text": "clean", "clause": ""}
    assert device.post("/cars/note", note).status_code == 303
    (noted,) = weigh_in.entries("noted")
    assert isinstance(noted.content, Noted)


def test_the_terminal_works_on_the_same_record_meanwhile(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    form = device.weighing("8")
    with Meeting.open(weigh_in.day) as terminal:
        weighed(terminal, "7")
        assert device.post("/scales", form).status_code == 303
        assert len(terminal.day.records()) < len(weigh_in.entries())
        weighed(terminal, "7")
        terminal.judge_and_record(terminal.car("7"), "KV")
    assert "weighed 2/2" in device.get("/").text
    assert any(isinstance(one.content, Judged) for one in weigh_in.entries())


def test_one_pad_is_checked_alone_with_since_when_it_was_out(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    fields = {"gear": "pads", "pad": "rear_left", "applied": "20", "shown": "11", "since": "06:40"}
    assert device.post("/pads/one", {**device.hidden("/pads", "/pads/one"), **fields}).status_code == 303
    (check,) = weigh_in.entries("gear_checked")
    assert isinstance(check.content, GearChecked)
    assert (check.content.good, check.content.pad) == (False, "rear_left")
    assert check.content.since.startswith("2026-05-03T")


def test_whatever_the_procedure_does_not_name_is_measured_on_the_cars_page(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    fields = {"fact": "components.front discs.thickness", "value": "8.4 mm", "gear": "caliper", "gauge": ""}
    form = {**device.hidden("/cars?car=7", "/cars/measurement"), **fields}
    assert device.post("/cars/measurement", form).status_code == 303
    (measured,) = weigh_in.entries("measured")
    assert isinstance(measured.content, Measured)
    assert (measured.content.value, measured.content.gear) == ("8.4 mm", "caliper")
    unknown = {**device.hidden("/cars?car=7", "/cars/measurement"), "fact": "engine.colour", "value": "red"}
    assert device.post("/cars/measurement", unknown).status_code == 422
