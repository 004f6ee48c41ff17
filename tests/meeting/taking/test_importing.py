"""Tables of weighings: each bad table gets a clear answer, and nothing of it is recorded."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Weighed,
)
from checker.meeting.record.clock import oddities
from checker.meeting.record.contents import Imported
from checker.meeting.session.gear import checked, doubts
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from checker.meeting.tables.given import GivenFile
from checker.meeting.taking.importing import ImportedRows, import_weighings
from checker.reading.problems import InputError
from tests.meeting.days import PROCEDURE, a_meeting, car_text, refused, weighed
from tests.meeting.records import ToldClock

CARS = {number: car_text(number, f"Bird {number}") for number in ("7", "8", "9")}

MAPPING = """\
import: weighings
columns: {car: No, front_left: FL, front_right: FR, rear_left: RL, rear_right: RR, fuel: Fuel, pads: Pads, time: When}
units: {loads: kg, fuel: L}
zone: "+01:00"
words: {pads: {A: as marked, B: swapped side to side}}
fixed: {gear: pads, driver: out, tyres: dry}
"""

HEADING = "When;Pads;RR;RL;FR;FL;Fuel;No"


def row(
    car: str = "7", pads: str = "A", when: str = "2026-05-03 09:15", fl: str = "155,0", fuel: str = "6"
) -> str:
    return f"{when};{pads};141,0;153,0;141,0;{fl};{fuel};{car}"


def imported(
    meeting: Meeting,
    tmp_path: Path,
    *rows: str,
    mapping: str = MAPPING,
    heading: str = HEADING,
    as_it_is: bool = False,
    again: str = "",
) -> ImportedRows:
    table, mapping_file = tmp_path / "pads.csv", tmp_path / "mapping.yaml"
    table.write_bytes(b"\xef\xbb\xbf" + "\r\n".join([heading, *rows]).encode() + b"\r\n")
    mapping_file.write_text(mapping)
    given, how = GivenFile.read(table), GivenFile.read(mapping_file)
    return import_weighings(meeting, given, how, "TB", as_it_is=as_it_is, again=again)


def test_a_table_in_any_order_becomes_weighings(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        done = imported(meeting, tmp_path, row("7"), row("8"), row("7", "B", "46145,40", fl="155,5"))
        assert [weighing.car for weighing in done.readings] == ["7", "8", "7"]
        first = meeting.car("7").weighings(SCRUTINEERING)[0]
        loads = {
            "front_left": "155.0 kg",
            "front_right": "141.0 kg",
            "rear_left": "153.0 kg",
            "rear_right": "141.0 kg",
        }
        assert first.content == Weighed(
            car="7",
            occasion=SCRUTINEERING,
            loads=loads,
            gear="pads",
            pads="as marked",
            fuel="6 L",
            driver="out",
            tyres="dry",
            wear="new",
            source=f"{tmp_path / 'pads.csv'}, line 2, 2026-05-03T09:15:00",
            taken="2026-05-03T08:15:00Z",
        )
        head = meeting.day.imports[0].content
        assert isinstance(head, Imported)
        assert head.rows == 3
        assert meeting.store.file(head.sha256) == (tmp_path / "pads.csv").read_bytes()
        assert meeting.store.file(head.mapping) == MAPPING.encode()


@pytest.mark.parametrize(
    ("rows", "codes", "word"),
    [
        ([row("71")], ["MT203"], "car 71 is not entered"),
        ([row(""), row("8")], ["MT306"], "names no car"),
        ([row(), row()], ["MT310"], "same as that of line 2"),
        ([row(), row(fl="155,5"), row(fl="156,0")], ["MT309"], "weighed twice"),
        ([row(fl="=cmd|' /C calc'!A0")], ["MT304"], "formula"),
        ([row(fl="1,550")], ["MT305"], "two ways"),
        ([row(fl="heavy")], ["MT306"], "no number"),
        ([row(when="03/05/26")], ["MT307"], "no day"),
        ([row(when="2026-05-02 09:15")], ["MT307"], "the meeting of 2026-05-03"),
        ([row(when="0,4")], ["MT307"], "1900"),
        ([row(pads="C")], ["MT210"], "'C'"),
        ([row(fuel="60")], ["RD214"], "more than the tank holds"),
        ([row(fl="")], ["MT210"], "make no weighing"),
        ([row("71"), row("72"), row("8")], ["MT203", "MT203"], "car 71"),
        (
            [row("7"), row("7", "B", fuel="9")],
            ["MT210"],
            "fuel 9 L in this weighing, 6 L in the one it repeats",
        ),
    ],
)
def test_a_row_that_cannot_be_taken_is_named_and_nothing_is_recorded(
    tmp_path: Path, rows: list[str], codes: list[str], word: str
) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        before = meeting.day.number
        with pytest.raises(InputError) as error:
            imported(meeting, tmp_path, *rows)
        assert [problem.code for problem in error.value.problems] == codes
        assert word in error.value.problems[0].message
        assert error.value.problems[0].span is not None
        assert error.value.problems[0].span.file == str(tmp_path / "pads.csv")
        assert meeting.day.number == before == len(meeting.store.entries())


def test_a_car_that_was_weighed_by_hand_already_is_noticed(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        weighed(meeting)
        weighed(meeting)
        with pytest.raises(InputError) as error:
            imported(meeting, tmp_path, row("7"))
        assert refused(error) == "MT309"


WIDE = (
    "{fuel: 6 L, driver: out, tyres: dry, readings: "
    "[{front_left: 160 kg, front_right: 136 kg, rear_left: 158 kg, rear_right: 136 kg}]}"
)


def test_pads_swapped_by_mistake_hold_the_import_up_until_an_official_says_so(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text(weighing=WIDE)}) as meeting:
        swapped = "2026-05-03;A;158;136;160;136;6;7"
        with pytest.raises(InputError) as error:
            imported(meeting, tmp_path, swapped)
        assert refused(error) == "MT312"
        assert "left and right were exchanged" in error.value.problems[0].message
        done = imported(meeting, tmp_path, swapped, as_it_is=True)
        assert [warning.code for warning in done.warnings] == ["MT312"]


def test_another_car_s_loads_hold_the_import_up(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting, pytest.raises(InputError) as error:
        imported(meeting, tmp_path, row(fl="255,0"))
    assert refused(error) == "MT313"


def test_the_same_file_is_not_imported_twice(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        imported(meeting, tmp_path, row("7"))
        with pytest.raises(InputError) as error:
            imported(meeting, tmp_path, row("7"))
        assert refused(error) == "MT311"
        imported(meeting, tmp_path, row("8"))


def test_units_may_stand_in_the_cells_and_a_decimal_mark_may_be_stated(tmp_path: Path) -> None:
    mapping = MAPPING.replace("words:", "decimal: comma\nwords:")
    with a_meeting(tmp_path, CARS) as meeting:
        done = imported(meeting, tmp_path, row(fl="155,000 kg", fuel="6,0 L"), mapping=mapping)
        assert done.readings[0].loads["front_left"] == "155.000 kg"
        assert done.readings[0].fuel == "6.0 L"


def test_pounds_from_another_display(tmp_path: Path) -> None:
    columns = "import: weighings\ncolumns: {car: No, total: All}\n"
    mapping = columns + "units: {loads: lb}\nfixed: {fuel: 6 L, gear: bridge}\n"
    with a_meeting(tmp_path, CARS) as meeting:
        done = imported(meeting, tmp_path, "7;1300.5", mapping=mapping, heading="No;All")
        assert done.readings[0].loads == {"total": "1300.5 lb"}
        assert done.readings[0].fuel == "6 L"


@pytest.mark.parametrize(
    ("mapping", "word"),
    [
        ("import: cars\ncolumns: {car: No}\n", "no mapping of weighings"),
        ("import: weighings\n", "no column tells the car"),
        ("import: weighings\ncolumns: {total: All}\n", "no column tells the car"),
        ("import: weighings\ncolumns: {car: No, totl: All}\n", "'totl'"),
        ("import: weighings\ncolumns: {car: No, total: 5}\n", "text was wanted"),
        ("import: weighings\ncolumns: {car: No}\ndecimal: dot\n", "'dot'"),
        ("import: weighings\ncolumns: {car: No, fuel: F}\nfixed: {fuel: 6 L}\n", "fixed, and a column"),
        ("import: weighings\ncolumns: {car: No}\nwords: {colour: {a: b}}\n", "'colour'"),
        ("import: weighings\ncolumns: {car: No}\nunits: {mass: kg}\n", "'mass'"),
    ],
)
def test_a_mapping_that_says_what_is_not_known_is_told_with_its_place(
    tmp_path: Path, mapping: str, word: str
) -> None:
    with a_meeting(tmp_path, CARS) as meeting, pytest.raises(InputError) as error:
        imported(meeting, tmp_path, row(), mapping=mapping)
    assert refused(error) == "MT251"
    assert word in error.value.problems[0].message
    assert error.value.problems[0].span is not None


def test_a_column_that_the_mapping_names_and_the_table_lacks_is_told(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting, pytest.raises(InputError) as error:
        imported(meeting, tmp_path, row(), heading=HEADING.replace("FL", "Front L"))
    assert refused(error) == "MT303"
    assert "'FL' for front_left" in error.value.problems[0].message


def check(meeting: Meeting, shown: str, since: str = "") -> int:
    content = checked(meeting.gear["pads"], "rear_left", "20", shown, since)
    return meeting.record("TB", lambda _: [content])[0].number


def test_a_late_table_does_not_slip_past_a_check_that_failed_before_it_came(tmp_path: Path) -> None:
    """The pads were read at 9:15, found bad, made good and found good again; only then did somebody bring the table."""
    clock = ToldClock()
    with a_meeting(tmp_path, CARS) as meeting:
        meeting.store._clock = clock
        for time, shown in (
            ("07:10", "20"),
            ("09:00", "11"),
            ("09:30", "20"),
        ):  # 08:00 to 10:30 where it is read
            clock.now = datetime.fromisoformat(f"2026-05-03T{time}:00+00:00")
            check(meeting, shown)
        clock.now = datetime.fromisoformat("2026-05-03T10:00:00+00:00")
        imported(
            meeting,
            tmp_path,
            row("7", when="2026-05-03 09:15"),
            row("8", when="2026-05-03 10:45"),
            row("9", when="2026-05-03 07:45"),
        )
        assert [doubt.car for doubt in doubts(meeting.day)] == ["7"]
        assert oddities(meeting.day) == []
        check(meeting, "11", since="2026-05-03T09:40:00Z")
        assert [doubt.car for doubt in doubts(meeting.day)] == ["7", "8"]


def test_a_table_that_was_read_after_it_was_recorded_is_told(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        imported(meeting, tmp_path, row("7", when="2026-05-03 22:15"))
        (told,) = oddities(meeting.day)
        assert told.code == "MT409"
        assert "after it was recorded, says its table" in told.message


def test_a_zone_that_is_none_is_told(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting, pytest.raises(InputError) as error:
        imported(meeting, tmp_path, row(), mapping=MAPPING.replace("+01:00", "summer"))
    assert error.value.problems[0].message == "'summer' is no zone"


def test_cars_of_a_table_that_were_weighed_before_are_weighed_anew_for_a_reason(tmp_path: Path) -> None:
    procedure = PROCEDURE.replace("{when: after a fail, at_most: 1}", "{when: always}")
    with a_meeting(tmp_path, CARS, procedure=procedure) as meeting:
        for _ in range(2):
            weighed(meeting, "7")
        table = (
            row("8"),
            row("7", when="2026-05-03 09:20"),
            row("7", "B", when="2026-05-03 09:30", fl="155,5"),
        )
        with pytest.raises(InputError) as error:
            imported(meeting, tmp_path, *table)
        assert {p.code for p in error.value.problems} == {"MT309"}
        done = imported(meeting, tmp_path, *table, again="the pads were levelled")
        assert [one.again for one in done.readings] == ["", "the pads were levelled", ""]
        assert [len(weighings) for weighings in meeting.car("7").sets(SCRUTINEERING)] == [2, 2]
    assert verify(tmp_path / "day.meeting").sound


def test_a_table_on_which_a_car_may_not_be_weighed_again_says_so_at_its_row(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        for _ in range(2):
            weighed(meeting, "7")
        with pytest.raises(InputError) as error:
            imported(meeting, tmp_path, row("8"), row("7"), again="it rained")
        (problem,) = error.value.problems
        assert problem.code == "MT210"
        assert problem.span is not None
        assert problem.span.line == 3
