"""A pack as in force, printed as one file that reads back to the same rules.

Where a bulletin has changed something, a comment says which, since when, and what stood there. Whatever has no such
comment is the edition's own.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from datetime import date
from typing import Any

from checker.pack.editions.bulletins import named
from checker.pack.model import Origin, Pack
from checker.reading.document import Document
from checker.reading.plain_text import printable
from checker.reading.printer import to_yaml
from checker.reading.problems import Path
from checker.reading.strict_yaml import read_document
from checker.reading.values import Plain

_LONGEST = 400
"""Characters of what stood there before that a comment shows."""


def as_yaml(pack: Pack, on: date) -> str:
    """The pack as one YAML file, with the origin of what bulletins changed as comments.

    Words that the pack keeps in files of their own stand in it; its cases do not, for they belong to the edition.

    Args:
        pack: As in force on a day.
        on: That day.

    Raises:
        InputError: A file with words cannot be read any more.
    """
    data = pack.document.data
    assert isinstance(data, dict)
    plain = {key: _with_words(value, pack) if key == "materials" else value for key, value in data.items()}
    plain.pop("cases", None)
    text = to_yaml(plain, _comments(pack), frozenset(_quoted(pack.document)))
    return "\n".join([*(printable(line) for line in _heading(pack, on)), text])


def _heading(pack: Pack, on: date) -> Iterator[str]:
    title = " ".join((pack.title or pack.name).split())
    yield f"# {title}, edition {pack.edition}, as in force on {on.isoformat()}."
    reasons = {origin.bulletin: origin for origin in pack.origins}
    for name in pack.bulletins:
        origin = reasons.get(name)
        days = "" if origin is None else f", {_days(origin)}"
        why = "" if origin is None or not origin.reason else f": {' '.join(origin.reason.split())}"
        yield f"# With bulletin {name}{days}{why}"
    yield f"# Made from files with the SHA-256 {pack.sha256}."


def _days(origin: Origin) -> str:
    until = f" until {origin.last_day.isoformat()}" if origin.last_day else ""
    return f"in force from {origin.first_day.isoformat()}{until}"


def _comments(pack: Pack) -> dict[Path, str]:
    """For each place that a bulletin changed what it did there; what is gone is told at the nearest place left."""
    found: dict[Path, list[str]] = {}
    for origin in pack.origins:
        place = origin.path
        while len(place) > 1 and not pack.document.has(place):
            place = place[:-1]
        found.setdefault(place, []).append(_comment(origin, place))
    return {place: "\n".join(lines) for place, lines in found.items()}


def _comment(origin: Origin, place: Path) -> str:
    what = "" if place == origin.path else f"{named(origin.path)} "
    days = f"bulletin {origin.bulletin}, {_days(origin)}"
    if origin.verb == "added" or (origin.verb == "changed" and origin.was is None):
        return f"{what}added by {days}"
    verb = "withdrawn" if origin.verb == "withdrawn" or what else "changed"
    was = "" if origin.was is None else f"; before: {_on_one_line(origin.was)}"
    return f"{what}{verb} by {days}{was}"


def _on_one_line(value: Any) -> str:
    if isinstance(value, list) and all(isinstance(one, str) for one in value):
        value = ", ".join(value)
    text = value if isinstance(value, str) else to_yaml(value)
    text = " ".join(text.split())
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}..."


def _with_words(materials: Plain, pack: Pack) -> Plain:
    """The materials with the words of other files in their places."""
    if not isinstance(materials, dict):
        return materials
    found: dict[str, Plain] = {}
    for family, words in materials.items():
        named = words.get("words_from") if isinstance(words, dict) else None
        if isinstance(named, str):
            beside = os.path.join(os.path.dirname(pack.document.name), named)
            words = read_document(beside, "PK").data
        found[family] = words
    return found


def _quoted(document: Document) -> Iterator[Path]:
    """Cells of tables that stand in quotes: there `"3 door"` is a word and `3 door` a quantity."""
    for name, table in document.mapping(("tables",)).items():
        rows = table.get("rows") if isinstance(table, dict) else None
        for place, row in enumerate(rows if isinstance(rows, list) else ()):
            for key, cell in row.items() if isinstance(row, dict) else ():
                path: Path = ("tables", name, "rows", place, key)
                if isinstance(cell, str) and not document.is_plain(path):
                    yield path
