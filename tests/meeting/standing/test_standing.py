from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.record.car_contents import SCRUTINEERING, STAND, Noted
from checker.meeting.session.gear import checked, doubts
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import Standing, complies, standings
from checker.meeting.taking.entering import withdraw
from checker.meeting.taking.measuring import Finding, measure, note
from checker.meeting.taking.ruling import Ruling, rule
from checker.report.words.findings import found_words
from tests.meeting.days import PROCEDURE, a_meeting, car_text, shifted, weighed


def only(meeting: Meeting) -> Standing:
    (found,) = standings(meeting)
    return found


def test_a_car_goes_through_its_day_step_by_step(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        seen: list[tuple[str, str]] = []

        def look() -> None:
            found = only(meeting)
            seen.append((found.status, found.next_step))

        look()
        measure(meeting, [Finding("7", "seals.sump", "SO 7")], "KV")
        look()
        weighed(meeting)
        look()
        weighed(meeting)
        look()
        meeting.judge_and_record(meeting.car("7"), "KV")
        look()
        measure(meeting, [Finding("7", "engine.inlet_bore", "36.0 mm", gauge="no-go")], "KV")
        look()
        note(meeting, [Noted("7", SCRUTINEERING, "seen", "", clause="3")], "KV")
        meeting.judge_and_record(meeting.car("7"), "KV")
        look()
        assert seen == [
            ("waits", "papers: clause 5"),
            ("waits", "scales: weighing 1 of 2"),
            ("on the scales", "scales: weighing 2 of 2, pads swapped side to side"),
            ("to be judged", "gauges: clauses 3, 4"),
            ("complies", "gauges: clauses 3, 4"),
            ("to be judged", "gauges: clause 3"),
            ("complies", ""),
        ]


def test_a_car_weighed_on_a_bad_pad_is_in_doubt_until_it_is_weighed_again(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "KV")
        bad = checked(meeting.gear["pads"], "rear_left", "20", "14")
        good = checked(meeting.gear["pads"], "rear_left", "20", "20")
        meeting.record("TB", lambda _: [bad, good])
        assert doubts(meeting.day)
        assert (only(meeting).status, only(meeting).next_step) == (
            "in doubt",
            "weigh again: pads failed a check",
        )
        weighed(meeting, again="pad")
        weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "KV")
        assert only(meeting).status == "unsettled"


def test_a_failing_car_shows_its_clauses_and_margins(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting, loads=shifted(front_left=-12))
        weighed(meeting, loads=shifted(front_left=-13))
        measure(meeting, [Finding("7", "dimensions.ride_height", "80 mm")], "KV")
        meeting.judge_and_record(meeting.car("7"), "KV")
        found = only(meeting)
        assert (found.failing, dict(found.margins)) == (("1", "3"), {"1": "-5/2 kg", "3": "-5 mm"})


def test_after_a_race_the_weighing_of_that_occasion_is_what_counts(tmp_path: Path) -> None:
    procedure = PROCEDURE.replace("after_race: {weighings: 1", "after_race: {weighings: 2")
    with a_meeting(tmp_path, procedure=procedure) as meeting:
        weighed(meeting)
        weighed(meeting, occasion="after the final", fuel="1 L")
        found = only(meeting)
        assert (found.occasion, found.weighings, found.due) == ("after the final", 1, 2)
        assert found.next_step == "weigh (after the final)"


def test_a_withdrawn_car_has_nothing_to_do(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        withdraw(meeting, "7", "engine", "KV")
        assert (only(meeting).status, only(meeting).next_step) == ("withdrawn", "")


def test_without_steps_the_weighings_are_the_only_step(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text()}, procedure=None) as meeting:
        assert only(meeting).next_step == "weighing 1 of 1"
        weighed(meeting)
        assert only(meeting).next_step == ""


def with_a_defect(
    meeting: Meeting, text: str = "a disc is cracked", state: str = "open", clause: str = "6"
) -> int:
    """The number of the entry; the car of `a_meeting` complies but for it."""
    if not meeting.car("7").weighings(SCRUTINEERING):
        measure(meeting, [Finding("7", "seals.sump", "SO 7")], "KV")
        weighed(meeting)
        weighed(meeting)
    said = note(meeting, [Noted("7", SCRUTINEERING, "defect", text, clause=clause, state=state)], "KV")
    meeting.judge_and_record(meeting.car("7"), "KV")
    return said[0]


def test_a_defect_under_a_clause_leaves_the_car_to_an_official(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        with_a_defect(meeting)
        found = only(meeting)
        assert (found.status, found.unsettled, found.computed) == ("unsettled", ("6",), "yes")
        assert [record.content.text for record in found.defects] == ["a disc is cracked"]
        assert [complies(computed, found) for computed in (True, False, None)] == [None, False, None]
        assert found.in_tally == "complies"  # as older records have it: their closings are worked out again


@pytest.mark.parametrize(
    "end",
    [
        Noted("7", SCRUTINEERING, "seen", "", clause="6"),
        Noted("7", SCRUTINEERING, "defect", "A disc is  cracked", clause="6", state="mended"),
        Noted("7", SCRUTINEERING, "defect", "a disc is cracked", state="mended"),
    ],
    ids=["seen as it should be", "mended", "mended, without the clause"],
)
def test_a_defect_ends_where_it_is_mended_or_the_clause_is_found_good(tmp_path: Path, end: Noted) -> None:
    with a_meeting(tmp_path) as meeting:
        with_a_defect(meeting)
        note(meeting, [end], "KV")
        assert (only(meeting).status, only(meeting).defects) == ("complies", ())


@pytest.mark.parametrize(
    "other",
    [
        Noted("7", SCRUTINEERING, "seen", "", clause="3"),
        Noted("7", SCRUTINEERING, "defect", "a disc is cracked", clause="3", state="mended"),
        Noted("7", SCRUTINEERING, "defect", "a mirror is loose", clause="6", state="mended"),
        Noted("7", SCRUTINEERING, "remark", "a disc is cracked", clause="6"),
    ],
    ids=["another clause seen", "under another clause", "another defect", "a remark"],
)
def test_what_is_said_of_something_else_ends_no_defect(tmp_path: Path, other: Noted) -> None:
    with a_meeting(tmp_path) as meeting:
        with_a_defect(meeting)
        note(meeting, [other], "KV")
        assert (only(meeting).status, only(meeting).unsettled) == ("unsettled", ("6",))


def test_a_ruling_answers_the_defects_that_were_noted_before_it(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        with_a_defect(meeting)
        rule(meeting, Ruling("7", "6", STAND, "within what the maker allows"), "KV", found_words)
        assert (only(meeting).status, len(only(meeting).defects)) == ("complies", 1)
        with_a_defect(meeting, "another disc is cracked")
        assert only(meeting).status == "unsettled"


@pytest.mark.parametrize("clause", ["", "7"], ids=["no clause", "advice"])
def test_a_defect_that_no_rule_forbids_is_told_and_decides_nothing(tmp_path: Path, clause: str) -> None:
    with a_meeting(tmp_path) as meeting:
        with_a_defect(meeting, clause=clause)
        assert (only(meeting).status, len(only(meeting).defects)) == ("complies", 1)
