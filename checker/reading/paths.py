"""Paths into plain data, written the way people write them: `weighing.readings[0].front_left`.

Keys are joined by points, positions in a list stand in brackets and count from 0, and a key that is not a
simple word stands in double quotes: `clauses."3.1".check.at_most`. Inside quotes `\\"` and `\\\\` are a quote
and a backslash.
"""

from __future__ import annotations

import re

from checker.reading.patterns import pattern
from checker.reading.plain_text import shortened
from checker.reading.problems import Path
from checker.reading.values import DEEPEST

_BARE_KEY = pattern(r"[^\s.\[\]\"'\\]+")
_QUOTED_KEY = pattern(r'"((?:[^"\\]|\\["\\])*)"')
_POSITION = pattern(r"\[([0-9]{1,9})\]")


def parse_path(text: str) -> Path:
    """The path that `text` writes; "" is the whole file.

    Raises:
        ValueError: It cannot be read as a path; the message says where.
    """
    parts: list[str | int] = []
    at = 0
    while at < len(text):
        if len(parts) == DEEPEST:
            raise ValueError(f"the path {shortened(text)!r} leads more than {DEEPEST} levels deep")
        if text[at] == "[":
            position = _POSITION.match(text, at)
            if position is None:
                raise ValueError(f"in the path {text!r}, '[' needs a position such as [0] (first entry)")
            parts.append(int(position[1]))
            at = position.end()
            continue
        if parts:
            if text[at] != ".":
                raise ValueError(f"in the path {text!r}, a point is missing before {text[at:]!r}")
            at += 1
        key, at = _key(text, at)
        parts.append(key)
    return tuple(parts)


def _key(text: str, at: int) -> tuple[str, int]:
    """The key at `at`, and where the text goes on after it."""
    quoted = _QUOTED_KEY.match(text, at)
    if quoted is not None:
        return re.sub(r"\\(.)", r"\1", quoted[1], flags=re.DOTALL), quoted.end()
    if text.startswith('"', at):
        raise ValueError(f"in the path {text!r}, the quotation mark at character {at + 1} is not closed")
    bare = _BARE_KEY.match(text, at)
    if bare is None:
        what = f"before {text[at:]!r}" if at < len(text) else "at the end"
        raise ValueError(
            f'in the path {text!r}, a key is missing {what}; write unusual keys in quotes: "3.1"'
        )
    return bare[0], bare.end()


def format_path(path: Path) -> str:
    """The text that `parse_path` reads as `path`."""
    written = ""
    for part in path:
        if isinstance(part, int):
            written += f"[{part}]"
            continue
        if _BARE_KEY.fullmatch(part):
            key = part
        else:
            key = '"' + part.replace("\\", "\\\\").replace('"', '\\"') + '"'
        written += f".{key}" if written else key
    return written
