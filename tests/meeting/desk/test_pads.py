"""The check of the pads, key by key."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.desk.conversation import BACK, BACKWARD, ENTER
from checker.meeting.desk.pads import DONE, LOADED, WEIGHT, ZEROS, PadsDesk
from checker.reading.problems import InputError
from tests.meeting.days import a_meeting, refused


def test_eight_figures_are_two_series_of_four_checks(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = PadsDesk(meeting, "TB", "pads")
        desk.answer("20")
        assert (desk.stage, desk.applied, desk.pad) == (ZEROS, "20 kg", "front_left")
        for answer in ("0", "0", "0"):
            desk.answer(answer)
        assert meeting.day.gear_checks == []
        desk.answer("0.5")
        assert desk.stage == LOADED
        for answer in ("20", "20", "20", "20.5"):
            desk.answer(answer)
        assert desk.stage == DONE
        told = [(c.content.pad, c.content.applied, c.content.shown) for c in meeting.day.gear_checks]
        assert told[3] == ("rear_right", "0 kg", "0.5 kg")
        assert told[7] == ("rear_right", "20 kg", "20.5 kg")
        assert len(told) == 8
        desk.key(ENTER)
        assert desk.left


def test_a_figure_can_be_gone_back_to_before_its_series_is_recorded(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = PadsDesk(meeting, "TB", "pads")
        for answer in ("20", "0", "1"):
            desk.answer(answer)
        desk.key(BACKWARD)
        assert (desk.pad, desk.typed) == ("front_right", "1")
        for answer in ("0", "0", "0"):
            desk.answer(answer)
        assert [c.content.shown for c in meeting.day.gear_checks] == ["0 kg"] * 4


def test_backspace_leads_back_to_the_weight(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = PadsDesk(meeting, "TB", "pads")
        desk.answer("20")
        desk.key(BACK)
        assert desk.stage == WEIGHT


def test_a_pad_may_show_less_than_nothing_but_a_weight_is_no_less(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = PadsDesk(meeting, "TB", "pads")
        desk.answer("-20")
        assert (desk.stage, desk.problems[0].code) == (WEIGHT, "MT209")
        desk.answer("20")
        desk.answer("-0.5")
        assert desk.shown == {"front_left": "-0.5"}


def test_gear_that_nobody_described_has_no_desk(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting, pytest.raises(InputError) as error:
        PadsDesk(meeting, "TB", "bathroom scales")
    assert refused(error) == "MT211"
