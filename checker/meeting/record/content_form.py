"""The one form in which what an entry says is kept, and how it is read back."""

from __future__ import annotations

from dataclasses import MISSING, fields
from functools import cache
from typing import Any, get_args, get_origin, get_type_hints

from checker.meeting.record.chain import RecordEntry, parsed
from checker.meeting.record.contents import Content

KINDS: dict[str, type[Content]] = {kind.KIND: kind for kind in get_args(Content)}


class NotReadable(ValueError):
    """An entry that no program of this kind writes; the text says what is wrong with it."""


def to_plain(content: Content) -> dict[str, object]:
    """The content as it is kept. What is at its default is left out, so that a later field changes no older entry."""
    plain: dict[str, object] = {}
    for its_field in fields(content):
        value = getattr(content, its_field.name)
        if value != its_field.default:
            plain[its_field.name] = value
    return plain


def read_content(entry: RecordEntry) -> Content:
    """What an entry says.

    Raises:
        NotReadable: Its kind is unknown, or something is missing, unknown or of another type.
    """
    kind = KINDS.get(entry.kind)
    if kind is None:
        raise NotReadable(f"entry {entry.number} is of a kind that is not known: {entry.kind!r}")
    try:
        data = parsed(entry.content)
    except ValueError as error:
        raise NotReadable(f"entry {entry.number} cannot be read: {error}") from None
    hints = _hints(entry.kind)
    strangers = set(data) - set(hints)
    if strangers:
        raise NotReadable(f"entry {entry.number} says what is not known: {', '.join(sorted(strangers))}")
    for name, value in data.items():
        if not _is_a(value, hints[name]):
            raise NotReadable(f"entry {entry.number}: {name} is not what it should be")
    try:
        return kind(**data)
    except TypeError:
        missing = [f.name for f in fields(kind) if f.name not in data and f.default is MISSING]
        raise NotReadable(f"entry {entry.number} does not say {', '.join(missing)}") from None


@cache
def _hints(kind: str) -> dict[str, Any]:
    hints = get_type_hints(KINDS[kind])
    return {its_field.name: hints[its_field.name] for its_field in fields(KINDS[kind])}


def _is_a(value: object, hint: object) -> bool:
    """Whether a JSON value is of the type that a field has."""
    if hint is object:
        return True  # any plain data
    origin = get_origin(hint)
    if origin is list:
        (inner,) = get_args(hint)
        return isinstance(value, list) and all(_is_a(one, inner) for one in value)
    if origin is dict:
        _, inner = get_args(hint)
        return isinstance(value, dict) and all(_is_a(one, inner) for one in value.values())
    return type(value) is hint
