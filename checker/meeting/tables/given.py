"""A file as it was given: read from a disk, or sent by a browser, whose names nothing is opened by."""

from __future__ import annotations

import os

from checker.meeting.tables.table import WORKBOOK
from checker.reading.file_bytes import read_bytes
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class GivenFile:
    """A table or a mapping."""

    name: str
    """As it is told, and kept in the record."""
    data: bytes

    @classmethod
    def read(cls, file: str | os.PathLike[str]) -> GivenFile:
        """What is on disk under that name.

        Raises:
            InputError: MT110, it cannot be read.
        """
        return cls(os.fspath(file), read_bytes(file, "MT"))

    def as_text(self) -> GivenFile:
        """The table as text: of a workbook its first sheet, named as what it is.

        Raises:
            InputError: MT301, MT302: as `checker.meeting.tables.workbook.as_text`.
        """
        if not self.data.startswith(WORKBOOK):
            return self
        from checker.meeting.tables.workbook import as_text

        return GivenFile(f"{self.name}.csv", as_text(self.data, self.name))
