"""Reads a YAML (or JSON) file without surprises.

A rulebook must mean what it seems to mean. So the file is read with the core schema of YAML 1.2 and exact
numbers, and what a reader of the page could misjudge is refused, with its place: a key given twice, a tag,
a merge, a clause number without quotes, a second document. No file can hang or exhaust the machine.

libyaml (through PyYAML) cuts the text into events; `builder` makes data and marks of them.
"""

from __future__ import annotations

import os
from contextlib import suppress
from typing import Final, cast

import yaml

from checker.reading.builder import Builder, StopReading
from checker.reading.document import Document
from checker.reading.events import FILE_END, SCALAR, NextEvent
from checker.reading.file_bytes import decode, read_bytes
from checker.reading.json_escapes import hide_surrogate_pairs, restoring
from checker.reading.marks import Mark
from checker.reading.patterns import pattern
from checker.reading.pitfalls import Fault
from checker.reading.problems import InputError, Problem
from checker.reading.quick import OddError, read_json, read_yaml
from checker.reading.source import FileText
from checker.reading.syntax import NO_DIRECTIVE, explain
from checker.reading.values import Plain

_COLON_BELOW: Final = pattern(r'([{,]\s*"(?:[^"\\\n]|\\.)*")(\s*\n\s*)(?=:)')
"""JSON may have the colon on a line below its key, which libyaml refuses."""


def read_document(file: str | os.PathLike[str], prefix: str) -> Document:
    """The document in a file; its name is the path as given.

    Args:
        file: Path of a YAML or JSON file.
        prefix: Two letters that begin the problem codes, e.g. "PK".

    Raises:
        InputError: 110, the file cannot be opened; else as `parse_document`.
    """
    return parse_document(read_bytes(file, prefix), os.fspath(file), prefix)


def read_quickly(file: str | os.PathLike[str], prefix: str) -> Document:
    """As `read_document`; the marks of what is plain are made only when somebody asks for a place."""
    return parse_quickly(read_bytes(file, prefix), os.fspath(file), prefix)


def parse_document(data: bytes, name: str, prefix: str, first_line: int = 1) -> Document:
    """The document in a file's bytes.

    Args:
        first_line: Where the bytes begin, of a file of which they are a part.

    Raises:
        InputError: 100 libyaml is not there; 111 not UTF-8 text; 112 not YAML; 113 key given twice; 114 tag;
            115 anchor, alias or merge key; 116 directive or second document; 117 too large, too deep or too
            many values; 118 number out of bounds; 119 key that is not text; 120 nothing in the file; 121
            colon without a blank. All that is found is reported together, in the order of the file, up to
            100 problems; after a mistake of the syntax nothing more is found.
    """
    source = _text_of(data, name, prefix, first_line)
    return Document(source, *_read(source, prefix))


def parse_quickly(data: bytes, name: str, prefix: str, first_line: int = 1) -> Document:
    """As `parse_document`; the marks of what is plain are made only when somebody asks for a place."""
    source = _text_of(data, name, prefix, first_line)
    try:
        content = _quickly(source)
    except OddError:
        return Document(source, *_read(source, prefix))
    return Document(source, content, lambda: _read(source, prefix)[1])


def _text_of(data: bytes, name: str, prefix: str, first_line: int) -> FileText:
    if not yaml.__with_libyaml__:
        message = "PyYAML is installed without libyaml, and without it files are not read reliably"
        hint = "Install a PyYAML wheel from the package index; those have libyaml."
        raise InputError([Problem(f"{prefix}100", message, hint=hint)])
    return decode(data, name, prefix, first_line)


def _quickly(source: FileText) -> Plain:
    if source.text[:1] == "{":
        try:
            return read_json(source.text)
        except OddError:
            pass  # braces are YAML too
    return read_yaml(source.text, _events(source))


def _read(source: FileText, prefix: str) -> tuple[Plain, Mark]:
    """What a text says, with its marks; errors as for `parse_document`."""
    builder = Builder(source, _events(source), prefix)
    content: Plain = None
    mark: Mark = (0, 0, None)
    with suppress(StopReading):
        try:
            content, mark = _only_document(builder)
            for found in builder.outside:
                builder.fault(found)
        except yaml.YAMLError as error:
            builder.fault(explain(error, source.text))
    if builder.problems:
        raise InputError(sorted(builder.problems, key=_place))
    return content, mark


def _events(source: FileText) -> NextEvent:
    text = source.text
    if not text.endswith("\n"):  # libyaml drops the last line of a block text
        text += "\n"
    if text.lstrip()[:1] in ("{", "["):
        text = _COLON_BELOW.sub(lambda gap: gap[1] + " " * len(gap[2]), text)
    hidden = hide_surrogate_pairs(text)
    if hidden is None:
        return cast(NextEvent, yaml.CSafeLoader(text).get_event)
    return restoring(cast(NextEvent, yaml.CSafeLoader(hidden.text).get_event), hidden)


def _only_document(builder: Builder) -> tuple[Plain, Mark]:
    """The file's one document, from the start of the events to their end."""
    next_event = builder.next_event
    next_event()  # the stream begins
    begin = next_event()
    if type(begin) is FILE_END:
        builder.fault(Fault("the file is empty", 0, 0, number="120", is_last=True))
    if begin.version is not None or begin.tags:
        start = begin.start_mark.index
        builder.fault(Fault("a directive stands here", start, start + 1, NO_DIRECTIVE, "116"))
    root = next_event()
    data, mark = builder.value(root, 1)
    if type(root) is SCALAR and root.style == "" and not root.value:
        builder.fault(Fault("the file is empty", 0, 0, number="120"))
    next_event()  # the document ends
    after = next_event()
    if type(after) is not FILE_END:
        start = after.start_mark.index
        hint = "Keep one file for each; if it is one document, take the line '---' away."
        builder.fault(Fault("a second document begins here", start, start + 1, hint, "116"))
    return data, mark


def _place(problem: Problem) -> tuple[int, int]:
    return (problem.span.line, problem.span.column) if problem.span is not None else (0, 0)
