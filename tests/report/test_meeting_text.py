"""Board, slip, results and verification as an official reads them."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from checker.meeting.desk.scales import ScalesDesk
from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Noted,
    Protested,
)
from checker.meeting.session.gear import checked
from checker.meeting.session.session import Meeting
from checker.meeting.standing.after_race import look_again
from checker.meeting.standing.differences import differences
from checker.meeting.standing.standing import FAILS
from checker.meeting.standing.verifying import verify
from checker.meeting.tables.scale_reading import ScaleReading
from checker.meeting.taking.entering import enter, handed_in, withdraw
from checker.meeting.taking.measuring import Finding, measure, note
from checker.meeting.taking.ruling import Ruling, protest, rule
from checker.meeting.taking.weighing import weigh
from checker.report.desk.scales import verdict_lines
from checker.report.html.one_car import answers
from checker.report.html.sheet import Sheet
from checker.report.meeting.board import board_text, results_text
from checker.report.meeting.document import (
    meeting_document,
    results_document,
    slip_document,
)
from checker.report.meeting.handing_out import slip_of
from checker.report.meeting.sheet import sheet_text
from checker.report.meeting.slip import slip_text, verdict_text
from checker.report.meeting.verification import verification_document, verification_text
from checker.report.one_car.document import inspection_document
from checker.report.one_car.text import inspection_text
from checker.report.page import Page
from checker.report.wording import BENEFIT
from checker.report.words.findings import found_words
from checker.report.words.units import showing
from tests.examples import quick_first
from tests.meeting.days import LOADS, PACK, PROCEDURE, a_meeting, car_text, pack_folder, shifted, weighed

Golden = Callable[[str, str], None]


def a_day(tmp_path: Path) -> Meeting:
    """One of everything: a car that complies, fails, is allowed, is in doubt, waits, is late, has withdrawn."""
    cars = {
        "7": car_text("7", "Ruff"),
        "8": car_text("8", "Knot", dimensions="{ride_height: 80 mm}"),
        "9": car_text("9", "Gull", dimensions="{ride_height: 80 mm}"),
        "10": car_text("10", "Whimbrel of the long bill"),
        "11": car_text("11", "Smew"),
        "12": car_text("12", "Tern"),
    }
    meeting = a_meeting(tmp_path, cars)
    weighed(meeting, "12")
    weighed(meeting, "12")
    bad, good = (checked(meeting.gear["pads"], "rear_left", "20", shown) for shown in ("14", "20"))
    meeting.record("TB", lambda _: [bad, good])
    for number in ("7", "8", "9"):
        weighed(meeting, number)
        weighed(meeting, number, shifted(front_left=1))
        measure(meeting, [Finding(number, "seals.sump", f"SO {number}")], "KV")
        measure(meeting, [Finding(number, "engine.inlet_bore", "36.0 mm", gauge="no-go")], "KV")
        meeting.judge_and_record(meeting.car(number), "KV")
    measure(meeting, [Finding("7", "dimensions.ride_height", "88 mm")], "KV")
    note(meeting, [Noted("7", SCRUTINEERING, "seal", "SO 7", part="sump", state="intact")], "KV")
    meeting.judge_and_record(meeting.car("7"), "KV")
    against = protest(meeting, Protested("8", "3", "it drags on the ground", "7"), "KV")
    rule(meeting, Ruling("8", "3", "reject", "measured before us", against), "KV", found_words)
    rule(meeting, Ruling("9", "3", "allow", "the gauge stood on a stone"), "TB", found_words)
    withdraw(meeting, "11", "gearbox", "KV")
    (tmp_path / "late.yaml").write_text(car_text("13", "Late Bird"))
    enter(meeting, handed_in(meeting, [tmp_path / "late.yaml"], late=True), "KV")
    return meeting


def slip(meeting: Meeting, number: str, width: int = 80) -> str:
    car = meeting.car(number)
    judgement = meeting.judgement(car)
    found = differences(meeting, car, judgement.inspection.car)
    again = look_again(meeting, car, judgement.occasion) if judgement.occasion != SCRUTINEERING else []
    page = Page(width)
    slip_text(slip_document(meeting, car, judgement, found, again), page)
    return page.text()


def test_the_board_shows_what_presses_first(tmp_path: Path, golden: Golden) -> None:
    with a_day(tmp_path) as meeting:
        page = Page(80)
        board_text(meeting_document(meeting), page)
        golden("meeting-board.txt", page.text())


def test_a_board_without_room_says_how_many_are_left_out(tmp_path: Path) -> None:
    with a_day(tmp_path) as meeting:
        page = Page(80)
        document = meeting_document(meeting)
        board_text(document, page, most=3)
        assert page.text().splitlines()[-1] == "page 1 of 3"
        every = page.text()
        for turn in (1, 2):
            page = Page(80)
            board_text(document, page, most=3, turn=turn)
            assert page.text().splitlines()[-1] == f"page {turn + 1} of 3"
            every += page.text()
        assert all(f"\n{car['number']} " in every for car in document["cars"])


def test_nothing_is_wider_than_the_page(tmp_path: Path) -> None:
    with a_day(tmp_path) as meeting:
        for width in (32, 42, 80, 100):
            page = Page(width)
            board_text(meeting_document(meeting), page)
            results_text(results_document(meeting), page)
            text = page.text() + "".join(slip(meeting, number, width) for number in ("7", "8", "12"))
            assert max(map(len, text.splitlines())) <= width


def test_the_results_name_every_car_every_ruling_and_the_whole_hash(tmp_path: Path, golden: Golden) -> None:
    with a_day(tmp_path) as meeting:
        page = Page(80)
        results_text(results_document(meeting), page)
        text = page.text()
        assert meeting.day.hash in "".join(text.split())
        golden("meeting-results.txt", _without_hash(text))


@pytest.mark.parametrize("number", ["7", "8", "12"])
def test_a_slip_tells_an_entrant_everything(tmp_path: Path, golden: Golden, number: str) -> None:
    with a_day(tmp_path) as meeting:
        golden(f"meeting-slip-{number}.txt", _without_hash(slip(meeting, number)))


def test_a_slip_shows_readings_that_no_longer_count_and_why(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        first = weighed(meeting)
        again = ScaleReading("7", LOADS, corrects=first.number, reason="a digit was dropped")
        weigh(meeting, again, "KV")
        told = " ".join(slip(meeting, "7").split())
        assert f"No longer counts: Entry {first.number} was corrected by KV in entry" in told
        assert "a digit was dropped." in told


def test_a_slip_says_once_why_the_weights_are_open(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        exchanged = {wheel: LOADS[_across(wheel)] for wheel in LOADS}
        weighed(meeting, "7", exchanged)
        told = " ".join(slip(meeting, "7").partition("NOT YET CHECKED")[2].split())
        assert told.count("the weighings differ") == 1
        assert " as for " in told
        meeting.judge_and_record(meeting.car("7"), "TB")
        told = " ".join(slip(meeting, "7").split())
        assert told.count("the weighings differ") == 1
        assert "open, as told above" in told.partition("NOT YET CHECKED")[2]
        with showing("us"):
            pounds = " ".join(slip(meeting, "7").split())
        assert "kg" not in pounds
        assert pounds.count("open, as told above") == told.count("open, as told above")


def _across(wheel: str) -> str:
    return wheel.replace("left", "right") if "left" in wheel else wheel.replace("right", "left")


def _without_hash(text: str) -> str:
    """The record's hash depends on the program's version; the rest does not."""
    head, found, tail = text.partition("hash ")
    return head + found + "(hash)\n" + "\n".join(tail.splitlines()[2:]) if found else text


def test_a_slip_after_a_race_tells_what_to_look_at_again(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        weighed(meeting)
        weighed(meeting, loads=shifted(front_left=-15), occasion="after the final", fuel="1 L", wear="worn")
        text = slip(meeting, "7")
        assert "RE-CHECK" in text
        assert "1 Weight: the procedure says so; pass at scrutineering, fail now" in " ".join(text.split())
        assert "1 L on board, driver out, dry tyres, worn" in text


def test_a_car_that_was_not_weighed_has_a_slip_that_says_so_and_how_to_come_to_the_scales(
    tmp_path: Path,
) -> None:
    with a_meeting(tmp_path, procedure=f"{PROCEDURE}prepare: [Dry and clean.]\n") as meeting:
        text = slip(meeting, "7")
        assert "Not weighed yet: weights are as declared." in text
        assert "BEFORE THE SCALES\n  - Dry and clean.\n" in text


def test_the_short_verdict_names_what_fails_and_what_is_open(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text(dimensions="{ride_height: 80 mm}")}) as meeting:
        page = Page(80)
        document = inspection_document(meeting.judgement(meeting.car("7")).inspection)
        verdict_text(document, {"status": FAILS, "defects": []}, page)
        assert page.text().splitlines()[0] == "CAR 7 Ruff: FAILS"
        assert "ride height 80 mm is 5 mm below the minimum of 85 mm" in page.text()
        assert "not yet checked: 5" in page.text()


def test_a_margin_below_zero_that_is_met_says_why_wherever_it_stands(tmp_path: Path) -> None:
    short = {"front_left": -10.5}  # 579.5 kg of at least 580 kg, on pads good to 0.5 kg
    with a_meeting(tmp_path) as meeting:
        measure(meeting, [Finding("7", "seals.sump", "SO 7")], "KV")
        weighed(meeting, loads=shifted(**short))
        weighed(meeting, loads=shifted(**short))
        meeting.judge_and_record(meeting.car("7"), "KV")
        page, desk = Page(80), ScalesDesk(meeting, "TB")
        results_text(results_document(meeting), page)
        desk.look_back(meeting.car("7").weighings(SCRUTINEERING)[-1])
        at_the_scales, sheet = Page(80), Sheet()
        verdict_lines(desk, at_the_scales)
        slip_text(slip_of(meeting, meeting.car("7"))[0], sheet)
        judged = inspection_document(meeting.judgement(meeting.car("7")).inspection)
        inspected = Page(80)
        inspection_text(judged, inspected)
        told = [slip(meeting, "7"), page.text(), at_the_scales.text(), inspected.text(), str(sheet.blocks)]
        told.append(" ".join(str(answer) for answer in answers(judged)))
    assert ["-0.5" in text for text in told] == [True] * len(told)
    assert [BENEFIT in " ".join(text.split()) for text in told] == [True] * len(told)


def test_a_clause_that_measures_nothing_is_excluded_without_a_margin(tmp_path: Path) -> None:
    more = """\
  "9": {title: Panels, text: Two., check: {required: [body/panel], of: components}}
  "10": {title: How many, text: At most five., check: {limit: "count(c for c in components)", at_most: 5}}
