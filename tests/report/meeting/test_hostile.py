"""What a meeting prints is text, whatever a car, a pack or a procedure calls things: slip, weigh sheet, board, results."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import SCRUTINEERING, Noted, Protested
from checker.meeting.session.session import Meeting
from checker.meeting.standing.differences import differences
from checker.meeting.taking.measuring import note
from checker.meeting.taking.ruling import Ruling, protest, rule
from checker.report.html.sheet import Sheet
from checker.report.meeting.board import board_text, results_text
from checker.report.meeting.document import meeting_document, results_document, slip_document
from checker.report.meeting.sheet import sheet_text
from checker.report.meeting.slip import slip_text
from checker.report.page import Page
from checker.report.words.findings import found_words
from tests.examples import quick_first
from tests.meeting.days import PACK, PROCEDURE, a_meeting, car_text, shifted, weighed
from tests.report.html.reading import Reading
from tests.report.html.test_one_car import HOSTILE

WIDTH = 80
MOST = 500
"""Letters of a text in a car's file; what is longer is refused."""


def named(folder: Path, words: str) -> Meeting:
    """A weighed car of a meeting in which whatever may be called anything is called that."""
    quoted = json.dumps(words)
    pack = PACK
    for plain in ("Plover rules", "At least 85 mm.", "At least 580 kg.", "As in the log book."):
        pack = pack.replace(plain, quoted)
    for title in ("Weight", "Ride height", "Seal", "Body"):
        pack = pack.replace(f"title: {title},", f"title: {quoted},")
    procedure = PROCEDURE.replace("name: papers", f"name: {quoted}") + f"prepare: [{quoted}]\n"
    short = json.dumps(words[:MOST])
    car = car_text(
        "7",
        short,
        logbook=f"{{sump_seal: {short}}}",
        dimensions="{ride_height: 80 mm}",
        ballast=f"[{{label: {short}, mass: 9.0 kg}}]",
    )
    folder.mkdir()
    meeting = a_meeting(folder, {"7": car}, pack=pack, procedure=procedure)
    weighed(meeting, "7", shifted(front_left=-20))
    note(meeting, [Noted("7", SCRUTINEERING, "defect", words[:200], state="open")], "KV")
    against = protest(meeting, Protested("7", "3", words[:200], ""), "KV")
    meeting.judge_and_record(meeting.car("7"), "KV")
    rule(meeting, Ruling("7", "3", "reject", words[:200], against), "KV", found_words)
    return meeting


def slip(meeting: Meeting, page: Page) -> None:
    car = meeting.car("7")
    judgement = meeting.judgement(car)
    found = differences(meeting, car, judgement.inspection.car)
    slip_text(slip_document(meeting, car, judgement, found, []), page)


WRITTEN: dict[str, Callable[[Meeting, Page], None]] = {
    "slip": slip,
    "sheet": lambda meeting, page: sheet_text(meeting, meeting.car("7"), page),
    "board": lambda meeting, page: board_text(meeting_document(meeting), page),
    "results": lambda meeting, page: results_text(results_document(meeting), page),
}


@pytest.mark.parametrize("words", quick_first(HOSTILE), ids=range(len(HOSTILE)))
def test_whatever_a_thing_is_called_is_text_on_all_that_is_printed(tmp_path: Path, words: str) -> None:
    with named(tmp_path / "plain", "plain") as plain, named(tmp_path / "hostile", words) as hostile:
        for name, write in WRITTEN.items():
            sheets = [Sheet(), Sheet()]
            for sheet, meeting in zip(sheets, (plain, hostile), strict=True):
                write(meeting, sheet)
            expected, read = (Reading(sheet.text()) for sheet in sheets)
            drawn = {"svg", "rect", "title", "desc", "bdi", "br"}  # codes of other words have other modules
            assert [one for one in read.elements if one not in drawn] == [
                one for one in expected.elements if one not in drawn
            ], name
            assert {one[:2] for one in read.attributes} <= {one[:2] for one in expected.attributes}, name
            assert not re.search("[\u202a-\u202e\x00-\x08]", read.text), name
            page = Page(WIDTH)
            write(hostile, page)
            assert max(map(len, page.text().splitlines())) <= WIDTH, name
            assert not re.search("[\u202a-\u202e\x00-\x08]", page.text()), name
