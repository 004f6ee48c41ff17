"""A wet Sunday from the first entry to the forger on Monday: what officials did stands, and what nobody did does not."""

from __future__ import annotations

import re
import sqlite3
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Protested,
    Weighed,
)
from checker.meeting.session.gear import checked, doubts
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import COMPLIES, FAILS, IN_DOUBT, UNSETTLED, standings
from checker.meeting.standing.verifying import verify
from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.scale_reading import ScaleReading
from checker.meeting.taking.closing import close
from checker.meeting.taking.entering import withdraw
from checker.meeting.taking.importing import import_weighings
from checker.meeting.taking.measuring import Finding, announce, measure
from checker.meeting.taking.ruling import Ruling, protest, rule
from checker.meeting.taking.weighing import weigh
from checker.reading.problems import InputError
from checker.report.words.findings import found_words
from tests.cli.meetings import Day as Commands
from tests.meeting.days import LOADS, PROCEDURE, a_meeting, car_text, refused, shifted, weighed
from tests.meeting.records import ToldClock
from tests.meeting.session.test_rules import WEIGHED
from tests.meeting.standing.test_verifying import put_back, rebuilt
from tests.meeting.tampering import forged, rows, tampered

CARS = {number: car_text(number, f"Bird {number}") for number in ("7", "8", "9", "10", "11", "12")}
LOW = car_text("12", "Bird 12", dimensions="{ride_height: 80 mm}")

MAPPING = """\
import: weighings
columns: {car: No, front_left: FL, front_right: FR, rear_left: RL, rear_right: RR, time: At}
fixed: {fuel: 6 L, gear: pads}
zone: UTC
"""


def at(clock: ToldClock, time: str) -> None:
    clock.now = datetime.fromisoformat(f"2026-05-03T{time}:00+00:00")


def pad(meeting: Meeting, shown: str) -> None:
    content = checked(meeting.gear["pads"], "rear_left", "20", shown)
    meeting.record("TB", lambda _: [content])


def judged(meeting: Meeting, *numbers: str) -> None:
    for number in numbers:
        meeting.judge_and_record(meeting.car(number), "TB")


def statuses(meeting: Meeting) -> dict[str, str]:
    return {one.car: one.status for one in standings(meeting)}


def sunday(folder: Path) -> Path:
    """The day itself; gives its file, closed."""
    clock = ToldClock()
    procedure = PROCEDURE.replace("pads: swapped side to side", "pads: as marked")
    meeting = a_meeting(folder, {**CARS, "12": LOW}, procedure=procedure)
    path = folder / "day.meeting"
    with meeting:
        meeting.store._clock = clock
        at(clock, "08:00")
        pad(meeting, "20")
        for number in CARS:
            measure(meeting, [Finding(number, "seals.sump", f"SO {number}")], "KV")

        # Two officials, one car: the second screen no longer shows the car as it is.
        with Meeting.open(path) as other:
            seen = other.day.number
            weighed(meeting, "7")
            with pytest.raises(InputError) as error:
                weigh(other, ScaleReading("7", LOADS), "KV", seen=seen)
            assert refused(error) == "MT218"
        weighed(meeting, "7")

        # A machine dies between a reading and its verdict: the car is in no result, and the closing waits for it.
        assert [car.number for car in meeting.due()] == ["7"]
        with pytest.raises(InputError) as error:
            close(meeting, "KV")
        assert refused(error) == "MT217"
        judged(meeting, "7")

        # Weighings that disagree turn no fail into a pass.
        weighed(meeting, "8", shifted(rear_left=-20))
        weighed(meeting, "8")
        judged(meeting, "8")
        assert statuses(meeting)["8"] == UNSETTLED
        weighed(meeting, "8", again="the two differ")
        weighed(meeting, "8")
        judged(meeting, "8")
        assert statuses(meeting)["8"] == COMPLIES

        # A pad drifts, is found and made good; the table of what was read on it comes only then.
        at(clock, "10:00")
        pad(meeting, "11")
        at(clock, "10:30")
        pad(meeting, "20")
        table, mapping = folder / "late.csv", folder / "mapping.yaml"
        loads = ";".join(LOADS.values())
        table.write_text(
            "No;FL;FR;RL;RR;At\n" + "".join(f"9;{loads};2026-05-03 09:{m}\n" for m in ("40", "45"))
        )
        mapping.write_text(MAPPING)
        import_weighings(meeting, GivenFile.read(table), GivenFile.read(mapping), "TB")
        judged(meeting, "9")
        assert (statuses(meeting)["9"], [doubt.car for doubt in doubts(meeting.day)][-1]) == (IN_DOUBT, "9")
        weighed(meeting, "9", again="on good pads")
        weighed(meeting, "9")
        for number in ("7", "8"):  # they stood on it since the morning's check, too
            weighed(meeting, number, again="on good pads")
            weighed(meeting, number)
        judged(meeting, "7", "8", "9")
        assert doubts(meeting.day) == []

        # It rains; a misread digit is corrected; a car goes home.
        announce(meeting, "event.wet", "yes", "KV")
        first = weighed(meeting, "10", shifted(front_left=100))
        weighed(meeting, "10", corrects=first.number, reason="a digit was misread")  # type: ignore[arg-type]
        weighed(meeting, "10")
        withdraw(meeting, "11", "drowned its ignition", "KV")
        for _ in range(2):
            weighed(meeting, "12")
        judged(meeting, "7", "8", "9", "10", "12")

        # A protest holds the closing up until it is answered; a fail is allowed, and says so.
        lodged = protest(meeting, Protested("7", "3", "it scrapes in the wet", "8"), "KV")
        with pytest.raises(InputError) as error:
            close(meeting, "KV")
        assert refused(error) == "MT219"
        rule(meeting, Ruling("7", "3", "stand", "measured again at 90 mm", lodged), "KV", found_words)
        assert statuses(meeting)["12"] == FAILS
        rule(meeting, Ruling("12", "3", "allow", "the kerb did it"), "TB", found_words)
        at(clock, "17:00")
        close(meeting, "KV")
        kinds = {number: status for number, status in statuses(meeting).items() if number != "11"}
        assert set(kinds.values()) == {COMPLIES}
    return path


