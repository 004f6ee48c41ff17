"""What a day is judged by: the frozen pack, the procedure, the gear and the declarations, read from the record once."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cached_property

from checker.meeting.record.car_day import CarDay
from checker.meeting.record.contents import Opened
from checker.meeting.record.frozen import check_digest, thaw
from checker.meeting.record.store import Store
from checker.meeting.session.gear import Gear, gear_of, scales_of
from checker.meeting.session.judging import Judge
from checker.meeting.session.procedure import Procedure, read_procedure
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.strict_yaml import parse_document


class Basis:
    """What a day is judged by."""

    def __init__(self, store: Store, opened: Opened) -> None:
        self.store = store
        self._opened = opened
        self._declarations: dict[str, Document] = {}
        self._coming: Mapping[str, bytes] = {}
        """Files, by their SHA-256, that come with what is being recorded."""

    def file(self, digest: str) -> bytes:
        """The bytes of a file that an entry names.

        Raises:
            InputError: MT403, the record does not hold it.
        """
        return self._coming[digest] if digest in self._coming else self.store.file(digest)

    @property
    def on(self) -> date:
        """The day of the meeting."""
        return date.fromisoformat(self._opened.on)

    @cached_property
    def pack(self) -> Pack:
        """The frozen pack; read once.

        Raises:
            InputError: MT215, it is not the one the meeting was opened with, or cannot be read.
        """
        files = {name: self.file(digest) for name, digest in self._opened.pack_files.items()}
        pack = thaw(files, self.on)
        check_digest(pack, self._opened.pack_sha256)
        return pack

    @cached_property
    def procedure(self) -> Procedure:
        if not (digest := self._opened.procedure):
            return Procedure()
        return read_procedure(parse_document(self.file(digest), "procedure.yaml", "MT"), self.pack)

    @cached_property
    def judge(self) -> Judge:
        return Judge(self.pack, self.on, self.procedure, self.gear_file)

    @cached_property
    def gear_file(self) -> Document | None:
        """The meeting's own description of its gear, if it brought one."""
        digest = self._opened.gear
        return parse_document(self.file(digest), "gear.yaml", "GR") if digest else None

    @cached_property
    def gear(self) -> dict[str, Gear]:
        """All gear by name."""
        return gear_of(self.pack, self.gear_file)

    @property
    def scales(self) -> Gear | None:
        """What cars are weighed on where nobody says."""
        return scales_of(self.gear, self.gear_file)

    def declaration(self, car: CarDay) -> Document:
        """The car's file as it was entered."""
        digest = car.entered.content.declaration
        if digest not in self._declarations:
            data = self.file(digest)
            self._declarations[digest] = parse_document(data, car.entered.content.file, "CD")
        return self._declarations[digest]
