"""A record that a device sends, as a file for a moment."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from tempfile import TemporaryDirectory

from checker.meeting.tables.given import GivenFile
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import replace

LARGEST_RECORD_BYTES = 32 * 1024**2
"""Of a record that is handed in: a day of thirty cars takes less than one MiB."""


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