"""
    with a_meeting(tmp_path, pack=f"{PACK}{more}") as meeting:
        for _ in range(2):
            weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "KV")
        for clause in ("3", "5", "6", "9", "10"):
            rule(meeting, Ruling("7", clause, "reject", "looked at in daylight"), "KV", found_words)
        fails = {one["clause"]: one["margin"] for one in meeting_document(meeting)["cars"][0]["fails"]}
    assert fails == {"3": "+5 mm", "5": "", "6": "+1 mm", "9": "", "10": "+2"}


def test_a_weighing_by_its_total_tells_it_once(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting, loads={"total": "590"})
        assert "\n  1 total 590 kg\n" in slip(meeting, "7")


def test_text_from_files_cannot_move_the_cursor(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text(name='"Ruff\\u001b[2J"')}) as meeting:
        note(meeting, [Noted("7", SCRUTINEERING, "remark", "\x1b[2J\u202e")], "KV")
        page = Page(80)
        board_text(meeting_document(meeting), page)
        results_text(results_document(meeting), page)
        text = page.text() + slip(meeting, "7")
        assert "\x1b" not in text
        assert "\u202e" not in text


def test_a_verification_tells_what_was_looked_at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)  # a short name, which no width breaks
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "KV")
        last = meeting.day.hash
    path = Path("day.meeting")
    page = Page(80)
    verification_text(verification_document(verify(path, [last])), page)
    text = " ".join(page.text().split())
    assert "day.meeting: sound. 4 entries, last hash" in text
    assert "1 recorded verdicts were worked out again from the frozen pack." in text
    page = Page(80)
    verification_text(verification_document(verify(path, ["a" * 20])), page)
    text = " ".join(page.text().split())
    assert text.startswith("MT405 no entry has the printed hash aaaaaaaaaaaaaaaaaaaa")
    assert "1 fault found" in text
    assert "No verdict was worked out again: the record is not whole." in text


@pytest.mark.parametrize("width", quick_first([32, 42, 48], 1))
def test_what_is_handed_out_fits_a_receipt_printer_and_says_all_that_a_page_says(
    tmp_path: Path, width: int
) -> None:
    """58 mm of paper take 32 columns, 80 mm 42 or 48 (common practice, no source)."""
    with a_day(tmp_path) as meeting:
        hash_whole = meeting.day.hash

        def printed(width: int) -> dict[str, str]:
            pages = {"results": Page(width), "board": Page(width), "sheet": Page(width)}
            results_text(results_document(meeting), pages["results"])
            board_text(meeting_document(meeting), pages["board"])
            sheet_text(meeting, meeting.car("8"), pages["sheet"])
            slips = {f"slip {number}": slip(meeting, number, width) for number in ("7", "8", "9", "12")}
            return {**{name: page.text() for name, page in pages.items()}, **slips}

        narrow, wide = printed(width), printed(80)
    for name, text in narrow.items():
        assert max(map(len, text.splitlines())) <= width, name
        words, wanted = "".join(text.split()).lower(), set(re.findall(r"[0-9]+(?:\.[0-9]+)?", wide[name]))
        assert [number for number in wanted if number not in words] == [], name
    assert hash_whole[:20] in "".join(narrow["slip 7"].split())
    assert hash_whole in "".join(narrow["results"].split())


def test_a_slip_shows_how_the_club_reads_a_clause_that_the_car_does_not_meet(tmp_path: Path) -> None:
    folder = pack_folder(tmp_path)
    (folder / "interpretations.yaml").write_text(
        'interpretations:\n  - {number: I-1, clauses: ["3"], asked: 2026-03-09, question: Is the skid block part of'
        ' the car?, decided: 2026-03-23, by: Technical committee, answer: "Yes, it is."}\n'
        '  - {number: I-2, clauses: ["3"], asked: 2026-04-02, question: And a loose one?}\n'
    )
    with a_meeting(tmp_path, {"8": car_text("8", dimensions="{ride_height: 80 mm}")}) as meeting:
        told = " ".join(slip(meeting, "8").split())
        assert "note I-1, Technical committee, 2026-03-23: Yes, it is." in told
        assert "open I-2, asked 2026-04-02: And a loose one?" in told
