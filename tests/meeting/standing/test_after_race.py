from __future__ import annotations

from pathlib import Path

from checker.meeting.record.car_contents import Noted
from checker.meeting.standing.after_race import MarginMoved, look_again
from checker.meeting.taking.measuring import note
from tests.meeting.days import a_meeting, car_text, shifted, weighed

AFTER = "after the final"


def test_what_the_procedure_names_is_looked_at_whatever_happened(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        found = look_again(meeting, meeting.car("7"), AFTER)
        assert [(one.clause, one.title, one.why) for one in found] == [
            ("1", "Weight", ("the procedure says so",))
        ]


def test_what_comes_out_otherwise_than_at_scrutineering_is_looked_at(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        weighed(meeting)
        weighed(meeting, loads=shifted(front_left=-15), occasion=AFTER, fuel="1 L", wear="worn")
        found = {one.clause: one.why for one in look_again(meeting, meeting.car("7"), AFTER)}
        assert found == {
            "1": ("the procedure says so", "pass at scrutineering, fail now"),
            "2": (MarginMoved("47/59 %", "47/23 %"),),
        }


def test_a_lost_part_brings_up_the_clauses_it_bears_on(tmp_path: Path) -> None:
    parts = "[{name: front discs, category: brakes/disc, thickness: 9 mm}, {name: rear discs, category: brakes/disc,"
    with a_meeting(tmp_path, {"7": car_text(components=parts + " thickness: 8.5 mm}]")}) as meeting:
        note(meeting, [Noted("7", AFTER, "lost", "", part="rear discs")], "KV")
        found = {one.clause: one.why for one in look_again(meeting, meeting.car("7"), AFTER)}
        assert found == {"1": ("the procedure says so",), "6": ("rear discs was lost",)}
        assert {one.clause for one in look_again(meeting, meeting.car("7"), "after a heat")} == {"1"}


def test_lost_ballast_is_a_lost_part(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        note(meeting, [Noted("7", AFTER, "lost", "bolt sheared", part="B1")], "KV")
        found = {one.clause: one.why for one in look_again(meeting, meeting.car("7"), AFTER)}
        assert found["8"] == ("B1 was lost",)
