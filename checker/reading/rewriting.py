"""Edits made in a file's text, so that its comments, its order and the way it is written stay as they were."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from checker.reading.document import Document
from checker.reading.edits import REMOVE, Edit
from checker.reading.printer import inline_text, to_yaml
from checker.reading.problems import InputError, Path
from checker.reading.strict_yaml import parse_document
from checker.reading.values import Plain

_STEP: Final = "  "


def rewritten(document: Document, edits: Sequence[Edit], code: str) -> str:
    """The text of a file with these edits made, one after the other.

    What an edit cannot be fitted into, as a list in brackets that loses an entry, is written anew on one line.

    Raises:
        InputError: With `code`, as `Document.edited`.
    """
    for edit in edits:
        wanted = document.edited([edit], code).data
        tried = (text for text in _tries(document, edit, document.edited([edit], code)) if text is not None)
        read = (_read(text, document.name) for text in tried)
        document = next(one for one in read if one is not None and one.data == wanted)
    return document.text


def _tries(document: Document, edit: Edit, edited: Document) -> Iterator[str | None]:
    """Texts that may say what is wanted, the one that changes least first."""
    yield _with(document, edit)
    for depth in range(len(edit.path) - 1, 0, -1):
        extent = document.extent(edit.path[:depth])
        if extent is not None:
            yield _exchanged(document.text, *extent, inline_text(edited.get(edit.path[:depth])))
    yield to_yaml(edited.data)


def _read(text: str, name: str) -> Document | None:
    try:
        return parse_document(text.encode(), name, "RW")
    except InputError:
        return None


def _with(document: Document, edit: Edit) -> str | None:
    """The text with one edit made; None where it fits no form that is known here."""
    *above, last = edit.path
    if edit.value is REMOVE:
        return _without(document, edit.path)
    value: Plain = edit.value
    if document.has(edit.path) and document.get(edit.path) is not None:
        extent = document.extent(edit.path)
        return None if extent is None else _exchanged(document.text, *extent, inline_text(value))
    parent = document.get(tuple(above))
    if not above or parent or (isinstance(parent, dict | list) and _is_flow(document, tuple(above))):
        told = (
            inline_text(value) if isinstance(last, int) else f"{inline_text(str(last))}: {inline_text(value)}"
        )
        return _appended(document, tuple(above), told, last)
    outer: Plain = [value] if isinstance(last, int) else {last: value}
    return _with(document, Edit(tuple(above), outer)) if above else None


def _is_flow(document: Document, path: Path) -> bool:
    extent = document.extent(path)
    return extent is not None and document.text[extent[0] : extent[0] + 1] in ("{", "[")


def _exchanged(text: str, start: int, end: int, told: str) -> str:
    return text[:start] + told + text[end:]


def _appended(document: Document, path: Path, told: str, last: str | int) -> str | None:
    """A key or an entry behind those that a mapping or list has already."""
    text, holder, extent = document.text, document.get(path), document.extent(path)
    if extent is None:
        return None
    if _is_flow(document, path):
        at = text.rindex("}" if text[extent[0]] == "{" else "]", extent[0], extent[1])
        told = f", {told}" if holder else told
        return text[: len(text[:at].rstrip())] + told + text[at:]
    if not isinstance(holder, dict | list) or not holder:
        return None
    first = next(iter(holder)) if isinstance(holder, dict) else 0
    begins = extent[0] if isinstance(first, str) else _dash(text, document.extent((*path, first)))
    if begins is None:
        return None
    lead = text[text.rfind("\n", 0, begins) + 1 : begins]
    indent = " " * len(lead)
    at = _line_end(text, extent[1])
    ends = "" if text[:at].endswith("\n") or not at else "\n"
    return f"{text[:at]}{ends}{indent}{'- ' if isinstance(last, int) else ''}{told}\n{text[at:]}"


def _dash(text: str, extent: tuple[int, int] | None) -> int | None:
    """Where the dash of an entry stands."""
    at = -1 if extent is None else text.rfind("-", 0, extent[0])
    return at if at >= 0 and extent is not None and not text[at + 1 : extent[0]].strip() else None


def _line_end(text: str, at: int) -> int:
    """Where the line ends that a value ends in, behind its comment."""
    end = text.find("\n", at)
    return len(text) if end < 0 else end + 1


def _without(document: Document, path: Path) -> str | None:
    """The text without an entry of a list or a key of a mapping, on lines of its own."""
    above, last = path[:-1], path[-1]
    text, holder, extent = document.text, document.get(above), document.extent(path)
    if extent is None or not isinstance(holder, dict | list) or _is_flow(document, above):
        return None
    if len(holder) == 1:
        outer = document.extent(above)
        empty = "[]" if isinstance(holder, list) else "{}"
        if outer is None or not above:
            return None
        begins = _dash(text, extent) if isinstance(last, int) else outer[0]
        if begins is None:
            return None
        start = len(text[:begins].rstrip())
        return f"{text[:start]} {empty}{text[extent[1] :]}"
    begins = _dash(text, extent) if isinstance(last, int) else _key(document, path)
    if begins is None:
        return None
    start = text.rfind("\n", 0, begins) + 1
    if text[start:begins].strip():
        return None
    return text[:start] + text[_line_end(text, extent[1]) :]


def _key(document: Document, path: Path) -> int | None:
    """Where the key of a value stands."""
    span = document.key_span(path)
    lines = document.text.split("\n")
    return sum(len(line) + 1 for line in lines[: span.line - 1]) + span.column - 1
