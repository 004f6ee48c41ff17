"""Reads a YAML (or JSON) file without surprises.

A rulebook must mean what it seems to mean. So the file is read with the core schema of YAML 1.2 and exact
numbers, and what a reader of the page could misjudge is refused, with its place: a key given twice, a tag,
a merge, a clause number without quotes, a second document.

libyaml (through PyYAML) cuts the text into events; one pass over them builds the data and, beside it, the
marks. Offsets stay bare numbers until someone asks for a place, which is what makes this pass quick.
Sizes, depths and the growth by aliases are bounded, so that no file can hang or exhaust the machine.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

import yaml
from yaml.events import (
    AliasEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    StreamEndEvent,
)

from checker.reading.document import Document
from checker.reading.file_bytes import decode, read_bytes
from checker.reading.json_escapes import hide_surrogate_pairs, restoring
from checker.reading.marks import Elsewhere, KeyMark, Mark
from checker.reading.problems import InputError, Problem, Span
from checker.reading.source import Source
from checker.reading.syntax import explain
from checker.reading.values import DEEPEST, NOT_ONLY_TEXT, NumberError, Plain, understand

MOST_NODES: Final = 200_000
MOST_ALIASED_NODES: Final = 10_000
MOST_PROBLEMS: Final = 100

_GLUED: Final = re.compile(r":(?=\S)")


def read_document(file: str | os.PathLike[str], prefix: str) -> Document:
    """The document in a file; its name is the path as given.

    Args:
        file: Path of a YAML or JSON file.
        prefix: Two letters that begin the problem codes, e.g. "PK".

    Raises:
        InputError: Codes 100 and 110 to 121, see `parse_document`; 110 is a file that cannot be opened.
    """
    return parse_document(read_bytes(file, prefix), os.fspath(file), prefix)


def parse_document(data: bytes, name: str, prefix: str) -> Document:
    """The document in a file's bytes.

    Raises:
        InputError: 100 libyaml is not there; 111 not UTF-8 text; 112 not YAML; 113 key given twice; 114 tag;
            115 anchor, alias or merge key; 116 directive or second document; 117 too large, deep or many
            parts; 118 number out of bounds; 119 key that is not text; 120 nothing in the file; 121 colon
            without a blank. Everything found is reported together, in the order of the file; after a
            mistake of the syntax nothing more is found.
    """
    if not yaml.__with_libyaml__:
        message = "PyYAML is installed without libyaml, which is needed to read files"
        raise InputError(
            [Problem(f"{prefix}100", message, hint="Install a PyYAML wheel built with libyaml.")]
        )
    reader = _Reader(decode(data, name, prefix), prefix)
    return reader.read()


class _StopReading(Exception):
    """What was noted last makes reading on useless."""


class _Reader:
    """One pass over the events of one file."""

    def __init__(self, source: Source, prefix: str) -> None:
        self.source = source
        self.text = source.text
        self.prefix = prefix
        hidden = hide_surrogate_pairs(self.text)
        self.next_event: Callable[[], Any] = yaml.CSafeLoader(
            self.text if hidden is None else hidden
        ).get_event
        if hidden is not None:
            self.next_event = restoring(self.next_event)
        self.problems: list[Problem] = []
        self.nodes = 0
        self.aliased_nodes = 0
        self.tags: set[tuple[int, int]] = set()
        self.anchors: dict[str, _Anchor] = {}
        self.has_properties = "!" in self.text or "&" in self.text or "*" in self.text

    # -- the whole file ------------------------------------------------------------------------------

    def read(self) -> Document:
        data: Plain = None
        mark: Mark = (0, 0, None)
        try:
            data, mark = self._document()
        except yaml.YAMLError as error:
            self._syntax_error(error)
        except _StopReading:
            pass
        if self.problems:
            raise InputError(self.problems)
        return Document(self.source, data, mark)

    def _document(self) -> tuple[Plain, Mark]:
        next_event = self.next_event
        next_event()  # the stream begins
        begin = next_event()
        if type(begin) is StreamEndEvent:
            self._problem("120", "the file is empty", 0, 0)
            raise _StopReading
        if begin.version is not None or begin.tags:
            self._problem(
                "116",
                "a directive stands here",
                begin.start_mark.index,
                begin.start_mark.index + 1,
                hint="Take the lines that begin with '%' away.",
            )
        root = next_event()
        self.nodes = 1
        data, mark = self._value(root, 1)
        if type(root) is ScalarEvent and data is None and not root.value:
            self._problem("120", "the file is empty", 0, 0)
        next_event()  # the document ends
        after = next_event()
        if type(after) is not StreamEndEvent:
            start = after.start_mark.index
            hint = "Keep one file for each; take the line '---' away if it is one document."
            self._problem("116", "a second document begins here", start, start + 3, hint=hint)
        return data, mark

    # -- values --------------------------------------------------------------------------------------

    def _value(self, event: Any, depth: int) -> tuple[Plain, Mark]:
        """What begins with `event`, read to its end. `depth` is that of a collection which begins here."""
        if self.has_properties and self._has_properties(event):
            return self._with_properties(event, depth)
        return self._bare_value(event, depth)

    def _bare_value(self, event: Any, depth: int) -> tuple[Plain, Mark]:
        kind = type(event)
        if kind is ScalarEvent:
            return self._scalar(event)
        if depth > DEEPEST:
            start = event.start_mark.index
            self._problem("117", f"this is nested more than {DEEPEST} levels deep", start, start + 1)
            raise _StopReading
        return self._mapping(event, depth) if kind is MappingStartEvent else self._list(event, depth)

    def _scalar(self, event: Any) -> tuple[Plain, Mark]:
        value = event.value
        mark = (event.start_mark.index, event.end_mark.index, None)
        if event.style == "" and (not value or value[0] in NOT_ONLY_TEXT):
            try:
                return understand(value), mark
            except NumberError as error:
                self._problem(
                    "118", str(error), mark[0], mark[1], hint="If it is no number, put it in quotes."
                )
        return value, mark

    def _list(self, event: Any, depth: int) -> tuple[Plain, Mark]:
        next_event = self.next_event
        data: list[Any] = []
        marks: list[Mark] = []
        while type(entry := next_event()) is not SequenceEndEvent:
            value, mark = self._value(entry, depth + 1)
            data.append(value)
            marks.append(mark)
            self._count(1, entry)
        return data, (event.start_mark.index, _end(entry), marks)

    def _mapping(self, event: Any, depth: int) -> tuple[Plain, Mark]:
        next_event = self.next_event
        in_braces = event.flow_style
        data: dict[str, Any] = {}
        marks: dict[str, KeyMark] = {}
        while type(key_event := next_event()) is not MappingEndEvent:
            key, key_start, key_end = self._key(key_event, depth)
            value, mark = self._value(next_event(), depth + 1)
            self._count(2, key_event)
            if in_braces and value is None:
                self._check_colon(key, key_start, key_end, mark)
            if key is None:
                continue
            if key in data:
                self._given_twice(key, key_start, key_end, marks[key])
                continue
            data[key] = value
            marks[key] = (key_start, key_end, mark)
        return data, (event.start_mark.index, _end(key_event), marks)

    def _count(self, more: int, event: Any) -> None:
        self.nodes += more
        if self.nodes > MOST_NODES:
            start = event.start_mark.index
            self._problem("117", f"the file holds more than {MOST_NODES} values", start, start + 1)
            raise _StopReading

    # -- keys ----------------------------------------------------------------------------------------

    def _key(self, event: Any, depth: int) -> tuple[str | None, int, int]:
        """The key that begins with `event` and its offsets; None where it is refused."""
        start, end = event.start_mark.index, event.end_mark.index
        if type(event) is not ScalarEvent or (self.has_properties and self._has_properties(event)):
            key, _ = self._value(event, depth + 1)
        elif event.style != "":
            return event.value, start, end
        else:
            key = event.value
            if key == "<<":
                hint = "Write the keys out; if '<<' is meant as a key, put it in quotes."
                self._problem("115", "the merge key '<<' is not read", start, end, hint=hint)
                return None, start, end
            if not key or key[0] in NOT_ONLY_TEXT:
                try:
                    key = understand(key)
                except NumberError:
                    key = 0
        if isinstance(key, str):
            return key, start, end
        self._not_a_key(key, start, end)
        return None, start, end

    def _not_a_key(self, key: Plain, start: int, end: int) -> None:
        if isinstance(key, list | dict):
            what = "list" if isinstance(key, list) else "mapping"
            message, hint = (
                f"a {what} cannot be a key",
                "A '{' or '[' that belongs to the text of a key goes in quotes.",
            )
            self._problem("119", message, start, start + 1, hint=hint)
            return
        written = self.text[start:end]
        if not written:
            self._problem("119", "a key is missing before the ':'", start, end)
            return
        what = "null" if key is None else "a truth value" if isinstance(key, bool) else "a number"
        self._problem("119", f'key {written} is {what}; put it in quotes: "{written}"', start, end)

    def _given_twice(self, key: str, start: int, end: int, first: KeyMark) -> None:
        related = (("first given here", self.source.span(first[0], first[1])),)
        self._problem("113", f"'{key}' is given twice", start, end, related=related)

    def _check_colon(self, key: str | None, start: int, end: int, value: Mark) -> None:
        """`{a:b}` is the key "a:b" without a value, which nobody means."""
        if key is None or isinstance(value, Elsewhere) or value[0] != value[1]:
            return
        found = _GLUED.search(self.text, start, end)
        if found is not None and self.text[start] not in "'\"":
            colon = found.start()
            before, after = self.text[start:colon], self.text[colon + 1 : end]
            self._problem(
                "121", "needs a blank after the colon", colon, colon + 1, hint=f"Write {before}: {after}"
            )

    # -- tags, anchors, aliases ----------------------------------------------------------------------

    def _has_properties(self, event: Any) -> bool:
        return (
            event.anchor is not None
            or event.tag is not None
            or self.text.startswith("!", event.start_mark.index)
        )

    def _with_properties(self, event: Any, depth: int) -> tuple[Plain, Mark]:
        """A value that has a tag or an anchor, or is an alias."""
        if type(event) is AliasEvent:
            return self._alias(event, depth)
        start = event.start_mark.index
        content, tag = _properties(self.text, start, event.end_mark.index)
        if tag is not None and tag not in self.tags:
            self.tags.add(tag)  # a mapping and its first key begin at the same place
            hint = "Take it away; a number that is meant as text goes in quotes."
            self._problem("114", f"the tag '{self.text[slice(*tag)]}' is not allowed", *tag, hint=hint)
        anchor = None
        if event.anchor is not None:
            anchor = self._anchor(event.anchor, start)
        data, mark = self._bare_value(event, depth)
        if not isinstance(mark, Elsewhere):
            mark = (min(content, mark[1]), mark[1], mark[2])
        if anchor is not None:
            anchor.nodes = self.nodes - anchor.nodes + 1
            anchor.data, anchor.mark = data, mark
        return data, mark

    def _anchor(self, name: str, start: int) -> _Anchor | None:
        end = start + 1 + len(name)
        if name in self.anchors:
            first = self.anchors[name].start
            related = (("first given here", self.source.span(first, first + 1 + len(name))),)
            self._problem("115", f"the anchor '&{name}' is given twice", start, end, related=related)
        anchor = self.anchors[name] = _Anchor(start, self.nodes)
        return anchor

    def _alias(self, event: Any, depth: int) -> tuple[Plain, Mark]:
        start, end = event.start_mark.index, event.end_mark.index
        name = event.anchor
        anchor = self.anchors.get(name)
        if anchor is None:
            message, hint = f"there is no '&{name}' above", "Text that begins with '*' goes in quotes."
            self._problem("115", message, start, end, hint=hint)
        elif anchor.mark is None:
            self._problem("115", f"'*{name}' stands inside what it repeats", start, end)
        elif self.aliased_nodes + anchor.nodes > MOST_ALIASED_NODES:
            message = f"the file repeats more than {MOST_ALIASED_NODES} values by '*' aliases"
            self._problem("115", message, start, end)
            raise _StopReading
        elif depth - 1 + _height(anchor.data) > DEEPEST:
            self._problem(
                "117", f"what '*{name}' repeats is nested more than {DEEPEST} levels deep here", start, end
            )
        else:
            self.aliased_nodes += anchor.nodes
            self.nodes += anchor.nodes
            return anchor.data, anchor.mark
        return None, (start, end, None)

    # -- problems ------------------------------------------------------------------------------------

    def _problem(
        self,
        number: str,
        message: str,
        start: int,
        end: int,
        hint: str = "",
        related: tuple[tuple[str, Span], ...] = (),
    ) -> None:
        span = self.source.span(start, end)
        self.problems.append(Problem(self.prefix + number, message, span, hint=hint, related=related))
        if len(self.problems) >= MOST_PROBLEMS:
            raise _StopReading

    def _syntax_error(self, error: yaml.YAMLError) -> None:
        fault = explain(error, self.text)
        related = tuple((label, self.source.span(at, at + 1)) for label, at in fault.related)
        span = self.source.span(fault.start, fault.start + 1)
        self.problems.append(
            Problem(self.prefix + fault.number, fault.message, span, hint=fault.hint, related=related)
        )


@dataclass(slots=True)
class _Anchor:
    start: int
    nodes: int
    """Values inside; while the anchored value is being read, the count before it."""
    data: Plain = None
    mark: Mark | None = None
    """None while the anchored value is being read."""


def _end(event: Any) -> int:
    return int(event.end_mark.index)


def _height(data: Plain) -> int:
    """Levels of lists and mappings in `data`; 0 for a scalar."""
    if isinstance(data, dict):
        return 1 + max(map(_height, data.values()), default=0)
    if isinstance(data, list):
        return 1 + max(map(_height, data), default=0)
    return 0


def _properties(text: str, start: int, end: int) -> tuple[int, tuple[int, int] | None]:
    """Where a value begins after its anchor and tag, and where the tag stands."""
    at, tag = start, None
    while at < end or text[at : at + 1] in ("&", "!"):
        if text[at] in "&!":
            begin = at
            while at < len(text) and not text[at].isspace() and text[at] not in ",[]{}":
                at += 1
            if text[begin] == "!":
                tag = (begin, at)
        elif text[at].isspace():
            at += 1
        elif text[at] == "#":
            while at < len(text) and text[at] not in "\r\n":
                at += 1
        else:
            break
    return at, tag
