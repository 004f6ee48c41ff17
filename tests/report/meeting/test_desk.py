from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.taking.desk import Desk
from checker.report.meeting.desk import _FONT, ROWS, block, desk_screen
from checker.report.page import Page
from tests.meeting.days import a_meeting, car_text, shifted
from tests.meeting.taking.test_desk import FOUR, typed


def screen(desk: Desk) -> list[str]:
    page = Page(80)
    desk_screen(desk, page)
    return page.text().splitlines()


def test_every_figure_is_as_high_as_the_others_and_even_on_the_right() -> None:
    for character, glyph in _FONT.items():
        assert len(glyph) == ROWS, character
        assert len({len(row) for row in glyph}) == 1, character
        assert set("".join(glyph)) <= {" ", "#"}, character


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


@pytest.mark.parametrize("stage", range(8))
def test_every_screen_fits_eighty_columns_and_twenty_four_lines(tmp_path: Path, stage: int) -> None:
    answers = ["7", "6", *FOUR[:3], "888.88"]
    heavy = car_text(name="A" * 60, dimensions="{ride_height: 80 mm}", engine="{inlet_bore: 40 mm}")
    with a_meeting(tmp_path, {"7": heavy}) as meeting:
        desk = Desk(meeting, "TB")
        typed(desk, *answers[:stage])
        lines = screen(desk)
        assert max(map(len, lines)) <= 80
        assert len(lines) <= 24
        assert lines[-1].startswith(("Enter", "Esc"))


def test_the_verdict_stands_in_block_letters_with_what_fails_below_it(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = Desk(meeting, "TB")
        typed(desk, "7", "6", *shifted(front_left=-12).values())
        shown = screen(desk)
        assert shown[2:7] == [f"  {line}".rstrip() for line in block("FAILS")]
        assert any(line.startswith("  1 Weight") and line.endswith("-2 kg") for line in shown)
        assert any("open: 5" in line for line in shown)
        assert any(
            "Entry 3, on disk. Weighing 1 of 2. Total 578 kg, inside 51.2111 %" in line for line in shown
        )


def test_a_doubt_about_the_numbers_stands_below(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = Desk(meeting, "TB")
        typed(desk, "7", "6", "255", *FOUR[1:])
        assert any("is it this car" in line for line in screen(desk))


def test_a_car_s_number_with_letters_is_shown_plainly(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = Desk(meeting, "TB")
        for character in "7x":
            desk.key(character)
        assert "> 7x_" in screen(desk)