@pytest.mark.deep
def test_the_day_is_sound_and_a_forger_is_found_on_monday(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = sunday(tmp_path)
    day = Commands(tmp_path, capsys)
    ran = day("results")
    assert ran.code == 0
    assert "clause 3 allowed by an official: the kerb did it (computed: FAILS)" in " ".join(ran.out.split())
    whole = re.search(r"hash ((?:[0-9a-f]{4}\s?){16})", ran.out)
    assert whole
    paper = " ".join(whole[1].split())
    slip = re.search(r"hash ((?:[0-9a-f]{4} ?){5})", day("slip", "7").out)
    assert slip
    found = verify(path, [paper, slip[1]])
    assert found.sound
    assert [match.following for match in found.matched] == [0, 0]
    sound, entries = path.read_bytes(), rows(path)

    # A well-hashed weighing by somebody who never signed on, after the closing.
    number = forged(path, "XX", replace(WEIGHED, car="12"))
    (fault,) = verify(path, recompute=False).faults
    assert (fault.number, fault.code) == (number, "MT410")
    assert day("results").out.startswith("RECORD NOT SOUND")
    assert day("close", "--reopen", "to add more", "--by", "KV").code == 3

    # The same in an official's name before the closing, in a chain made anew: no verdict comes out of it.
    at_closing = [entry for entry in entries if entry.kind != "closed"]
    light = next(i for i, e in enumerate(at_closing) if e.kind == "weighed" and '"car":"10"' in e.content)
    swapped = at_closing[light].content.replace("255.0", "155.0")
    assert swapped != at_closing[light].content
    at_closing[light] = replace(at_closing[light], content=swapped)
    path.write_bytes(sound)
    put_back(path, rebuilt([*at_closing, entries[-1]]))
    assert not verify(path, [paper]).sound

    # The closing and what was ruled before it are cut off: only the paper knows.
    path.write_bytes(sound)
    put_back(path, entries[:-3])
    assert verify(path, recompute=False).sound
    assert {fault.code for fault in verify(path, [paper], recompute=False).faults} == {"MT405"}

    # One load is changed where it stands.
    path.write_bytes(sound)
    statement = "UPDATE entry SET content = replace(content, '255.0', '155.0') WHERE number = ?"
    tampered(path, (statement, (light + 1,)))
    (fault,) = verify(path, recompute=False).faults
    assert (fault.number, fault.code) == (light + 1, "MT401")

    # A trigger that swallows what is put in from now on.
    path.write_bytes(sound)
    database = sqlite3.connect(path, isolation_level=None)
    database.execute("CREATE TRIGGER quiet BEFORE INSERT ON entry BEGIN SELECT RAISE(IGNORE); END")
    database.close()
    for words in (("board",), ("close", "--reopen", "why", "--by", "KV")):
        ran = day(*words)
        assert (ran.code, ran.out, "MT404" in ran.err) == (3, "", True)
    path.write_bytes(sound)
    with Meeting.open(path) as meeting:
        assert meeting.car("10").of(Weighed)[0].content.occasion == SCRUTINEERING
    assert verify(path, [paper]).sound
