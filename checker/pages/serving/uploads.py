"""Files that a browser sends: bounded, under names that are told and kept, and by which nothing is ever opened."""

from __future__ import annotations

from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException

from checker.meeting.tables.given import GivenFile
from checker.reading.plain_text import printable

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
