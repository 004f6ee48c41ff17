"""Imported weighings against the tables they came from, which the record keeps."""

from __future__ import annotations

from collections.abc import Iterator

from checker.meeting.record.car_contents import Weighed
from checker.meeting.record.car_day import Record
from checker.meeting.record.chain import RecordFault
from checker.meeting.record.contents import Imported
from checker.meeting.session.gear import named_gear, read_mass
from checker.meeting.session.session import Meeting
from checker.meeting.session.weighing_rules import litres
from checker.meeting.tables.lines import read_lines
from checker.meeting.tables.scale_reading import ScaleReading
from checker.quantities.folding import fold
from checker.reading.problems import InputError


def import_faults(meeting: Meeting) -> Iterator[RecordFault]:
    """Every imported weighing that is not what its table says, read again as the import read it."""
    for record in meeting.day.imports if meeting.day.opened.content.rules else ():
        try:
            yield from _of_one_table(meeting, record)
        except InputError as error:
            said = error.problems[0].message
            message = f"entry {record.number}: '{record.content.file}' cannot have been imported: {said}"
            yield RecordFault(record.number, "MT406", message)


def _of_one_table(meeting: Meeting, record: Record[Imported]) -> Iterator[RecordFault]:
    head = record.content
    table, mapping = meeting.file(head.sha256), meeting.file(head.mapping)
    lines = read_lines(table, head.file, mapping, "mapping", meeting.on)
    if len(lines) != head.rows:
        message = (
            f"entry {record.number}: '{head.file}' has {len(lines)} weighings, and {head.rows} were recorded"
        )
        yield RecordFault(record.number, "MT406", message)
        return
    for number, line in enumerate(lines, start=record.number + 1):
        row = meeting.day.record(number)
        weighed = row.content if row is not None else None
        if not isinstance(weighed, Weighed) or not _agrees(meeting, line.reading, weighed):
            message = f"entry {number} is not what line {line.span.line} of '{head.file}' says"
            yield RecordFault(number, "MT406", message)


def _agrees(meeting: Meeting, said: ScaleReading, weighed: Weighed) -> bool:
    """Whether all that the row says was recorded; what it leaves open was filled in when it was imported.

    A time without a zone is read by the zone of the computer, so it is not compared.
    """
    gear = named_gear(meeting.gear, weighed.gear) if weighed.gear else None
    loads = {name: read_mass(load, gear) for name, load in said.loads.items()}
    words = ("car", "gear", "pads", "driver", "tyres", "wear", "again")
    return (
        loads == weighed.loads
        and (said.occasion, said.source, bool(said.taken))
        == (weighed.occasion, weighed.source, bool(weighed.taken))
        and (not said.fuel or litres(said.fuel) == weighed.fuel)
        and all(fold(text) == fold(getattr(weighed, name)) for name in words if (text := getattr(said, name)))
    )
