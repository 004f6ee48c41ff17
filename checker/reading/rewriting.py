"""Edits made in a file's text, so that its comments, its order and the way it is written stay as they were."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, TypeAlias

from checker.reading.document import Document
from checker.reading.edits import REMOVE, Edit
from checker.reading.printer import inline_text, to_yaml
from checker.reading.problems import InputError, Path
from checker.reading.strict_yaml import parse_document
from checker.reading.values import Plain

_STEP: Final = "  "

Splice: TypeAlias = tuple[int, int, str]
"""A stretch of a text, and what takes its place."""


def rewritten(document: Document, edits: Sequence[Edit], code: str) -> str:
    """The text of a file with these edits made, one after the other.

    What an edit cannot be fitted into, as a list in brackets that spans comments, is written anew on one line.

    Raises:
        InputError: With `code`, as `Document.edited`.
    """
    at_once = _all_at_once(document, edits, code) if len(edits) > 1 else None
    if at_once is not None:
        return at_once.text
    for edit in edits:
        edited = document.edited([edit], code)
        tried = (text for text in _tries(document, edit, edited) if text is not None)
        read = (_read(text, document.name) for text in tried)
        document = next(one for one in read if one is not None and one.data == edited.data)
    return document.text


def _all_at_once(document: Document, edits: Sequence[Edit], code: str) -> Document | None:
    """The file with edits made in different places, read once; None where they get into each other's way."""
    wanted = document.edited(edits, code).data
    try:
        splices = [_with(document, edit) for edit in edits]
    except (KeyError, IndexError, ValueError, InputError):
        return None  # an edit speaks of what another makes
    fitting = [one for one in splices if one is not None]
    if len(fitting) < len(splices):
        return None
    text, at, parts = document.text, 0, []
    for start, end, told in sorted(fitting, key=lambda one: one[:2]):
        if start < at:
            return None
        parts += [text[at:start], told]
        at = end
    read = _read("".join([*parts, text[at:]]), document.name)
    return read if read is not None and read.data == wanted else None


def _tries(document: Document, edit: Edit, edited: Document) -> Iterator[str | None]:
    """Texts that may say what is wanted, the one that changes least first."""
    yield _spliced(document.text, _with(document, edit))
    for depth in range(len(edit.path) - 1, 0, -1):
        extent = document.extent(edit.path[:depth])
        if extent is not None:
            yield _spliced(document.text, (*extent, inline_text(edited.get(edit.path[:depth]))))
    yield to_yaml(edited.data)


def _spliced(text: str, splice: Splice | None) -> str | None:
    if splice is None:
        return None
    start, end, told = splice
    return text[:start] + told + text[end:]


def _read(text: str, name: str) -> Document | None:
    try:
        return parse_document(text.encode(), name, "RW")
    except InputError:
        return None


def _with(document: Document, edit: Edit) -> Splice | None:
    """How one edit is made in the text; None where it fits no form that is known here."""
    *above, last = edit.path
    if edit.value is REMOVE:
        return _without(document, edit.path)
    value: Plain = edit.value
    if document.has(edit.path) and document.get(edit.path) is not None:
        extent = document.extent(edit.path)
        return None if extent is None else (*extent, inline_text(value))
    parent = document.get(tuple(above))
    if not above or parent or (isinstance(parent, dict | list) and _is_flow(document, tuple(above))):
        return _appended(document, tuple(above), _told(value, last, in_file=not above), last)
    outer: Plain = [value] if isinstance(last, int) else {last: value}
    return _with(document, Edit(tuple(above), outer)) if above else None


def _told(value: Plain, last: str | int, *, in_file: bool) -> str:
    """What is added: on one line, but a new section of the file with a line for each thing in it."""
    if isinstance(last, int):
        return inline_text(value)
    key = inline_text(last)
    if in_file and isinstance(value, dict) and value:
        lines = [f"{inline_text(name)}: {inline_text(one)}" for name, one in value.items()]
    elif in_file and isinstance(value, list) and value:
        lines = [f"- {inline_text(one)}" for one in value]
    else:
        return f"{key}: {inline_text(value)}"
    return "\n".join((f"{key}:", *(f"{_STEP}{line}" for line in lines)))


def _is_flow(document: Document, path: Path) -> bool:
    extent = document.extent(path)
    return extent is not None and document.text[extent[0] : extent[0] + 1] in ("{", "[")


def _appended(document: Document, path: Path, told: str, last: str | int) -> Splice | None:
    """A key or an entry behind those that a mapping or list has already."""
    text, holder, extent = document.text, document.get(path), document.extent(path)
    if extent is None:
        return None
    if _is_flow(document, path):
        if "\n" in told:
            return None
        at = text.rindex("}" if text[extent[0]] == "{" else "]", extent[0], extent[1])
        return len(text[:at].rstrip()), at, f", {told}" if holder else told
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
    blank = "\n" if "\n" in told else ""  # a section stands apart
    return at, at, f"{ends}{blank}{indent}{'- ' if isinstance(last, int) else ''}{told}\n"


def _dash(text: str, extent: tuple[int, int] | None) -> int | None:
    """Where the dash of an entry stands."""
    at = -1 if extent is None else text.rfind("-", 0, extent[0])
    return at if at >= 0 and extent is not None and not text[at + 1 : extent[0]].strip() else None


def _line_end(text: str, at: int) -> int:
    """Where the line ends that a value ends in, behind its comment."""
    end = text.find("\n", at)
    return len(text) if end < 0 else end + 1


def _without(document: Document, path: Path) -> Splice | None:
    """An entry of a list or a key of a mapping is taken away: with its lines, or with its comma."""
    above, last = path[:-1], path[-1]
    text, holder, extent = document.text, document.get(above), document.extent(path)
    if extent is None or not isinstance(holder, dict | list):
        return None
    if _is_flow(document, above):
        return _out_of_brackets(document, path, extent, holder)
    if len(holder) == 1:
        outer = document.extent(above)
        empty = "[]" if isinstance(holder, list) else "{}"
        if outer is None or not above:
            return None
        begins = _dash(text, extent) if isinstance(last, int) else outer[0]
        if begins is None:
            return None
        return len(text[:begins].rstrip()), extent[1], f" {empty}"
    begins = _dash(text, extent) if isinstance(last, int) else _key(document, path)
    if begins is None:
        return None
    start = text.rfind("\n", 0, begins) + 1
    if text[start:begins].strip():
        return None
    return start, _line_end(text, extent[1]), ""


def _out_of_brackets(
    document: Document, path: Path, extent: tuple[int, int], holder: dict[str, Plain] | list[Plain]
) -> Splice | None:
    above, last = path[:-1], path[-1]
    keys: list[str | int] = list(holder) if isinstance(holder, dict) else list(range(len(holder)))
    at = keys.index(last)

    def begin(key: str | int) -> int | None:
        place = document.extent((*above, key)) if isinstance(key, int) else None
        return (place[0] if place else None) if isinstance(key, int) else _key(document, (*above, key))

    start, following = begin(last), begin(keys[at + 1]) if at + 1 < len(keys) else None
    if start is None:
        return None
    if following is not None:
        return start, following, ""
    if at:
        before = document.extent((*above, keys[at - 1]))
        return None if before is None else (before[1], extent[1], "")
    return start, extent[1], ""


def _key(document: Document, path: Path) -> int | None:
    """Where the key of a value stands."""
    span = document.key_span(path)
    lines = document.text.split("\n")
    return sum(len(line) + 1 for line in lines[: span.line - 1]) + span.column - 1
