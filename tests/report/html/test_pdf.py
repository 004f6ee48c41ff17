"""A page as PDF: tagged, the same bytes each time, with nothing fetched; where it cannot be made, what to install."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from checker.report.html.book import markdown_page
from checker.report.html.one_car import inspection_page
from checker.report.html.pdf import NoPdfError, as_pdf
from checker.report.html.sheet import Sheet, sheets_page
from tests.cli.running import run
from tests.report.documents import document_of, sample
from tests.report.html.test_one_car import HOSTILE

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]


def words_of(pdf: bytes, folder: Path) -> str:
    """What stands in it, read by another program."""
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext (poppler) is not installed")
    file = folder / "read.pdf"
    file.write_bytes(pdf)
    done = subprocess.run(["pdftotext", "-layout", file, "-"], capture_output=True, text=True, check=True)
    return done.stdout


@pytest.fixture
def weasyprint() -> None:
    try:
        import weasyprint  # noqa: F401
    except (ImportError, OSError):
        pytest.skip("weasyprint, or Pango, is not installed")


@pytest.mark.deep
@pytest.mark.usefixtures("weasyprint")
def test_it_is_tagged_says_what_the_page_says_and_is_the_same_each_time(tmp_path: Path) -> None:
    page = inspection_page([document_of(sample("light-at-the-flag"))])
    made = as_pdf(page)
    assert made == as_pdf(page)
    told = words_of(made, tmp_path)
    info = subprocess.run(
        ["pdfinfo", tmp_path / "read.pdf"], capture_output=True, text=True, check=True
    ).stdout
    assert re.search(r"Tagged: +yes", info)
    for words in ("Turnstone", "FAILS", "-3.43 kg", "Minimum weight", "add 4.5 kg", "Distance to each limit"):
        assert words in told


@pytest.mark.deep
@pytest.mark.usefixtures("weasyprint")
def test_names_that_hurt_are_text_and_nothing_is_fetched(tmp_path: Path) -> None:
    sheet = Sheet()
    for words in (*(one[:2000] for one in HOSTILE), '<img src="file:///etc/hostname">'):
        sheet.heading(words, capitals=False)
        sheet.put(words)
        sheet.labelled(words, words, 4)
        sheet.table([("a", "b"), (words, words)])
    told = words_of(as_pdf(sheets_page([sheet])), tmp_path)
    for words in ("<script>alert(1)</script>", "]]> -->", "{{ 7 * 7 }}", '<img src="file:///etc/hostname">'):
        assert words in told
    assert told.count("x") >= 2_000
    assert not re.search("[\u202a-\u202e]", told)


@pytest.mark.deep
@pytest.mark.usefixtures("weasyprint")
@pytest.mark.parametrize("letter", ["x", "<", "\u05d0"])
def test_a_long_word_breaks_and_its_title_stays_as_it_is(tmp_path: Path, letter: str) -> None:
    sheet = Sheet()
    sheet.heading(letter * 3000)
    told = words_of(as_pdf(sheet.text()), tmp_path)
    assert told.lower().count(letter) == 3000
    assert max(map(len, told.splitlines())) < 150, "no line runs off the sheet"
    about = subprocess.run(["pdfinfo", tmp_path / "read.pdf"], capture_output=True, text=True, check=True)
    assert "wbr" not in about.stdout


@pytest.mark.usefixtures("weasyprint")
def test_a_printed_rulebook_has_its_contents_with_pages(tmp_path: Path) -> None:
    long = "\n\n".join(["Words of a clause."] * 120)
    book = f"# Rules\n\n## Contents\n\n- [First](#first)\n- [Second](#second)\n\n## First\n\n{long}\n\n## Second\n\nEnd."
    pages = words_of(as_pdf(markdown_page(book)), tmp_path).split("\f")
    at = next(number for number, page in enumerate(pages, 1) if "End." in page)
    assert at > 2, "the first clause takes a page or more"
    assert re.search(r"First +2\b", pages[0])
    assert re.search(rf"Second +{at}\b", pages[0])
    assert re.search(rf"1 ?/ ?{len(pages) - 1}\b", pages[0])


@pytest.mark.parametrize(
    ("lacking", "cure"), [(ImportError, "scrutineering-checker[pdf]"), (OSError, "libpango")]
)
def test_what_is_lacking_is_told_with_its_cure(
    monkeypatch: pytest.MonkeyPatch, capsys: Capsys, tmp_path: Path, lacking: type[Exception], cure: str
) -> None:
    class Lacking:
        def __getattr__(self, name: str) -> object:
            raise lacking(name)

    monkeypatch.setitem(sys.modules, "weasyprint", Lacking())
    with pytest.raises(NoPdfError):
        as_pdf("<p>")
    file = tmp_path / "car.pdf"
    ran = run(capsys, "inspect", "samples/cars/legal.yaml", "--format", "pdf", "--output", str(file))
    assert (ran.code, ran.out, file.exists()) == (74, "", False)
    assert ran.err.count("\n") == 1
    assert cure in ran.err
    assert "--format html" in ran.err


def test_a_pdf_wants_a_files_name(capsys: Capsys) -> None:
    ran = run(capsys, "inspect", "samples/cars/legal.yaml", "--format", "pdf")
    assert (ran.code, ran.out) == (2, "")
    assert "--output car.pdf" in ran.err
