"""The round with gauges, seals and papers, key by key."""

from __future__ import annotations

from pathlib import Path

from checker.meeting.desk.checks import DONE, ITEM, ChecksDesk, with_units
from checker.meeting.desk.conversation import BACK, CAR, ENTER, MISTYPED
from checker.meeting.record.car_contents import (
    Measured,
    Noted,
)
from checker.meeting.session.session import Meeting
from tests.meeting.days import PROCEDURE, a_meeting, car_text


def measured(meeting: Meeting, car: str = "7") -> list[tuple[str, str]]:
    return [(r.content.fact, r.content.value) for r in meeting.car(car).of(Measured)]


def test_a_round_follows_the_procedure_and_asks_each_fact_once(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ChecksDesk(meeting, "KV")
        desk.answer("7")
        told = [(i.step, i.clause, i.fact.name if i.fact else "", i.expected) for i in desk.items]
        assert told == [
            ("papers", "5", "seals.sump", "SO 7"),
            ("gauges", "3", "dimensions.ride_height", "90 mm"),
            ("gauges", "4", "engine.inlet_bore", "35 mm"),
        ]


def test_a_seal_that_reads_as_it_should_takes_one_key(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ChecksDesk(meeting, "KV")
        desk.answer("7")
        desk.key("=")
        desk.key(ENTER)
        assert measured(meeting) == [("seals.sump", "SO 7")]
        assert desk.judgement is not None
        assert {o.clause.number: o.outcome for o in desk.judgement.inspection.outcomes}["5"] == "pass"


def test_a_bare_figure_is_in_the_fact_s_unit_and_nothing_leaves_it_for_later(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ChecksDesk(meeting, "KV")
        for answer in ("7", "", "82,5", ""):
            desk.answer(answer)
        assert measured(meeting) == [("dimensions.ride_height", "82.5 mm")]
        assert desk.stage == DONE
        desk.after_shown()
        judged = meeting.day.last_judged(meeting.car("7"))
        assert judged is not None
        assert judged.outcomes["3"] == "fail"
        desk.key(ENTER)
        assert (desk.stage, desk.items) == (CAR, ())


def test_an_answer_that_is_gone_back_to_is_corrected(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ChecksDesk(meeting, "KV")
        desk.answer("7")
        desk.answer("SO 8")
        first = meeting.car("7").of(Measured)[0].number
        desk.key(BACK)
        assert (desk.stage, desk.at, desk.typed) == (ITEM, 0, "SO 8")
        desk.answer("SO 7")
        facts = meeting.car("7").facts()["seals.sump"].content
        assert (facts.value, facts.corrects, facts.reason) == ("SO 7", first, MISTYPED)


def test_an_answer_that_stands_is_not_recorded_twice(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ChecksDesk(meeting, "KV")
        desk.answer("7")
        desk.answer("=")
        desk.key(BACK)
        desk.key(ENTER)
        assert len(measured(meeting)) == 1


def test_a_clause_without_a_fact_is_seen_or_has_a_defect(tmp_path: Path) -> None:
    procedure = PROCEDURE.replace('clauses: ["5"]', 'clauses: ["6", "7"]')
    with a_meeting(tmp_path, procedure=procedure) as meeting:
        desk = ChecksDesk(meeting, "KV")
        for answer in ("7", "=", "a panel is cracked"):
            desk.answer(answer)
        told = [(n.content.topic, n.content.clause, n.content.text) for n in meeting.car("7").of(Noted)]
        assert told == [("seen", "6", ""), ("defect", "7", "a panel is cracked")]


def test_what_cannot_be_is_told_and_asked_again(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ChecksDesk(meeting, "KV")
        desk.answer("7")
        desk.answer("")
        desk.answer("9000")
        assert (desk.stage, desk.at, bool(desk.problems)) == (ITEM, 1, True)
        assert measured(meeting) == []


def test_a_car_that_is_not_entered_is_told(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text()}) as meeting:
        desk = ChecksDesk(meeting, "KV")
        desk.answer("71")
        assert (desk.stage, desk.problems[0].code) == (CAR, "MT203")


def test_units_are_put_behind_bare_figures_only(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        facts = meeting.pack.vocabulary.facts
        height, seal = facts["dimensions.ride_height"], facts["seals.sump"]
        assert with_units("90", height) == "90 mm"
        assert with_units("9.0 cm", height) == "9.0 cm"
        assert with_units("4227", seal) == "4227"
