"""Editions that name one file of cases: each is to have its own, for a case is of one day."""

from __future__ import annotations

import os
from contextlib import suppress

from checker.pack.editions.edition import Edition
from checker.pack.editions.loading import read_pack_document
from checker.reading.document import Document
from checker.reading.problems import InputError


def named_cases(edition: Document) -> str:
    """The file that an edition names for its cases, by its real path; "" where it names none."""
    given = edition.get(("cases",))
    if not isinstance(given, str):
        return ""
    return os.path.realpath(os.path.join(os.path.dirname(edition.name), given))


def shared_with(edition: Edition) -> str:
    """Another edition beside this one that names the same file of cases, by its file's name; "" for none."""
    named = named_cases(edition.document)
    for file in edition.folder.siblings if named else ():
        with suppress(InputError):  # told when that edition is read
            if named_cases(read_pack_document(file)) == named:
                return os.path.basename(file)
    return ""
