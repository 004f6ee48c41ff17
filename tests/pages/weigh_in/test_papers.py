"""What is printed or kept of the day by pages is what the commands print and write."""

from __future__ import annotations

import io
import json
import re
import zipfile
from pathlib import Path

import pytest

from checker.cli.main import main
from checker.meeting.session.session import Meeting
from tests.meeting.days import LOADS, weighed
from tests.pages.weigh_in.devices import WeighIn


def by_command(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    capsys.readouterr()
    main(["meeting", *arguments])
    return capsys.readouterr().out


def judged(weigh_in: WeighIn) -> None:
    with Meeting.open(weigh_in.day) as meeting:
        weighed(meeting)
        weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "KV")


def test_results_are_those_of_the_command(weigh_in: WeighIn, capsys: pytest.CaptureFixture[str]) -> None:
    judged(weigh_in)
    device = weigh_in.device("KV")
    text = device.get("/record/results?as=text")
    assert text.text == by_command(capsys, "results", weigh_in.day, "--width", "80")
    assert text.headers["content-disposition"] == 'attachment; filename="results.txt"'
    document = json.loads(by_command(capsys, "results", weigh_in.day, "--format", "json"))
    assert device.get("/record/results?as=json").json() == document
    assert device.get("/record/results?as=page").text == by_command(
        capsys, "results", weigh_in.day, "--format", "html"
    )
    assert document["last_hash"][:4] in device.get("/record/results").text
    assert "write it like 14:30" in device.get("/record/results?at=noon").text
    assert device.get("/record/results?at=00:00").status_code == 422, "nothing was recorded by then"


def test_results_wait_for_verdicts_that_are_due(weigh_in: WeighIn) -> None:
    with Meeting.open(weigh_in.day) as meeting:
        weighed(meeting)
        weighed(meeting)
    told = weigh_in.device("KV").get("/record/results")
    assert (told.status_code, "no verdict stands yet on car 7" in told.text) == (422, True)


def test_a_record_is_verified_with_a_hash_from_paper(weigh_in: WeighIn) -> None:
    judged(weigh_in)
    device = weigh_in.device("KV")
    with Meeting.open(weigh_in.day, writing=False) as meeting:
        last = meeting.day.hash
    told = device.get(f"/record/verification?hash={last[:16]}").text
    assert ": sound." in told
    assert "is that of entry" in told
    assert "verdict" in told
    assert "fault" in device.get(f"/record/verification?quick=yes&hash={'0' * 16}").text
    assert device.get("/record/verification?hash=zz").status_code == 422


def test_a_bundle_and_the_tables_are_what_the_commands_write(
    weigh_in: WeighIn, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    judged(weigh_in)
    device = weigh_in.device("KV")
    bundle = device.get("/record/bundle?car=7")
    target = tmp_path / "car-7.zip"
    by_command(capsys, "bundle", weigh_in.day, "7", "--output", str(target))
    assert bundle.content == target.read_bytes()
    assert "car-7/README.txt" in zipfile.ZipFile(io.BytesIO(bundle.content)).namelist()
    assert device.get("/record/bundle?car=70").status_code == 422
    out = tmp_path / "out"
    for ending, option in (("csv", ["--csv", "weighings"]), ("json", []), ("xlsx", ["--xlsx"])):
        by_command(capsys, "export", weigh_in.day, *option, "--output", f"{out}.{ending}")
    assert device.get("/record/export?table=weighings").content == out.with_suffix(".csv").read_bytes()
    assert device.get("/record/export?table=json").content == out.with_suffix(".json").read_bytes()
    assert device.get("/record/export?table=xlsx").content == out.with_suffix(".xlsx").read_bytes()
    assert device.get("/record/export?table=weighings&for=excel").content.startswith("\ufeff".encode())
    for asked in ("", "?table=../../etc/passwd", "?table=weighings&for=x"):
        assert device.get(f"/record/export{asked}").status_code == 400


def test_weigh_sheets_are_kept_to_be_printed(weigh_in: WeighIn, capsys: pytest.CaptureFixture[str]) -> None:
    device = weigh_in.device("KV")
    assert device.get("/record/sheets").text == by_command(capsys, "sheet", weigh_in.day, "--format", "html")
    assert len(re.findall("Weigh sheet", device.get("/record/sheets?car=8").text)) == 1


def test_a_copy_is_carried_on_elsewhere_and_taken_in_again(weigh_in: WeighIn, tmp_path: Path) -> None:
    device = weigh_in.device("KV")
    copy = tmp_path / "gauges.meeting"
    copy.write_bytes(device.get("/record/copy").content)
    with Meeting.open(copy) as there:
        weighed(there, "8")
    device.post("/scales", device.weighing("7"))
    told = device.hand_in("/record/merge", "/record/merge", [("record", "gauges.meeting", copy.read_bytes())])
    assert told.status_code == 200
    assert "1 entries of gauges.meeting taken in" in told.text
    (merged,) = weigh_in.entries("merged")
    assert merged.content.file == "gauges.meeting"  # type: ignore[union-attr]
    again = device.hand_in(
        "/record/merge", "/record/merge", [("record", "gauges.meeting", copy.read_bytes())]
    )
    assert "this record has all that the other has" in again.text


def test_where_both_went_on_it_is_shown_and_ruled_on_without_choosing_the_file_again(
    weigh_in: WeighIn, tmp_path: Path
) -> None:
    device = weigh_in.device("KV")
    copy = tmp_path / "gauges.meeting"
    copy.write_bytes(Path(weigh_in.day).read_bytes())
    with Meeting.open(copy) as there:
        weighed(there, "7", {**LOADS, "front_left": "156.0"})
    device.post("/scales", device.weighing("7"))
    sent = [("record", "C:\\day\\gauges.meeting", copy.read_bytes())]
    shown = device.hand_in("/record/merge", "/record/merge", sent)
    assert "car 7: here entry" in shown.text
    assert weigh_in.entries("merged") == []
    fields = dict(
        re.findall(r'type="hidden" name="([\w-]+)" value="([^"]*)"', shown.text.partition("/record/merge")[2])
    )
    ruling = {**fields, "side-0": "here", "reason-0": "the pads were level"}
    assert device.post("/record/merge", {**ruling, "reason-0": ""}).status_code == 422
    assert device.post("/record/merge", ruling).status_code == 200
    (merged,) = weigh_in.entries("merged")
    assert merged.content.rulings == {"car 7": "here: the pads were level"}  # type: ignore[union-attr]


@pytest.mark.parametrize("data", [b"", b"x" * 4096, b"SQLite format 3\0" + b"\0" * 4096])
def test_what_is_no_record_is_told_by_its_own_name(weigh_in: WeighIn, data: bytes) -> None:
    device = weigh_in.device("KV")
    told = device.hand_in("/record/merge", "/record/merge", [("record", "../x.meeting", data)])
    assert told.status_code == 422
    assert "x.meeting" in told.text
    assert "checker-" not in told.text, "no name of a file on this machine"
    assert device.post("/record/merge", device.hidden("/record/merge")).status_code == 400
