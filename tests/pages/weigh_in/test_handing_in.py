"""Lists of entries, tables of readings, what follows from the meeting before, and weighings that are not four wheels."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
import xlsxwriter

from checker.meeting.record.car_contents import Entered, Weighed
from checker.meeting.record.contents import Carried, Imported
from checker.meeting.standing.verifying import verify
from checker.reading.file_bytes import MOST_BYTES
from tests.meeting.days import LOADS, car_text
from tests.meeting.taking.test_carrying import before
from tests.pages.weigh_in.devices import WeighIn
from tests.pages.weigh_in.filled_in import MAPPING, READINGS

TABLE, HOW = ("table", "pads.csv", READINGS.encode()), ("mapping", "pads.yaml", MAPPING.encode())


def test_a_list_is_entered_with_the_declarations_that_were_sent_beside_it(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    table = ("list", "entries.csv", b"car,name,declaration\n9,,cars/9.yaml\n10,Teal,\n")
    file = ("declarations", "9.yaml", car_text("9").encode())
    assert device.hand_in("/day", "/day/list", [table, file]).status_code == 303
    entered = [one.content for one in weigh_in.entries("entered")][-2:]
    assert [(one.car, one.file, one.listed) for one in entered if isinstance(one, Entered)] == [
        ("9", "9.yaml", False),
        ("10", "entries.csv, line 3", True),
    ]


def test_a_declaration_that_a_list_names_is_looked_for_nowhere_else(
    weigh_in: WeighIn, tmp_path: Path
) -> None:
    there = tmp_path / "11.yaml"
    there.write_text(car_text("11"))
    device = weigh_in.device("KV")
    for name in (str(there), "/etc/passwd", "../11.yaml"):
        table = ("list", "entries.csv", f"car,declaration\n11,{name}\n".encode())
        told = device.hand_in("/day", "/day/list", [table])
        assert (told.status_code, "was not sent with the list" in told.text) == (422, True)
        assert "entries.csv:2:" in told.text


def test_a_list_with_other_headings_is_read_by_its_mapping(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    table = ("list", "entries.csv", b"No;Who\n12;Knot\n")
    mapping = ("mapping", "m.yaml", b"import: entries\ncolumns: {car: No, name: Who}\n")
    assert device.hand_in("/day", "/day/list", [table, mapping]).status_code == 303
    assert "column" in device.hand_in("/day", "/day/list", [table]).text


def test_a_table_of_readings_is_taken_whole_and_told_again_where_it_is_sent_again(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    answer = device.hand_in("/scales/table", "/scales/table", [TABLE, HOW])
    assert answer.status_code == 200
    assert "(imported) by TB, on disk" in answer.text
    (weighing,) = weigh_in.entries("weighed")
    assert isinstance(weighing.content, Weighed)
    assert (weighing.content.car, weighing.content.source) == ("8", "pads.csv, line 2")
    again = device.hand_in("/scales/table", "/scales/table", [TABLE, HOW])
    assert "was imported before" in again.text
    assert len(weigh_in.entries("imported")) == 1


def test_a_workbook_is_kept_as_the_text_it_was_read_as_and_verifies(weigh_in: WeighIn) -> None:
    written = io.BytesIO()
    with xlsxwriter.Workbook(written) as book:
        sheet = book.add_worksheet()
        for at, row in enumerate(READINGS.splitlines()):
            for column, cell in enumerate(row.split(";")):
                sheet.write(at, column, float(cell.replace(",", ".")) if at else cell)
    device = weigh_in.device("TB")
    table = ("table", "pads.xlsx", written.getvalue())
    assert device.hand_in("/scales/table", "/scales/table", [table, HOW]).status_code == 200
    (head,) = weigh_in.entries("imported")
    assert isinstance(head.content, Imported)
    assert head.content.file == "pads.xlsx.csv"
    assert verify(weigh_in.day).faults == ()


@pytest.mark.deep
@pytest.mark.parametrize(
    ("table", "words"),
    [
        (READINGS.replace(";155,0", ";=155"), "pads.csv:2"),
        (READINGS.replace("8;", "80;"), "pads.csv:2"),
        (READINGS.replace("155,0", "255,0"), "pads.csv:2"),
        ("", "has no heading line"),
        (READINGS + "#" * (MOST_BYTES // 2 - 400), "KiB were sent"),
    ],
)
def test_a_table_that_cannot_be_taken_is_told_by_its_line_and_nothing_is_entered(
    weigh_in: WeighIn, table: str, words: str
) -> None:
    device = weigh_in.device("TB")
    told = device.hand_in("/scales/table", "/scales/table", [("table", "a/pads.csv", table.encode()), HOW])
    assert told.status_code in (413, 422)
    assert words in told.text
    assert weigh_in.entries("imported") == []


def test_what_looks_wrong_in_a_table_is_taken_where_it_is_said_to_be_right(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    table = ("table", "pads.csv", READINGS.replace("155,0", "255,0").encode())
    answer = device.hand_in("/scales/table", "/scales/table", [table, HOW], as_it_is="yes")
    assert answer.status_code == 200
    assert "notice open" in answer.text, "the warning is told"


def test_defects_seals_and_places_are_taken_over(weigh_in: WeighIn, tmp_path: Path) -> None:
    device = weigh_in.device("KV")
    old = ("before", "last.meeting", before(tmp_path).read_bytes())
    results = ("results", "results.csv", b"car,place\n7,1\n44,2\n")
    answer = device.hand_in("/day", "/day/carry", [old, results])
    assert answer.status_code == 200
    assert "not entered here: 44" in answer.text
    (carried,) = weigh_in.entries("carried")
    assert isinstance(carried.content, Carried)
    assert "crack in the stub axle" in device.get("/cars?car=7").text
    nothing = device.post("/day/carry", device.hidden("/day", "/day/carry"))
    assert "there is nothing to take over from" in nothing.text


@pytest.mark.parametrize(
    ("loads", "kept"),
    [
        ({"left": "308", "right": "282"}, {"left": "308 kg", "right": "282 kg"}),
        ({"front": "296", "rear": "294"}, {"front": "296 kg", "rear": "294 kg"}),
        ({"total": "590"}, {"total": "590 kg"}),
    ],
)
def test_a_car_is_weighed_by_axle_by_side_or_in_one_figure(
    weigh_in: WeighIn, loads: dict[str, str], kept: dict[str, str]
) -> None:
    device = weigh_in.device("TB")
    form = {**device.hidden("/scales/otherwise?car=7"), **loads, "gear": "bridge", "fuel": "6"}
    answer = device.post("/scales/otherwise", form)
    assert answer.status_code == 303, answer.text
    (weighing,) = weigh_in.entries("weighed")
    assert isinstance(weighing.content, Weighed)
    assert (weighing.content.loads, weighing.content.gear, weighing.content.fuel) == (kept, "bridge", "6 L")
    assert "/scales/otherwise?corrects=" in device.get(answer.headers["location"]).text
    again = {**device.hidden(f"/scales/otherwise?corrects={weighing.number}"), **loads, "reason": "misread"}
    assert device.post("/scales/otherwise", {**again, "gear": "bridge"}).status_code == 303
    assert len(weigh_in.entries("weighed")) == 2


def test_pads_may_be_set_otherwise_and_a_slip_is_asked_about(weigh_in: WeighIn) -> None:
    device = weigh_in.device("TB")
    form = {**device.hidden("/scales/otherwise?car=7"), **LOADS, "fuel": "6", "pads": "swapped diagonally"}
    asked = device.post("/scales/otherwise", {**form, "front_left": "255"})
    assert "Right car? All digits typed?" in asked.text
    assert 'value="255"' in asked.text
    assert weigh_in.entries("weighed") == []
    assert device.post("/scales/otherwise", form).status_code == 303
    (weighing,) = weigh_in.entries("weighed")
    assert weighing.content.pads == "swapped diagonally"  # type: ignore[union-attr]
    nothing = {**device.hidden("/scales/otherwise?car=8"), "fuel": "6"}
    assert device.post("/scales/otherwise", nothing).status_code == 422


def test_an_official_who_came_later_is_signed_on_and_the_pin_is_told(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    answer = device.post("/day/officials", {**device.hidden("/day", "/day/officials"), "initials": "AL"})
    assert weigh_in.officials.pin("AL") in answer.text
    assert weigh_in.device().sign_on("AL", weigh_in.officials.pin("AL")).status_code == 303
    taken = {**device.hidden("/day", "/day/officials"), "initials": "TB"}
    refused = device.post("/day/officials", taken)
    assert refused.status_code == 422
    assert weigh_in.officials.pin("TB") not in refused.text
