"""Which edition speaks on a day, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from checker.pack.finding import PackFolder
from checker.pack.header import read_in_force
from checker.pack.loading import build_pack, read_pack_document
from checker.pack.model import Pack
from checker.pack.source import PackSource
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem


def load_pack(folder: PackFolder, on: date) -> Pack:
    """The pack as in force on a day.

    Raises:
        InputError: No edition is in force on that day, or two are (620); or it cannot be read.
    """
    documents = [read_pack_document(file) for file in folder.editions]
    document, because = choose(documents, on)
    return replace(build_pack(document), because=because)


def choose(documents: Sequence[Document], on: date) -> tuple[Document, str]:
    """The edition that covers the day, and the reason in words.

    Raises:
        InputError: None does, or two do (PK620), with the days that each covers.
    """
    spans = [(document, *_days(document)) for document in documents]
    covering = [(d, first, last) for d, first, last in spans if first <= on and (last is None or on <= last)]
    if len(covering) == 1:
        document, first, last = covering[0]
        return document, f"{on.isoformat()} lies within {words(first, last)}"
    told = "; ".join(f"edition {_edition(d)} covers {words(first, last)}" for d, first, last in spans)
    many = "no edition is in force" if not covering else "two editions are in force"
    message = f"{many} on {on.isoformat()}: {told}"
    hint = "ask for another day with --on" if not covering else "end the earlier edition with `until`"
    raise InputError([Problem("PK620", message, spans[0][0].span(("in_force",)), hint=hint)])


def _days(document: Document) -> tuple[date, date | None]:
    source = PackSource(document)
    days = read_in_force(source)
    source.problems.raise_if_any()
    return days


def _edition(document: Document) -> str:
    return str(document.get(("edition",), "?"))


def words(first: date, last: date | None) -> str:
    """A stretch of days: "2026-03-01 to further notice"."""
    return f"{first.isoformat()} to {last.isoformat() if last else 'further notice'}"
