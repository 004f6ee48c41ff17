"""The keyboard and the screen of the desks; where there is no terminal, lines are read and answered instead."""

from __future__ import annotations

import contextlib
import os
import re
import sys
from collections.abc import Callable, Iterator

from checker.cli import exits, output
from checker.cli.live import Screen
from checker.cli.meeting.common import recording
from checker.meeting.desk.conversation import BACK, BACKWARD, ENTER, FORWARD, LEAVE, Conversation
from checker.meeting.session.session import Meeting
from checker.reading.patterns import pattern
from checker.report.desk.screen import desk_screen
from checker.report.page import Page

_KEYS = pattern(r"\x1b(?:\[[0-9;]*[A-Za-z~]|O[A-Za-z])|.", re.DOTALL)
"""One key as it is sent: a sequence of arrow or function keys, or a character."""
_NAMES = {
    **dict.fromkeys(("\r", "\n"), ENTER),
    **dict.fromkeys(("\x7f", "\x08"), BACK),
    **dict.fromkeys(("\x1b", "\x04"), LEAVE),
    **dict.fromkeys(("\t", "\x1b[C", "\x1b[B", "\x1bOC", "\x1bOB"), FORWARD),
    **dict.fromkeys(("\x1b[D", "\x1b[A", "\x1b[Z", "\x1bOD", "\x1bOA"), BACKWARD),
}
"""What the keyboard sends, and what it means to a desk."""


def hold(day: str, by: str, desk: Callable[[Meeting], Conversation], car: str = "") -> int:
    """Hold a conversation until the official leaves, about this car first."""
    with recording(day, by) as meeting:
        at = desk(meeting)
        if car:
            at.answer(car)
        if sys.stdin is not None and sys.stdin.isatty() and output.stdout_is_terminal():
            _on_a_terminal(at)
        else:
            _by_lines(at)
    return exits.COMPLIES


def _on_a_terminal(at: Conversation) -> None:
    with _raw_keys() as keys, Screen() as screen:
        screen.show(lambda page: desk_screen(at, page))
        for key in keys:
            meant = _NAMES.get(key, key)
            at.key(meant)
            if at.left:
                return
            screen.show(lambda page: desk_screen(at, page))
            if meant == ENTER:
                at.after_shown()


def _by_lines(at: Conversation) -> None:
    """A line is what is typed before Enter; a line of < leads one question back. Every answer is a whole screen."""
    _answer(at)
    for line in sys.stdin:
        text = line.rstrip("\r\n")
        if text == "<":
            at.clear()
            at.key(BACK)
        else:
            at.answer(text)
        if at.left:
            return
        _answer(at)
        if text != "<":
            at.after_shown()


def _answer(at: Conversation) -> None:
    page = Page(output.width_of_terminal())
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
    """Keys as they are pressed, each whole."""
    import codecs

    decoder = codecs.getincrementaldecoder("utf-8")("replace")
    while data := os.read(number, 64):
        yield from _KEYS.findall(decoder.decode(data))


_ARROWS = {"M": "\x1b[C", "P": "\x1b[B", "K": "\x1b[D", "H": "\x1b[A"}
"""What Windows sends behind a prefix, and the sequence that others send."""


def _keys_of_windows() -> Iterator[str]:
    import msvcrt

    while True:
        key = msvcrt.getwch()  # type: ignore[attr-defined]
        if key == "\x03":
            raise KeyboardInterrupt
        if key in ("\x00", "\xe0"):
            key = _ARROWS.get(msvcrt.getwch(), "")  # type: ignore[attr-defined]
        if key:
            yield key
