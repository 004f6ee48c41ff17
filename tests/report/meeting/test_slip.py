"""A slip on paper: margins, what is not verified, a code, two signatures; on a receipt no line is too long."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from checker.meeting.record.chain import printed
from checker.report.html.sheet import Sheet
from checker.report.meeting.slip import slip_text
from checker.report.page import Page
from tests.cli.running import run
from tests.cli.test_documents import weighed
from tests.examples import quick_first
from tests.report.html.reading import Reading
from tests.report.html.test_one_car import HOSTILE

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]


@pytest.mark.parametrize(("paper", "letters"), [("58", 32), ("80", 48)])
def test_a_receipt_has_short_lines_in_ascii(capsys: Capsys, tmp_path: Path, paper: str, letters: int) -> None:
    ran = run(capsys, "meeting", "slip", weighed(capsys, tmp_path), "7", "--receipt", paper)
    assert ran.out.isascii()
    assert max(map(len, ran.out.splitlines())) <= letters
    for told in ("CAR 7", "590 kg", "pads", "official ____", "entrant ____", "Not verified: "):
        assert told in ran.out
    assert "\f" not in ran.out


@pytest.mark.parametrize("more", [("--format", "html"), ("--width", "50")])
def test_a_receipt_is_of_one_form(capsys: Capsys, tmp_path: Path, more: tuple[str, ...]) -> None:
    ran = run(capsys, "meeting", "slip", weighed(capsys, tmp_path), "--receipt", "58", *more)
    assert (ran.code, ran.out) == (2, "")
    assert "--receipt is plain text of its own width" in ran.err


def test_what_the_scales_bear_on_stands_with_reading_limit_and_margin(capsys: Capsys, tmp_path: Path) -> None:
    ran = run(capsys, "meeting", "slip", weighed(capsys, tmp_path), "7")
    margins = ran.out.partition("MARGINS")[2].partition("\n\n")[0]
    assert "min" in margins
    assert "kg" in margins


def test_its_code_leads_to_the_record(capsys: Capsys, tmp_path: Path) -> None:
    pytest.importorskip("segno", reason="segno is not installed")
    file = weighed(capsys, tmp_path)
    last = json.loads(run(capsys, "meeting", "export", file).out)["entries"][-1]["hash"]
    read = Reading(run(capsys, "meeting", "slip", file, "7", "--format", "html").out)
    assert printed(last, 64) in read.text
    assert "car 7, entry " in read.text


def test_without_what_makes_codes_the_page_says_so(
    capsys: Capsys, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "segno", None)
    read = Reading(run(capsys, "meeting", "slip", weighed(capsys, tmp_path), "7", "--format", "html").out)
    assert "pip install 'scrutineering-checker[pages]'" in read.text
    assert "svg" not in read.elements


@pytest.mark.parametrize("name", quick_first(HOSTILE, 2), ids=range(len(HOSTILE)))
def test_a_name_that_hurts_is_text_on_a_receipt(capsys: Capsys, tmp_path: Path, name: str) -> None:
    ran = run(capsys, "meeting", "slip", weighed(capsys, tmp_path), "7", "--format", "json")
    document = json.loads(ran.out)
    for told in (document["standing"], document["inspection"]["car"]):
        told["name"] = name
    document["meeting"]["title"] = document["standing"]["next_step"] = name
    page = Page(32)
    slip_text(document, page)
    assert all(letter == "\n" or letter.isprintable() for letter in page.text())
    assert max(map(len, page.text().splitlines())) <= 32
    sheet = Sheet()
    slip_text(document, sheet)
    assert not {"script", "b"} & set(Reading(sheet.text()).elements)
