"""What is shown while a command works is for people at a terminal only, and leaves nothing behind."""

from __future__ import annotations

import threading
from importlib import import_module
from time import sleep

import pytest

from checker.cli import output, progress
from checker.cli.progress import each, each_of, working
from tests.cli.running import run
from tests.examples import quick_first

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


def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    import_module("rich.progress")  # a command may take less than to load it
    as_a_terminal(monkeypatch)
    monkeypatch.setattr(progress, "PATIENCE_S", 0.01)


def shown(line: str, capsys: Capsys, after: str = "") -> str:
    """What stderr holds once a line has come behind another."""
    told = ""
    for _ in range(500):
        told += capsys.readouterr().err
        if line in told.partition(after)[2] if after else line in told:
            break
        sleep(0.01)
    return told


def test_a_command_that_takes_long_says_that_it_works_and_since_when(
    capsys: Capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    impatient(monkeypatch)
    with working():
        told = shown("working", capsys)
    assert "0:00:0" in told
    assert "\x1b[2K" in capsys.readouterr().err, "the line is cleared at the end"


def test_a_line_makes_way_for_what_is_printed_and_comes_back_after_a_message_only(
    capsys: Capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    impatient(monkeypatch)
    with working():
        assert "working" in shown("working", capsys)
        output.complain("a warning")
        told = shown("working", capsys, after="a warning")
        assert "working" in told.partition("a warning\n")[2]
        output.deliver("a result\n")
        printed = capsys.readouterr()
        assert (printed.out, "\x1b[2K" in printed.err) == ("a result\n", True)
        sleep(0.1)
        assert capsys.readouterr().err == ""


def test_ctrl_c_leaves_a_clear_line(capsys: Capsys, monkeypatch: pytest.MonkeyPatch) -> None:
    impatient(monkeypatch)
    told = ""

    def broken_off() -> None:
        nonlocal told
        with working():
            told = shown("working", capsys)
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        broken_off()
    assert "working" in told
    assert "\x1b[2K" in capsys.readouterr().err
    assert [one.name for one in threading.enumerate() if isinstance(one, threading.Timer)] == []


def test_without_a_terminal_nothing_is_shown_and_nothing_loaded(
    capsys: Capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(progress, "PATIENCE_S", 0.0)
    monkeypatch.setattr(progress, "_Working", lambda: pytest.fail("a line was made"))
    with working():
        sleep(0.02)
    assert capsys.readouterr() == ("", "")


@pytest.mark.parametrize(
    "command",
    quick_first(
        [
            "inspect samples/cars/light-at-the-flag.yaml",
            "calendar samples/cars/price-rise.yaml --meetings samples/season/meetings.yaml",
            "pack lint rulepacks/dunlin",
            "card samples/cars/creeping-inside.yaml",
        ],
        0,
    ),
)
def test_what_is_printed_is_the_same(command: str, capsys: Capsys, monkeypatch: pytest.MonkeyPatch) -> None:
    piped = run(capsys, *command.split())
    impatient(monkeypatch)
    watched = run(capsys, *command.split())
    assert (watched.code, watched.out) == (piped.code, piped.out)
    assert "working" in watched.err
