"""The keyboard and the screen of the scales' desk; where there is no terminal, lines are read and answered instead."""

from __future__ import annotations

import contextlib
import os
import re
import sys
from collections.abc import Iterator

from checker.cli import exits, output
from checker.meeting.session.session import Meeting
from checker.meeting.taking.desk import BACK, ENTER, LEAVE, LEFT, VERDICT, Desk
from checker.report.meeting.desk import desk_screen
from checker.report.page import Page

_SEQUENCE = re.compile(r"\x1b(?:\[[0-9;]*[A-Za-z~]|O[A-Za-z])")
"""What arrow and function keys send."""
_CLEAR = "\x1b[H\x1b[2J"
_NAMES = {
    "\r": ENTER,
    "\n": ENTER,
    "\x7f": BACK,
    "\x08": BACK,
    "\x1b": LEAVE,
    "\x04": LEAVE,
    "\t": ENTER,
}
"""What the keyboard sends, and what it means to the desk."""


def desk(day: str, by: str, occasion: str, car: str = "") -> int:
    """Take cars until the official leaves, this one first."""
    with Meeting.open(day) as meeting:
        at = Desk(meeting, by, occasion)
        for key in car:
            at.key(key)
        at.key(ENTER)
        if sys.stdin is not None and sys.stdin.isatty() and output.stdout_is_terminal():
            _on_a_terminal(at)
        else:
            _by_lines(at)
    return exits.COMPLIES


def _on_a_terminal(at: Desk) -> None:
    with _raw_keys() as keys:
        _show(at)
        for key in keys:
            at.key(_NAMES.get(key, key))
            if at.stage == LEFT:
                return
            _show(at)
            if key in "\r\n\t":
                at.keep_verdict()


def _show(at: Desk) -> None:
    page = Page(80, colour=output.in_colour())
    desk_screen(at, page)
    output.deliver(_CLEAR + page.text())
    output.flush()


def _by_lines(at: Desk) -> None:
    """A line is what is typed before Enter; a line of < leads one question back. Every answer is a whole screen."""
    _answer(at)
    for line in sys.stdin:
        text = line.rstrip("\r\n")
        at.clear()  # a line is whole, and stands in the place of what a step back has brought up
        if text == "<":
            at.key(BACK)
        else:
            for character in text:
                at.key(character)
            at.key(ENTER)
        _answer(at)
        if text != "<" and at.stage == VERDICT:
            at.keep_verdict()


def _answer(at: Desk) -> None:
    page = Page(80)
    desk_screen(at, page)
    output.deliver(page.text())


@contextlib.contextmanager
def _raw_keys() -> Iterator[Iterator[str]]:
    """Keys one by one, unechoed; the terminal is as it was afterwards, whatever happens."""
    if os.name == "nt":
        yield _keys_of_windows()
        return
    import termios
    import tty

    number = sys.stdin.fileno()
    before = termios.tcgetattr(number)
    try:
        tty.setcbreak(number, termios.TCSADRAIN)  # what was typed ahead is kept
        yield _keys_of_posix(number)
    finally:
        termios.tcsetattr(number, termios.TCSADRAIN, before)


def _keys_of_posix(number: int) -> Iterator[str]:
    """Characters as they are typed, without what arrow and function keys send."""
    import codecs

    decoder = codecs.getincrementaldecoder("utf-8")("replace")
    while data := os.read(number, 64):
        yield from _SEQUENCE.sub("", decoder.decode(data))


def _keys_of_windows() -> Iterator[str]:
    import msvcrt

    while True:
        key = msvcrt.getwch()  # type: ignore[attr-defined]
        if key == "\x03":
            raise KeyboardInterrupt
        if key in ("\x00", "\xe0"):
            msvcrt.getwch()  # type: ignore[attr-defined]
            continue
        yield key
