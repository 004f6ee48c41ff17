from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.desk.checks import ChecksDesk
from checker.meeting.desk.conversation import LEAVE, Conversation
from checker.meeting.desk.pads import PadsDesk
from checker.meeting.desk.scales import ScalesDesk
from checker.report.desk.figures import _FONT, ROWS, block, large
from checker.report.desk.screen import desk_screen
from checker.report.page import Page
from tests.meeting.days import PROCEDURE, a_meeting, car_text, shifted
from tests.meeting.desk.test_scales import FOUR, typed


def screen(desk: Conversation, width: int = 80) -> list[str]:
    page = Page(width)
    desk_screen(desk, page)
    return page.text().splitlines()


def test_every_figure_is_as_high_as_the_others_and_even_on_the_right() -> None:
    for character, glyph in _FONT.items():
        assert len(glyph) == ROWS, character
        assert len({len(row) for row in glyph}) == 1, character
        assert set("".join(glyph)) <= {" ", "#", "_"}, character


def test_figures_are_told_apart() -> None:
    digits = [_FONT[digit] for digit in "0123456789.-"]
    assert len(set(digits)) == len(digits)


def test_a_load_stands_in_figures_five_lines_high() -> None:
    assert block("14.") == [
        "  #   #  #    ",
        " ##   #  #    ",
        "  #   #####   ",
        "  #      #    ",
        " ###     #  ##",
    ]


def test_what_is_not_typed_yet_is_no_bar_of_blocks() -> None:
    assert "#" not in "".join(block("_"))


def test_what_has_no_letter_or_no_room_stands_as_one_line() -> None:
    assert large("7x_", 80) == ["7x_"]
    assert large("888.88", 20) == ["888.88"]


@pytest.mark.parametrize("stage", range(8))
def test_every_screen_fits_its_columns_and_twenty_four_lines(tmp_path: Path, stage: int) -> None:
    answers = ["7", "6", *FOUR[:3], "888.88", ""]
    heavy = car_text(name="A" * 60, dimensions="{ride_height: 80 mm}", engine="{inlet_bore: 40 mm}")
    with a_meeting(tmp_path, {"7": heavy}) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, *answers[:stage])
        for width in (40, 60, 80, 100):
            lines = screen(desk, width)
            assert max(map(len, lines)) <= width
            assert len(lines) <= (24 if width >= 60 else 30)
            assert "Enter" in "".join(lines[-3:])
        desk.key(LEAVE)
        for width in (40, 60, 80, 100):
            assert "Leave the desk?" in "\n".join(screen(desk, width))


def test_the_wheels_are_named_with_the_state_that_is_taken(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7")
        assert any("Taken: driver out, dry tyres, new" in line for line in screen(desk))
        typed(desk, "6")
        shown = screen(desk)
        assert "Weighing 1 of 2, pads as marked, in kg" in shown
        assert "6 L, driver out, dry tyres, new" in shown
        assert any(line.startswith("> under the front left") for line in shown)


def test_the_verdict_on_weight_stands_apart_from_what_is_still_to_be_seen(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *FOUR)
        shown = screen(desk)
        assert shown[2:7] == [f"  {line}".rstrip() for line in block("WEIGHT OK")]
        assert any(line.startswith("On the scales: total 590 kg, inside 52.2") for line in shown)
        assert any("least in hand" in line for line in shown)
        assert "still to see: 5 Seal" in shown
        assert "Entry 3, on disk. Weighing 1 of 2." in shown


def test_a_car_that_is_too_light_is_told_in_kilograms(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *shifted(front_left=-12).values())
        shown = screen(desk)
        assert shown[2:7] == [f"  {line}".rstrip() for line in block("WEIGHT FAILS")]
        assert any(line.startswith("1 Weight") and line.endswith("-2 kg") for line in shown)
        assert any(line.startswith("On the scales: total 578 kg") for line in shown)


def test_a_doubt_about_the_numbers_asks(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", "255", *FOUR[1:])
        shown = "\n".join(screen(desk))
        assert "100 kg above" in shown
        assert "store it as read" in shown


def test_a_car_s_number_with_letters_is_shown_plainly(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        for character in "7x":
            desk.key(character)
        assert "  7X_" in screen(desk)


def test_a_thing_to_check_is_shown_with_what_it_should_be(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ChecksDesk(meeting, "KV")
        desk.answer("7")
        shown = screen(desk)
        assert "1 of 3, papers" in shown
        assert "5 Seal, sump" in shown
        assert "  = SO 7" in shown
        desk.answer("=")
        shown = screen(desk)
        assert any(line.startswith("5 Seal, sump: SO 7") and line.endswith("met") for line in shown)
        desk.answer("")
        desk.answer("36.5")
        shown = screen(desk)
        assert "2 of 3 taken down." in shown
        assert any(line.startswith("  left for later: 3 Ride height") for line in shown)
        assert any(line.startswith("4 Inlet") and line.endswith("FAILS") for line in shown)


def test_a_clause_with_a_defect_is_not_called_met(tmp_path: Path) -> None:
    procedure = PROCEDURE.replace('clauses: ["5"]', 'clauses: ["6"]')
    with a_meeting(tmp_path, procedure=procedure) as meeting:
        desk = ChecksDesk(meeting, "KV")
        for answer in ("7", "a disc is cracked"):
            desk.answer(answer)
        told = [line for line in screen(desk) if line.startswith("6 Discs: a disc is cracked")]
        assert [line.endswith("open defect") for line in told] == [True]


def test_the_check_of_the_pads_shows_what_is_good_and_what_is_not(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = PadsDesk(meeting, "TB", "pads")
        assert "How heavy is the test weight, in kg?" in screen(desk)
        for answer in ("20", "0", "0", "-0.5", "0", "20", "20", "20", "22.5"):
            desk.answer(answer)
        shown = screen(desk)
        assert "rear left: -0.5 kg for 0 kg, good" in shown
        assert any(line.startswith("rear right: 22.5 kg for 20 kg, BAD") for line in shown)
