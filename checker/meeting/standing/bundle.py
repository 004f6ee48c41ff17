"""Everything that a protest about one car needs, gathered from the record.

`checker.report.meeting.bundle` writes it as files that can be read without this program.
"""

from __future__ import annotations

from collections.abc import Mapping

from checker.meeting.record.car_contents import (
    Entered,
    Judged,
    Measured,
    Noted,
    Protested,
    Ruled,
    Weighed,
    Withdrawn,
)
from checker.meeting.record.car_day import Record
from checker.meeting.record.chain import RecordEntry
from checker.meeting.record.contents import (
    Announced,
    Closed,
    Content,
    GearChecked,
    Imported,
    Merged,
    Opened,
    Reopened,
    SignedOn,
    Struck,
)
from checker.meeting.session.judging import Judgement
from checker.meeting.session.readings import as_file
from checker.meeting.session.session import Meeting
from checker.meeting.standing.differences import NotAsDeclared, differences
from checker.meeting.standing.not_counting import not_counting
from checker.meeting.standing.standing import Standing, standing_of
from checker.quantities.folding import fold
from checker.reading.quick_dataclasses import KW_ONLY, dataclass

_OF_A_CAR = (Entered, Withdrawn, Weighed, Measured, Noted, Judged, Protested, Ruled)
_OF_THE_DAY = (Opened, SignedOn, GearChecked, Closed, Reopened, Merged)


@dataclass(frozen=True, slots=True)
class Bundle:
    """What a protest needs."""

    opened: Record[Opened]
    standing: Standing
    declaration_name: str
    declaration: bytes
    _: KW_ONLY
    pack_files: Mapping[str, bytes]
    procedure: bytes
    """The procedure's file; empty where there was none."""
    gear: bytes
    """The meeting's gear file; empty where the gear is that of the pack."""
    readings: bytes
    """What officials measured, as a readings file."""
    judgement: Judgement
    differences: tuple[NotAsDeclared, ...]
    gear_checks: tuple[Record[GearChecked], ...]
    entries: tuple[RecordEntry, ...]
    """Every entry about this car, those that no longer count included, and those about the whole day."""
    records: tuple[Record[Content], ...]
    """What these entries say; one that was brought from a merged record, what it says there."""
    gone: Mapping[int, int]
    """Entries that no longer count, each with the one that corrected or struck it."""
    tables: Mapping[tuple[int, str], bytes]
    """Tables that weighings of this car may have been imported from, by the entry of the import and the file's name."""
    not_counting: tuple[str, ...]
    """Why each reading that no longer counts does not, a sentence each."""
    chain: tuple[tuple[int, str], ...]
    """Number and hash of every entry of the record."""


def gather(meeting: Meeting, number: str) -> Bundle:
    """The bundle of one car.

    Raises:
        InputError: MT203 it is not entered; its declaration or a reading cannot be used.
    """
    car = meeting.car(number)
    occasion = car.latest_occasion()
    judgement = meeting.judgement(car, afresh=True)
    entries = meeting.store.entries()
    opened = meeting.day.opened.content
    chosen = tuple(entry for entry in entries if _concerns(meeting, entry, car.number))
    imported = {(r.number, r.content.file): r.content.sha256 for r in meeting.day.imports}
    sources = {r.content.source.partition(", line ")[0] for r in car.of(Weighed)}
    return Bundle(
        opened=meeting.day.opened,
        standing=standing_of(meeting, car),
        declaration_name=car.entered.content.file,
        declaration=meeting.store.file(car.entered.content.declaration),
        pack_files={name: meeting.store.file(digest) for name, digest in opened.pack_files.items()},
        procedure=meeting.store.file(opened.procedure) if opened.procedure else b"",
        gear=meeting.store.file(opened.gear) if opened.gear else b"",
        readings=as_file(meeting.judge.readings(meeting.day, car, occasion)),
        judgement=judgement,
        differences=tuple(differences(meeting, car, judgement.inspection.car)),
        gear_checks=tuple(meeting.day.gear_checks),
        entries=chosen,
        records=tuple(record for e in chosen if (record := meeting.day.record(e.number)) is not None),
        gone={e.number: by for e in chosen if (by := meeting.day.gone_by(e.number)) is not None},
        tables={key: meeting.store.file(sha) for key, sha in imported.items() if key[1] in sources},
        not_counting=tuple(not_counting(meeting, car)),
        chain=tuple((entry.number, entry.hash) for entry in entries),
    )


def _concerns(meeting: Meeting, entry: RecordEntry, number: str) -> bool:
    record = meeting.day.record(entry.number)
    content = record.content if record is not None else None
    if isinstance(content, Struck):
        target = meeting.day.record(content.entry)
        return target is not None and fold(getattr(target.content, "car", number)) == fold(number)
    if isinstance(content, Announced):
        return not content.car or fold(content.car) == fold(number)
    if isinstance(content, Imported):
        return True
    if isinstance(content, _OF_A_CAR):
        return fold(content.car) == fold(number)
    return isinstance(content, _OF_THE_DAY)
