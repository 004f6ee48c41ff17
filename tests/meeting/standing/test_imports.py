"""What was imported is read again from the table that the record keeps."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from checker.meeting.record.content_form import read_content
from checker.meeting.record.rows import digest_of
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from tests.examples import quick_first
from tests.meeting.days import a_meeting
from tests.meeting.taking.test_importing import CARS, MAPPING, imported, row
from tests.meeting.tampering import forged, rows

Forging = Callable[[list[Any]], list[Any]]


def another(**changes: Any) -> Forging:
    """The second row otherwise than the table has it."""
    return lambda contents: [*contents[:2], replace(contents[2], **changes), *contents[3:]]


@pytest.mark.parametrize(
    ("forging", "told"),
    quick_first([
        (another(loads={"front_left": "165.0 kg", "front_right": "141.0 kg", "rear_left": "153.0 kg",
                        "rear_right": "141.0 kg"}), "entry 7 is not what line 3 of"),
        (another(car="9"), "entry 7 is not what line 3 of"),
        (another(fuel="7 L"), "entry 7 is not what line 3 of"),
        (another(driver="aboard"), "entry 7 is not what line 3 of"),
        (another(source="pads.csv, line 4"), "entry 7"),
        (another(taken=""), "entry 7 is not what line 3 of"),
        (lambda contents: [replace(contents[0], rows=1), contents[1]], "has 2 weighings, and 1 were recorded"),
        (lambda contents: [replace(contents[0], mapping=contents[0].sha256), *contents[1:]], "cannot have been imported"),
    ], 3),
)  # fmt: skip
def test_rows_that_are_not_the_table_s_are_not_sound(tmp_path: Path, forging: Forging, told: str) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        pass
    empty, path = tmp_path / "empty.meeting", tmp_path / "day.meeting"
    shutil.copy(path, empty)
    with Meeting.open(path) as meeting:
        imported(meeting, tmp_path, row("7"), row("8"))
    assert verify(path).sound
    contents = [read_content(entry) for entry in rows(path)[4:]]
    files = {digest_of(data): data for data in ((tmp_path / "pads.csv").read_bytes(), MAPPING.encode())}
    for content in forging(contents):
        named = {getattr(content, name, "") for name in ("sha256", "mapping")}
        forged(empty, "TB", content, *(data for digest, data in files.items() if digest in named))
    found = verify(empty)
    assert not found.sound
    assert told in " ".join(fault.message for fault in found.faults)


def test_what_was_imported_and_corrected_since_is_sound(tmp_path: Path) -> None:
    from checker.meeting.tables.scale_reading import ScaleReading
    from checker.meeting.taking.weighing import weigh
    from tests.meeting.days import LOADS

    with a_meeting(tmp_path, CARS) as meeting:
        imported(meeting, tmp_path, row("7"), row("8", fl="255,0"), as_it_is=True)
        weigh(meeting, ScaleReading("8", LOADS, corrects=7, reason="misread"), "TB")
    assert verify(tmp_path / "day.meeting").sound
