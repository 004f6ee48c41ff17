"""Reads data alone, without the place of anything, where nothing in a text could be misread.

JSON by the C reader of the standard library, YAML by libyaml's events. Whatever is odd in the least (a key given twice,
an anchor, a number out of bounds, a line that stands where one would misjudge it) is not read here at all but strictly,
which tells what is wrong and where. What is read here is what would be read there (`tests/reading/test_quick.py`).
"""

from __future__ import annotations

import json
from fractions import Fraction
from functools import lru_cache
from typing import Final, NoReturn

import yaml

from checker.reading.events import (
    ALIAS,
    FILE_END,
    LIST_END,
    MAPPING,
    MAPPING_END,
    SCALAR,
    NextEvent,
    ParserEvent,
)
from checker.reading.patterns import pattern
from checker.reading.pitfalls import outside_of_block
from checker.reading.values import DEEPEST, NOT_ONLY_TEXT, WORDS, NumberError, Plain, number_in, understand

MOST_CHARACTERS: Final = 100_000
"""A longer text is read strictly: it may hold more values than are read."""
_LONGEST_KEY: Final = 100
_MOST_KEYS: Final = 10_000

_SURROGATE: Final = pattern(r"\\u[dD][89a-fA-F]")
_ODD_COMMENT: Final = pattern(r"#[^ \r\n]|\S#")


class OddError(Exception):
    """Something that is to be read strictly."""


def _odd(*_: object) -> NoReturn:
    raise OddError


# -- JSON --------------------------------------------------------------------------------------------


def read_json(text: str) -> Plain:
    """What a text of JSON says that begins with a brace.

    Raises:
        OddError: It is to be read strictly.
    """
    if len(text) > MOST_CHARACTERS or "\t" in text or " :" in text or "\n:" in text or "\r" in text:
        raise OddError
    if "\\u" in text and _SURROGATE.search(text):
        raise OddError
    try:
        data: Plain = _JSON.decode(text)
    except (ValueError, RecursionError):
        raise OddError from None
    if type(data) is not dict or _is_deep(data, DEEPEST):
        raise OddError
    return data


_short_keys: set[str] = set()


def _mapping(pairs: list[tuple[str, Plain]]) -> dict[str, Plain]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise OddError
    if not _short_keys.issuperset(found):  # libyaml takes a long text for no key
        if max(map(len, found)) > _LONGEST_KEY:
            raise OddError
        if len(_short_keys) > _MOST_KEYS:
            _short_keys.clear()
        _short_keys.update(found)
    return found


def _number(text: str) -> Plain:
    try:
        number = number_in(text)
    except NumberError:
        raise OddError from None
    if number is None:
        raise OddError
    return number


_JSON: Final = json.JSONDecoder(
    object_pairs_hook=_mapping, parse_float=_number, parse_int=_number, parse_constant=_odd
)


def _is_deep(data: Plain, levels: int) -> bool:
    """Whether lists and mappings are nested more levels deep than that."""
    if levels == 0:
        return True
    for inside in data.values() if type(data) is dict else data:  # type: ignore[union-attr]
        if type(inside) in (dict, list) and _is_deep(inside, levels - 1):
            return True
    return False


# -- YAML --------------------------------------------------------------------------------------------


def read_yaml(text: str, next_event: NextEvent) -> Plain:
    """What a text of YAML says that holds one mapping.

    Args:
        next_event: Gives libyaml's events of it.

    Raises:
        OddError: It is to be read strictly.
    """
    if len(text) > MOST_CHARACTERS or "?" in text or ("#" in text and _ODD_COMMENT.search(text)):
        raise OddError
    try:
        next_event()  # the stream begins
        begin = next_event()
        root = next_event()
        if type(root) is not MAPPING or begin.version is not None or begin.tags:
            raise OddError
        data = _Quick(text, next_event).value(root, 1, False)
        next_event()  # the document ends
        if type(next_event()) is not FILE_END:
            raise OddError
    except yaml.YAMLError:
        raise OddError from None
    return data


class _Quick:
    """Builds what the events say, and nothing that is odd."""

    __slots__ = ("indent", "next_event", "text")

    def __init__(self, text: str, next_event: NextEvent) -> None:
        self.text = text
        self.next_event = next_event
        self.indent = -1
        """Column of the innermost list or mapping in block style; -1 outside of any."""

    def value(self, event: ParserEvent, depth: int, in_brackets: bool) -> Plain:
        """What begins with `event`, read to its end; `depth` is that of a collection which begins here."""
        if event.anchor is not None:
            raise OddError
        kind = type(event)
        if kind is SCALAR:
            return self.scalar(event)
        if kind is ALIAS or event.tag is not None or depth > DEEPEST:
            raise OddError
        build = self.mapping if kind is MAPPING else self.list
        if event.flow_style:
            data, end = build(depth + 1, True)
            start, stop = event.start_mark, end.end_mark
            over_lines = not in_brackets and stop.line != start.line and self.indent >= 0
            if over_lines and outside_of_block(self.text, start.index, stop.index, self.indent, True):
                raise OddError
            return data
        around, self.indent = self.indent, event.start_mark.column
        data, _ = build(depth + 1, False)
        self.indent = around
        return data

    def scalar(self, event: ParserEvent) -> Plain:
        value = event.value
        if event.tag is not None:
            raise OddError
        if event.style:
            if event.style in "|>" or event.start_mark.line != event.end_mark.line:
                raise OddError
            return value
        if not value or value[0] in NOT_ONLY_TEXT:
            return _understood(value)
        return value

    def list(self, depth: int, in_brackets: bool) -> tuple[Plain, ParserEvent]:
        next_event, value_of = self.next_event, self.value
        data: list[Plain] = []
        while type(entry := next_event()) is not LIST_END:
            value = value_of(entry, depth, in_brackets)
            if (
                in_brackets
                and data
                and type(value) is str
                and value[:1].isdigit()
                and self.text[entry.start_mark.index - 1] == ","
            ):
                raise OddError
            data.append(value)
        return data, entry

    def mapping(self, depth: int, in_brackets: bool) -> tuple[Plain, ParserEvent]:
        next_event, value_of = self.next_event, self.value
        data: dict[str, Plain] = {}
        while type(key_event := next_event()) is not MAPPING_END:
            key = key_event.value if type(key_event) is SCALAR else ""
            if not key or key in data or key[0] in _NO_PLAIN_KEY or key in WORDS:
                raise OddError
            if key_event.anchor is not None or key_event.tag is not None:
                raise OddError
            value = value_of(next_event(), depth, in_brackets)
            if value is None and in_brackets:
                raise OddError
            data[key] = value
        return data, key_event


_NO_PLAIN_KEY: Final = frozenset("0123456789+-.~<")


@lru_cache(maxsize=4096)
def _understood(word: str) -> Plain:
    """What an unquoted word means; a number tells how it is written."""
    if word == "-":
        raise OddError
    try:
        value = understand(word)
        if type(value) is int or type(value) is Fraction:
            value = number_in(word)
            if value is None:
                raise OddError
    except NumberError:
        raise OddError from None
    return value
