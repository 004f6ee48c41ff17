"""Files that a device sends: bounded, under names that are told and kept, and by which nothing is ever opened."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from tempfile import TemporaryDirectory

from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException

from checker.meeting.tables.given import GivenFile
from checker.reading.plain_text import printable
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import replace

LARGEST_RECORD_BYTES = 32 * 1024**2
"""Of a record that is handed in: a day of thirty cars takes less than one MiB."""
_LONGEST_NAME = 100


def handed(form: FormData, field: str) -> list[GivenFile]:
    """Every file that was chosen in a field."""
    return [
        GivenFile(_called(one.filename or "") or field, one.file.read())
        for one in form.getlist(field)
        if isinstance(one, UploadFile) and (one.filename or one.size)
    ]


def handed_one(form: FormData, field: str) -> GivenFile | None:
    """The file that was chosen in a field; None where there is none."""
    return next(iter(handed(form, field)), None)


def needed(form: FormData, field: str, what: str) -> GivenFile:
    """The file that has to be chosen.

    Raises:
        HTTPException: 400, there is none.
    """
    given = handed_one(form, field)
    if given is None:
        raise HTTPException(400, f"Choose {what} first. Nothing was entered.")
    return given


def _called(name: str) -> str:
    return printable(name.replace("\\", "/").rpartition("/")[2])[:_LONGEST_NAME].strip()


@contextmanager
def as_record(given: GivenFile) -> Iterator[str]:
    """Where a record that was sent lies for a moment: in a folder of the user's alone, under a name of our own.

    Raises:
        InputError: What is raised meanwhile, with the record called as it was sent.
    """
    with TemporaryDirectory(prefix="checker-") as folder:
        path = os.path.join(folder, "sent.meeting")
        with open(path, "xb") as opened:
            opened.write(given.data)
        try:
            yield path
        except InputError as error:
            error.problems = tuple(
                replace(
                    one,
                    message=one.message.replace(path, given.name),
                    hint=one.hint.replace(path, given.name),
                )
                for one in error.problems
            )
            raise
