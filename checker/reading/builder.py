"""One pass over the events of a file: plain data, and beside it the marks.

Offsets stay bare numbers until someone asks for a place; that is what makes the pass quick. What a reader of
the page could misjudge (a key given twice, a tag, a number as a key) is noted and the pass goes on, so that
all of it is reported together. Sizes, depths and the growth by aliases are bounded.
"""

from __future__ import annotations

from typing import Final

from checker.reading import pitfalls
from checker.reading.anchors import Anchor, refusal, skip_properties
from checker.reading.events import ALIAS, LIST_END, MAPPING, MAPPING_END, SCALAR, NextEvent, ParserEvent
from checker.reading.marks import Elsewhere, Here, KeyMark, Mark
from checker.reading.pitfalls import Fault
from checker.reading.plain_text import shortened
from checker.reading.problems import MOST_PROBLEMS, Problem
from checker.reading.source import FileText
from checker.reading.values import DEEPEST, NOT_ONLY_TEXT, NumberError, Plain, understand

MOST_NODES: Final = 200_000


class StopReading(Exception):
    """What was noted last makes reading on useless."""


class Builder:
    """Builds what the events say, and notes the problems on the way."""

    def __init__(self, source: FileText, next_event: NextEvent, prefix: str) -> None:
        self.source = source
        self.text = source.text
        self.next_event = next_event
        self.prefix = prefix
        self.problems: list[Problem] = []
        self.nodes = 0
        self.repeated = 0
        self.anchors: dict[str, Anchor] = {}
        self.indent = -1
        """Column of the innermost list or mapping in block style; -1 outside of any."""
        self.in_brackets = False
        self.outside: list[Fault] = []
        """Noted only where the file can be read at all: a mark that is never closed is told better."""
        self.may_comment = "#" in source.text
        self.at = 0
        """Where the value that was read last ends, or the brackets begin."""

    def fault(self, found: Fault | None) -> None:
        """Note what is wrong, where something is."""
        if found is None:
            return
        span = self.source.span(found.start, found.end)
        related = tuple((what, self.source.span(start, end)) for what, start, end in found.related)
        self.problems.append(
            Problem(self.prefix + found.number, found.message, span, found.hint, related=related)
        )
        if found.is_last or len(self.problems) >= MOST_PROBLEMS:
            raise StopReading

    # -- values --------------------------------------------------------------------------------------

    def value(self, event: ParserEvent, depth: int) -> tuple[Plain, Mark]:
        """What begins with `event`, read to its end. `depth` is that of a collection which begins here."""
        if event.anchor is not None or event.tag is not None:
            return self._with_properties(event, depth)
        return self._bare_value(event, depth)

    def _bare_value(self, event: ParserEvent, depth: int) -> tuple[Plain, Here]:
        kind = type(event)
        if kind is SCALAR:
            return self._scalar(event)
        if depth > DEEPEST:
            start = event.start_mark.index
            message = f"this is nested more than {DEEPEST} levels deep"
            self.fault(Fault(message, start, start + 1, number="117", is_last=True))
        build = self._mapping if kind is MAPPING else self._list
        around = self.indent, self.in_brackets
        if event.flow_style:
            self.in_brackets, self.at = True, event.end_mark.index
        elif event.anchor is None and event.tag is None:
            self.indent = event.start_mark.column
        found = build(event, depth)
        self.indent, self.in_brackets = around
        if event.flow_style:
            self._check_comma_comment(found[1][1] - 1)
            self._check_ends(found[1][0], found[1][1], brackets=True)
        self.at = found[1][1]
        return found

    def _check_ends(self, start: int, end: int, *, brackets: bool) -> None:
        """Of a value in brackets or quotes: what follows it, and its lines after the first."""
        if self.may_comment:
            self.fault(pitfalls.glued_comment(self.text, end))
        if not self.in_brackets and self.indent >= 0 and self.text.find("\n", start, end) >= 0:
            found = pitfalls.outside_of_block(self.text, start, end, self.indent, brackets)
            if found is not None:
                self.outside.append(found)

    def _check_comma_comment(self, end: int) -> None:
        if self.may_comment and self.text.find("#", self.at, end) >= 0:
            self.fault(pitfalls.glued_after_comma(self.text, self.at, end))

    def _scalar(self, event: ParserEvent) -> tuple[Plain, Here]:
        value = event.value
        mark = (event.start_mark.index, event.end_mark.index, None)
        self.at = mark[1]
        if event.style != "":
            if event.style in "|>":
                self.fault(pitfalls.in_block_text(self.text, mark[0], mark[1], self.indent))
            else:
                self._check_ends(mark[0], mark[1], brackets=False)
            return value, mark
        if self.may_comment:
            self.fault(pitfalls.after_plain(self.text, mark[1]))
        if value == "-":
            hint = "Write what belongs there; an empty list is [], and a list of lines begins on a line of its own."
            self.fault(Fault("a '-' alone is no value", mark[0], mark[1], hint))
        if not value or value[0] in NOT_ONLY_TEXT:
            try:
                return understand(value), mark
            except NumberError as error:
                hint = "If it is no number, put it in quotes."
                self.fault(Fault(str(error), mark[0], mark[1], hint, "118"))
        return value, mark

    def _list(self, event: ParserEvent, depth: int) -> tuple[Plain, Here]:
        next_event = self.next_event
        data: list[Plain] = []
        marks: list[Mark] = []
        while type(entry := next_event()) is not LIST_END:
            if event.flow_style:
                self._check_comma_comment(entry.start_mark.index)
            value, mark = self.value(entry, depth + 1)
            if event.flow_style and data and isinstance(value, str) and value[:1].isdigit():
                self.fault(pitfalls.decimal_comma(self.text, entry.start_mark.index))
            data.append(value)
            marks.append(mark)
            self._count(1, entry)
        return data, (event.start_mark.index, entry.end_mark.index, marks)

    def _mapping(self, event: ParserEvent, depth: int) -> tuple[Plain, Here]:
        next_event = self.next_event
        in_braces = event.flow_style
        data: dict[str, Plain] = {}
        marks: dict[str, KeyMark] = {}
        while type(key_event := next_event()) is not MAPPING_END:
            key, key_start, key_end = self._key(key_event, depth)
            if in_braces:
                self.fault(pitfalls.question_mark(self.text, key_start))
                self._check_comma_comment(key_start)
            value, mark = self.value(next_event(), depth + 1)
            self._count(2, key_event)
            if in_braces and value is None and not isinstance(mark, Elsewhere) and mark[0] == mark[1]:
                if key is not None:
                    self.fault(pitfalls.glued_colon(self.text, key_start, key_end))
                self.fault(pitfalls.decimal_comma(self.text, key_start))
            if key is None:
                continue
            if key in data:
                related, message = (
                    (("first given here", *marks[key][:2]),),
                    f"'{shortened(key)}' is given twice",
                )
                self.fault(Fault(message, key_start, key_end, number="113", related=related))
                continue
            data[key] = value
            marks[key] = (key_start, key_end, mark)
        return data, (event.start_mark.index, key_event.end_mark.index, marks)

    def _count(self, more: int, event: ParserEvent) -> None:
        self.nodes += more
        if self.nodes > MOST_NODES:
            start = event.start_mark.index
            message = f"the file holds more than {MOST_NODES} values"
            self.fault(Fault(message, start, start + 1, number="117", is_last=True))

    # -- keys ----------------------------------------------------------------------------------------

    def _key(self, event: ParserEvent, depth: int) -> tuple[str | None, int, int]:
        """The key that begins with `event` and its offsets; None where it is refused."""
        start, end = event.start_mark.index, event.end_mark.index
        if type(event) is not SCALAR or event.anchor is not None or event.tag is not None:
            key, _ = self.value(event, depth + 1)
        elif event.style != "":
            return event.value, start, end
        else:
            key = event.value
            if key == "<<":
                hint = "Write the keys out; if '<<' is meant as a key, put it in quotes."
                self.fault(Fault("the merge key '<<' is not read", start, end, hint, "115"))
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
            hint = "A '{' or '[' that belongs to the text of a key goes in quotes."
            self.fault(Fault(f"a {what} cannot be a key", start, start + 1, hint, "119"))
            return
        message, written = "a key is missing before the ':'", shortened(self.text[start:end])
        if written:
            what = "null" if key is None else "a truth value" if isinstance(key, bool) else "a number"
            message = f'key {written} is {what}; put it in quotes: "{written}"'
        self.fault(Fault(message, start, end, number="119"))

    # -- tags, anchors, aliases ----------------------------------------------------------------------

    def _with_properties(self, event: ParserEvent, depth: int) -> tuple[Plain, Mark]:
        """A value that has a tag or an anchor, or is an alias."""
        if type(event) is ALIAS:
            return self._alias(event, depth)
        start = event.start_mark.index
        content, tag = skip_properties(self.text, start, event.end_mark.index)
        if tag is not None:
            written = self.text[slice(*tag)]
            meant = "a number that is meant as text" if written[:2] == "!!" else "text that begins with '!'"
            hint = f"Take it away; {meant} goes in quotes."
            self.fault(Fault(f"the tag '{shortened(written)}' is not allowed", *tag, hint, "114"))
        anchor = None if event.anchor is None else self._anchor(event.anchor, start)
        data, mark = self._bare_value(event, depth)
        mark_of_content = (min(content, mark[1]), mark[1], mark[2])
        if anchor is not None:
            anchor.nodes = self.nodes - anchor.nodes + 1
            anchor.data, anchor.mark = data, mark_of_content
        return data, mark_of_content

    def _anchor(self, name: str, start: int) -> Anchor:
        """A new anchor; until its value is read, its `nodes` are the count before it."""
        end = start + 1 + len(name)
        if self.text[start] == "&":
            self.fault(pitfalls.after_anchor(self.text, name, start, end))
        if name in self.anchors:
            first = self.anchors[name].start
            related = (("first given here", first, first + 1 + len(name)),)
            message = f"the anchor '&{shortened(name)}' is given twice"
            self.fault(Fault(message, start, end, number="115", related=related))
        anchor = self.anchors[name] = Anchor(start, self.nodes)
        return anchor

    def _alias(self, event: ParserEvent, depth: int) -> tuple[Plain, Mark]:
        start, end = event.start_mark.index, event.end_mark.index
        self.at = end
        name = event.anchor or ""
        anchor = self.anchors.get(name)
        refused = refusal(anchor, name, start, end, self.repeated, depth - 1)
        self.fault(refused)
        if refused is not None or anchor is None or anchor.mark is None:
            return None, (start, end, None)
        self.repeated += anchor.nodes
        self.nodes += anchor.nodes
        return anchor.data, anchor.mark
