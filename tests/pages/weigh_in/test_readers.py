"""What readers see is what the file says now: a record that was changed underneath is noticed at the next look."""

from __future__ import annotations

import asyncio
import re
from pathlib import Path

import pytest

from checker.meeting.session.session import Meeting
from checker.reading.quick_dataclasses import replace
from tests.meeting.days import weighed
from tests.meeting.tampering import Statement, forged, tampered
from tests.pages.weigh_in.devices import WeighIn

CHANGES: dict[str, Statement] = {
    "a load": ("UPDATE entry SET content = replace(content, '155.0', '165.0') WHERE kind = 'weighed'", ()),
    "who": ("UPDATE entry SET by = 'XX' WHERE kind = 'weighed'", ()),
    "an entry taken out": ("DELETE FROM entry WHERE kind = 'weighed'", ()),
    "the tail cut off": ("DELETE FROM entry WHERE number = (SELECT max(number) FROM entry)", ()),
    "a file": ("UPDATE file SET bytes = CAST(bytes || 'x' AS BLOB) WHERE entry > 1", ()),
}


def slip_of(weigh_in: WeighIn) -> str:
    addresses: list[str] = re.findall(
        r'href="http://[^/]+(/slip/\w+)"', weigh_in.device("KV").get("/cards").text
    )
    return addresses[0]


@pytest.mark.deep
@pytest.mark.parametrize("change", CHANGES)
def test_a_record_that_was_changed_underneath_is_noticed_at_the_next_reading(
    weigh_in: WeighIn, change: str
) -> None:
    with Meeting.open(weigh_in.day) as meeting:
        weighed(meeting)
    reader, slip, day = weigh_in.device(), slip_of(weigh_in), Path(weigh_in.day)
    for path in ("/", slip):
        assert "NOT SOUND" not in reader.get(path).text
    before = asyncio.run(weigh_in.office.latest())
    whole = day.read_bytes()
    tampered(day, CHANGES[change])
    for path in (slip, "/"):
        told = reader.get(path)
        assert "NOT SOUND" in told.text or (told.status_code, change) == (503, "a file"), path
    weigh_in.office._looked = 0
    assert asyncio.run(weigh_in.office.latest()) != before, "pages that are open are told"
    day.write_bytes(whole)
    for path in ("/", slip):
        assert "NOT SOUND" not in reader.get(path).text, "what is put right is right"


def test_a_verdict_that_comes_out_otherwise_is_told_on_the_slip(weigh_in: WeighIn) -> None:
    with Meeting.open(weigh_in.day) as meeting:
        weighed(meeting)
        weighed(meeting)
        judged = meeting.judgement(meeting.car("7")).as_content("1")
    forged(Path(weigh_in.day), "KV", replace(judged, margins={**judged.margins, "1": "99 kg"}))
    told = weigh_in.device().get(slip_of(weigh_in)).text
    assert "NOT SOUND" in told
    assert "was recorded with a margin of 99 kg" in told


def test_a_file_that_is_no_record_any_more_is_told_without_its_name(
    weigh_in: WeighIn, tmp_path: Path
) -> None:
    reader, slip, day = weigh_in.device(), slip_of(weigh_in), Path(weigh_in.day)
    whole = day.read_bytes()
    for data in (b"", b"x" * 5000):
        day.write_bytes(data)
        for path in ("/", slip):
            told = reader.get(path)
            assert (told.status_code, "cannot be read now" in told.text) == (503, True)
            assert str(tmp_path) not in told.text
    day.write_bytes(whole)
    assert reader.get("/").status_code == 200
