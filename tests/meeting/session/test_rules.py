"""One state machine takes and verifies: whatever would not be taken is not sound where a forger has put it in."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Entered,
    Judged,
    Measured,
    Noted,
    Protested,
    Ruled,
    Weighed,
    Withdrawn,
)
from checker.meeting.record.content_form import to_plain
from checker.meeting.record.contents import (
    Announced,
    Carried,
    Closed,
    Content,
    Drawn,
    GearChecked,
    Imported,
    Opened,
    Reopened,
    SignedOn,
    Struck,
)
from checker.meeting.record.lots import in_drawn_order
from checker.meeting.record.rows import digest_of
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from checker.meeting.taking.closing import close
from checker.meeting.taking.entering import withdraw
from checker.meeting.taking.measuring import Finding, measure
from checker.reading.problems import InputError
from tests.meeting.days import LOADS, a_meeting, car_text, refused, weighed
from tests.meeting.tampering import forged, rows

CARS = {number: car_text(number, f"Bird {number}") for number in ("7", "8", "9")}
"""7 has been weighed twice, 8 once, 9 not at all and has withdrawn."""

WEIGHED = Weighed(
    "8", SCRUTINEERING, {wheel: f"{load} kg" for wheel, load in LOADS.items()}, "pads", pads="swapped side to side",
    fuel="6 L", driver="out", tyres="dry", wear="new",
)  # fmt: skip
MEASURED = Measured("8", SCRUTINEERING, "seals.sump", "SO 8")
NOTED = Noted("8", SCRUTINEERING, "remark", "clean")
RULED = Ruled("7", "3", "reject", "too low", computed="pass", found="", rests_on=5)
TABLE, MAPPING = b"car;total", b"import: weighings"


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    folder = tmp_path_factory.mktemp("rules")
    with a_meeting(folder, CARS) as meeting:
        weighed(meeting, "7")
        weighed(meeting, "7")
        weighed(meeting, "8")
        measure(meeting, [Finding("7", "seals.sump", "SO 7")], "KV")
        meeting.judge_and_record(meeting.car("7"), "TB")
        withdraw(meeting, "9", "gearbox", "KV")
    return (folder / "day.meeting").read_bytes()


@pytest.fixture
def day(sound: bytes, tmp_path: Path) -> Path:
    path = tmp_path / "day.meeting"
    path.write_bytes(sound)
    return path


def check(applied: str = "20 kg", shown: str = "20.5 kg", **more: object) -> GearChecked:
    """A good check of a pad, or something that is said to be one."""
    return replace(GearChecked("pads", "rear_left", applied, shown, allowed="0.75 kg", good=True), **more)  # type: ignore[arg-type]


REFUSED: list[tuple[Content, str]] = [
    (SignedOn("KV"), "MT213"),
    (SignedOn(" AL"), "MT213"),
    (SignedOn(""), "MT213"),
    (Entered("7", "Ruff", digest_of(TABLE), "7.yaml"), "MT206"),
    (Withdrawn("9", "again"), "MT205"),
    (Withdrawn("8", " "), "MT206"),
    (Announced("event.wets", "yes"), "MT208"),
    (Announced("body.sound", "yes"), "MT208"),
    (Announced("event.wet", "yes", "71"), "MT203"),
    (check(good=False), "MT406"),
    (check(shown="11 kg"), "MT406"),
    (check(allowed="5 kg"), "MT406"),
    (check(gear="pats"), "MT211"),
    (check(pad="bonnet"), "MT211"),
    (replace(WEIGHED, car="7"), "MT309"),
    (replace(WEIGHED, car="9"), "MT205"),
    (replace(WEIGHED, car="71"), "MT203"),
    (replace(WEIGHED, again="rain"), "MT210"),
    (replace(WEIGHED, fuel="7 L"), "MT210"),
    (replace(WEIGHED, gear="bridge"), "MT210"),
    (replace(WEIGHED, gear="kitchen scales"), "MT211"),
    (replace(WEIGHED, pads="upside down"), "MT210"),
    (replace(WEIGHED, pads=""), "MT210"),
    (replace(WEIGHED, driver="asleep"), "MT210"),
    (replace(WEIGHED, wear="old"), "MT210"),
    (replace(WEIGHED, loads={"front_left": "155 kg"}), "MT210"),
    (replace(WEIGHED, loads={**WEIGHED.loads, "rear_left": "-3 kg"}), "MT209"),
    (replace(WEIGHED, loads={**WEIGHED.loads, "rear_left": "heavy"}), "MT209"),
    (replace(WEIGHED, fuel="a cup"), "MT209"),
    (replace(WEIGHED, occasion=" "), "MT210"),
    (replace(WEIGHED, corrects=5), "MT206"),
    (replace(WEIGHED, corrects=6, reason="x"), "MT207"),
    (replace(WEIGHED, corrects=999, reason="x"), "MT207"),
    (replace(WEIGHED, corrects=9, reason="x"), "MT207"),
    (replace(WEIGHED, source="pads.csv, line 2"), "MT310"),
    (Measured("8", SCRUTINEERING, "seals.sumps", "x"), "MT208"),
    (Measured("8", SCRUTINEERING, "event.wet", "yes"), "MT208"),
    (replace(MEASURED, value=" "), "MT209"),
    (replace(MEASURED, gauge="go"), "MT208"),
    (replace(MEASURED, car="9"), "MT205"),
    (replace(MEASURED, gear="eye"), "MT211"),
    (replace(MEASURED, corrects=9, reason="x"), "MT207"),
    (replace(NOTED, topic="gossip"), "MT209"),
    (replace(NOTED, text=""), "MT209"),
    (replace(NOTED, topic="seen"), "MT212"),
    (replace(NOTED, clause="99"), "MT212"),
    (replace(NOTED, topic="seal", state="intact"), "MT209"),
    (replace(NOTED, topic="seal", part="sump", state="missing"), "MT209"),
    (replace(NOTED, topic="lost"), "MT209"),
    (Struck(1, "x"), "MT207"),
    (Struck(999, "x"), "MT207"),
    (Struck(6, ""), "MT206"),
    (Judged("71", SCRUTINEERING, 3, "yes", outcomes={}, margins={}, program="x"), "MT203"),
    (Judged("7", SCRUTINEERING, 999, "yes", outcomes={}, margins={}, program="x"), "MT407"),
    (Judged("7", SCRUTINEERING, 0, "yes", outcomes={}, margins={}, program="x"), "MT407"),
    (Protested("71", "3", "low"), "MT203"),
    (Protested("7", "99", "low"), "MT212"),
    (Protested("7", "3", " "), "MT209"),
    (Protested("7", "3", "low", "71"), "MT203"),
    (replace(RULED, decision="shrug"), "MT209"),
    (replace(RULED, decision="allow"), "MT209"),
    (replace(RULED, reason=""), "MT206"),
    (replace(RULED, clause="99"), "MT212"),
    (replace(RULED, rests_on=999), "MT407"),
    (replace(RULED, protest=3), "MT207"),
    (replace(RULED, corrects=6), "MT207"),
    (Imported("pads.csv", digest_of(TABLE), digest_of(MAPPING), 0), "MT302"),
    (Drawn("", "s", ["7", "8"], list(reversed(in_drawn_order("s", ["7", "8"])))), "MT406"),
    (Drawn("", "s", ["7", "9"], ["7"]), "MT205"),
    (Drawn("", "s", [], []), "MT214"),
    (Drawn("", "s", ["7", "7"], ["7"]), "MT214"),
    (Reopened("why"), "MT216"),
    (
        Opened(
            "m",
            "t",
            "2026-05-03",
            "p",
            edition="1",
            pack_place="p",
            pack_sha256="0" * 64,
            pack_files={},
            officials=["KV"],
            program="x",
        ),
        "MT216",
    ),
]


@pytest.mark.parametrize(("content", "code"), REFUSED, ids=lambda value: getattr(value, "KIND", value))
def test_what_is_not_taken_is_not_sound_where_a_forger_puts_it(
    day: Path, content: Content, code: str
) -> None:
    with Meeting.open(day) as meeting, pytest.raises(InputError) as error:
        meeting.record("TB", lambda _: [content])
    assert refused(error) == code
    reason = error.value.problems[0].message
    before = len(rows(day))
    names = str(to_plain(content))
    number = forged(day, "TB", content, *(data for data in (TABLE, MAPPING) if digest_of(data) in names))
    assert number == before + 1
    found = verify(day, recompute=False)
    assert not found.sound
    told = [(fault.number, fault.code) for fault in found.faults]
    if told != [(0, "MT407")]:  # some cannot even be read at their place
        assert told == [(number, "MT410")]
        assert reason in found.faults[0].message


TAKEN: list[Content] = [
    SignedOn("AL"),
    Withdrawn("8", "clutch"),
    Announced("event.wet", "yes"),
    check(),
    WEIGHED,
    MEASURED,
    NOTED,
    Struck(6, "it was car 8"),
    Protested("7", "3", "low", "8"),
    Carried("", "", ""),
    Drawn("", "s", ["7", "8"], in_drawn_order("s", ["7", "8"])),
]


@pytest.mark.parametrize("content", TAKEN, ids=lambda value: value.KIND)
def test_what_is_taken_is_sound(day: Path, content: Content) -> None:
    with Meeting.open(day) as meeting:
        meeting.record("TB", lambda _: [content])
    assert verify(day, recompute=False).sound


@pytest.mark.parametrize("content", TAKEN, ids=lambda value: value.KIND)
def test_nothing_is_sound_that_nobody_signed_on_has_recorded_or_that_came_after_closing(
    day: Path, content: Content
) -> None:
    before = day.read_bytes()
    number = forged(day, "XX", content)
    (fault,) = verify(day).faults
    assert (fault.number, fault.code) == (number, "MT410")
    assert "no official signs as 'XX'" in fault.message

    day.write_bytes(before)
    with Meeting.open(day) as meeting:
        close(meeting, "KV")
    number = forged(day, "TB", content)
    (fault,) = verify(day, recompute=False).faults
    assert (fault.number, fault.code) == (number, "MT410")
    assert "the meeting was closed by KV" in fault.message


def test_a_tally_that_was_made_up_is_found(day: Path) -> None:
    forged(day, "KV", Closed({"complies": 3}))
    (fault,) = verify(day).faults
    assert fault.code == "MT406"
    assert "the tally was recorded as {'complies': 3}" in fault.message


def test_a_reading_that_no_car_can_have_is_found_when_every_car_is_read(day: Path) -> None:
    forged(day, "TB", Measured("8", SCRUTINEERING, "dimensions.ride_height", "3 km"))
    assert verify(day, recompute=False).sound
    found = verify(day)
    assert [fault.code for fault in found.faults] == ["RD208"]


def test_a_declaration_of_another_car_is_found(day: Path) -> None:
    with Meeting.open(day) as meeting:
        seventh = meeting.car("7").entered.content
    forged(day, "TB", replace(seventh, car="8", name="Bird 8", reason="a better one"))
    (fault,) = verify(day).faults
    assert "the declaration is of car 7 Bird 7, not of 8 Bird 8" in fault.message


def test_rows_of_a_table_come_with_it_all_or_none(day: Path) -> None:
    head = Imported("pads.csv", digest_of(TABLE), digest_of(MAPPING), 1)
    row = replace(WEIGHED, source="pads.csv, line 2")
    before = day.read_bytes()
    for by, second in (("TB", MEASURED), ("KV", row)):
        day.write_bytes(before)
        forged(day, "TB", head, TABLE, MAPPING)
        number = forged(day, by, second)
        told = {fault.message for fault in verify(day, recompute=False).faults if fault.number == number}
        assert any("1 of the weighings of 'pads.csv' are missing" in message for message in told)
    day.write_bytes(before)
    forged(day, "TB", head, TABLE, MAPPING)
    (fault,) = verify(day, recompute=False).faults
    assert fault.message == "1 weighings of the last table are missing"
    forged(day, "TB", row)
    assert verify(day, recompute=False).sound
