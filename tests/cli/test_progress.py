"""The bar is for people at a terminal only, and leaves nothing behind."""

from __future__ import annotations

import pytest

from checker.cli import progress
from checker.cli.progress import each, each_of

Capsys = pytest.CaptureFixture[str]


def as_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(progress, "stderr_is_terminal", lambda: True)
    monkeypatch.setenv("FORCE_COLOR", "1")  # so that the library too takes the captured stream for a terminal
    monkeypatch.setenv("TERM", "xterm")


def test_nothing_is_printed_where_no_terminal_is(capsys: Capsys) -> None:
    assert list(each(range(3))) == [0, 1, 2]
    assert capsys.readouterr() == ("", "")


def test_a_terminal_sees_how_far_it_is_and_then_a_clear_line(
    capsys: Capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    as_a_terminal(monkeypatch)
    assert list(each(range(4))) == [0, 1, 2, 3]
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "4/4" in printed.err
    assert "\x1b[2K" in printed.err, "the line is cleared at the end"


def test_a_single_car_has_no_bar(capsys: Capsys, monkeypatch: pytest.MonkeyPatch) -> None:
    as_a_terminal(monkeypatch)
    assert list(each(["car"])) == ["car"]
    assert capsys.readouterr().err == ""


def test_things_that_cannot_all_be_held_are_counted_only_for_a_terminal(
    capsys: Capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []

    def count() -> int:
        asked.append(1)
        return 4

    assert list(each_of(iter(range(4)), count)) == [0, 1, 2, 3]
    assert (asked, capsys.readouterr().err) == ([], "")
    as_a_terminal(monkeypatch)
    assert list(each_of(iter(range(4)), count)) == [0, 1, 2, 3]
    assert "4/4" in capsys.readouterr().err


def test_more_things_than_were_counted_do_no_harm(capsys: Capsys, monkeypatch: pytest.MonkeyPatch) -> None:
    as_a_terminal(monkeypatch)
    assert list(each_of(iter(range(9)), lambda: 3)) == list(range(9))
    assert "9/3" in capsys.readouterr().err
