"""A report on a sheet of HTML: each thing that is written is told as what it is, and as text."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from xml.etree import ElementTree

from checker.report.figures.drawing import Drawing
from checker.report.html.sheet import Sheet, sheets_page
from checker.report.page import RED, SPACE, TICK, Page
from tests.examples import each_row
from tests.report.html.reading import Reading
from tests.report.html.test_one_car import HOSTILE

WAYS: tuple[Callable[[Page, str], object], ...] = (
    lambda page, words: page.heading(words),
    lambda page, words: page.put(words, 2, style=RED),
    lambda page, words: page.labelled(words, words, 10, 2),
    lambda page, words: page.row(words, words, 2, 8, label=words),
    lambda page, words: page.table([("a", words), (words, words)]),
    lambda page, words: page.columns((words, words, words), (4, 8)),
    lambda page, words: page.drawn(words),
    lambda page, words: page.form([("a", words), (words, words), (words, f"{SPACE}{words}")]),
    lambda page, words: page.sign(words, words),
    lambda page, words: page.put(f"{TICK} {words}"),
)


def page_of(write: Callable[[Page, str], object], words: str) -> Reading:
    sheet = Sheet()
    sheet.heading("Title")
    write(sheet, words)
    return Reading(sheet.text())


@each_row(("write", "words"), product(WAYS, HOSTILE))
def test_whatever_is_written_is_text(write: Callable[[Page, str], object], words: str) -> None:
    plain, read = page_of(write, "plain"), page_of(write, words)
    assert read.elements == plain.elements
    assert [a[:2] for a in read.attributes] == [a[:2] for a in plain.attributes]
    if words.isprintable():
        assert " ".join(words.split()).lower() in " ".join(read.text.split()).lower()


def test_things_are_told_as_what_they_are() -> None:
    sheet = Sheet()
    sheet.heading("car 14 Turnstone", RED)
    sheet.labelled("when", "0 L on board", 10, 4)
    sheet.put("below the minimum with less than 4.61 L", 10)
    sheet.labelled("do", "add 4.5 kg", 10, 4)
    sheet.blank()
    sheet.put("Alone.", 2)
    sheet.row("Minimum weight", "-3.43 kg", 2, 8, RED, label="3.1")
    sheet.table([("lap", "fuel"), ("0", "19.25 L")])
    page = sheet.text()
    assert "<h1>Car 14 Turnstone</h1>" in page
    assert "<dt>when</dt><dd>0 L on board<br>below the minimum with less than 4.61 L</dd>" in page
    assert page.count("<dl") == 1
    assert (
        '<span class="number">3.1</span> <span class="what">Minimum weight</span> <strong>-3.43 kg</strong>'
        in page
    )
    assert '<th scope="col">lap</th>' in page
    assert '<th scope="row" class="brief">0</th>' in page


def test_what_is_to_be_ticked_is_a_box_with_a_name() -> None:
    sheet = Sheet()
    sheet.heading("Weigh sheet")
    sheet.put(f"{TICK} Level ground, chocks at hand.", 2, 6)
    sheet.form([("clause", "found", "in order"), ("3.1 Minimum weight", f"{SPACE} kg", TICK)])
    page = sheet.text()
    assert page.count('role="img" aria-label="to tick"') == 2
    assert TICK not in page
    assert '<td data-head="found">' in page


def test_a_picture_stands_where_it_was_drawn_with_its_numbers() -> None:
    sheet = Sheet()
    sheet.heading("One")
    sheet.draw(Drawing("test", 100).done(20, "A picture", "What is seen", ("a", "b"), [("1", "2")]))
    sheet.draw(None)
    page = sheet.text()
    assert [one.name for one in sheet.figures] == ["test"]
    assert page.index("<h1>") < page.index("<svg") < page.index("The numbers")
    ElementTree.fromstring(page[page.index("<svg") : page.index("</svg>") + 6])


def test_several_reports_are_one_page() -> None:
    sheets = [Sheet(), Sheet()]
    for number, sheet in enumerate(sheets):
        sheet.put(f"Slip {number}")
    page = sheets_page(sheets)
    assert page.count('<article class="sheet">') == 2
    assert "<title>2 reports</title>" in page
