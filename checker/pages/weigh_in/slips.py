"""Each car's slip, worked out once until something newer bears on it, and how it looks on a page."""

from __future__ import annotations

from checker.meeting.record.car_day import CarDay
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import recheck
from checker.quantities.folding import fold
from checker.reading.quick_dataclasses import dataclass
from checker.report.amounts import Data
from checker.report.html.sheet import Sheet
from checker.report.meeting.board import COLOURS, SHOWN, unsound_text
from checker.report.meeting.handing_out import slip_of
from checker.report.meeting.slip import slip_body
from checker.report.page import GREEN, RED, YELLOW

LOOKS = {RED: "fails", GREEN: "met", YELLOW: "open"}


@dataclass(frozen=True, slots=True)
class KnownState:
    """What something was worked out from."""

    meeting: Meeting
    """As it was opened: it is opened anew where its file is no longer what it was."""
    entry: int
    faults: int


class KeptSlips:
    """The documents of slips; for one thread.

    Args:
        rechecked: Each verdict is worked out again, and one that comes out otherwise is a fault of the meeting.
    """

    def __init__(self, *, rechecked: bool) -> None:
        self._rechecked = rechecked
        self._kept: dict[str, tuple[KnownState, Data]] = {}

    def document(self, meeting: Meeting, car: CarDay) -> Data:
        """A car's slip as the record stands."""
        about = _newest_about(meeting, car.number)
        known, told = self._kept.get(car.number, (None, None))
        if told is None or known != KnownState(meeting, about, len(meeting.faults)):
            if self._rechecked:
                recheck(meeting, [car])
            told, _ = slip_of(meeting, car)
            self._kept[car.number] = KnownState(meeting, about, len(meeting.faults)), told
        return told


def _newest_about(meeting: Meeting, car: str) -> int:
    """The newest entry that may bear on a car's slip: each that is not of another car alone."""
    for record in reversed(meeting.day.records()):
        if fold(getattr(record.content, "car", "")) in ("", fold(car)):
            return record.number
    return 0


def slip_view(document: Data) -> dict[str, object]:
    """A slip with its car and its status apart."""
    sheet = Sheet()
    unsound_text(document, sheet)
    slip_body(document, sheet)
    standing, heading = document["standing"], document["meeting"]
    return {
        "number": standing["number"],
        "name": standing["name"],
        "day": f"{heading['title']}, {heading['on']}, {document['occasion']}",
        "rules": f"{heading['pack']} {heading['edition']}, sha256 {heading['pack_sha256'][:12]}",
        "word": SHOWN[standing["status"]].upper(),
        "look": LOOKS.get(COLOURS.get(standing["status"], ""), "open"),
        "told": sheet.blocks,
    }
