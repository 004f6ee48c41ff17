"""A page keeps to its width, hides nothing, and lets no text from a file control the terminal."""

from __future__ import annotations

import re
import textwrap

from hypothesis import given, settings
from hypothesis import strategies as st

from checker.reading.plain_text import printable
from checker.report.page import BOLD, NARROWEST, RED, WIDEST, Page, is_path
from tests.examples import examples

TEXTS = st.text(max_size=120)
CODES = re.compile(r"\x1b\[[0-9;]*m")


def filled(width: int, words: str, label: str, *, colour: bool = False) -> Page:
    page = Page(width, colour=colour)
    page.heading(words, RED)
    page.put(words, 4, 6, RED)
    page.labelled(label, words, 9, 2, BOLD)
    page.row(words, "+1.5 kg", 2, 4, RED)
    page.row(words, "-3.43 kg", 2, 9, RED, label="10.12")
    return page


@given(width=st.integers(-5, 200), words=TEXTS, label=st.sampled_from(["do", "weighing.readings"]))
def test_no_line_is_wider_than_the_page_and_none_ends_in_blanks(width: int, words: str, label: str) -> None:
    page = filled(width, words, label)
    assert NARROWEST <= page.width <= WIDEST
    for line in page.text().splitlines():
        assert len(line) <= page.width or any(map(is_path, printable(words).split()))
        assert line == line.rstrip()


@given(words=TEXTS)
def test_what_a_file_says_adds_no_control_codes(words: str) -> None:
    text = filled(60, f"\x1b[2J{words}\x07\u202e", "do", colour=True).text()
    assert all(character.isprintable() or character == "\n" for character in CODES.sub("", text))


@given(words=TEXTS)
def test_colour_adds_nothing_but_colour(words: str) -> None:
    plain, coloured = filled(60, words, "do"), filled(60, words, "do", colour=True)
    assert CODES.sub("", coloured.text()) == plain.text()


@given(words=st.lists(st.text(st.characters(categories=["L", "N"]), min_size=1, max_size=12), max_size=20))
def test_no_word_is_lost(words: list[str]) -> None:
    page = Page(30)
    page.put(" ".join(words), 2, 4)
    assert page.text().split() == " ".join(words).split()


def test_a_number_keeps_its_unit_and_a_day_stays_whole() -> None:
    page = Page(32)
    page.put("without its driver it weighs 585 kg on the day 2026-05-03")
    assert page.text() == "without its driver it weighs\n585 kg on the day 2026-05-03\n"


def test_a_clause_keeps_its_margin() -> None:
    for width in range(20, 60):
        page = Page(width)
        page.put("margins: 3.1 +4.65 kg, 3.2 +16.65 kg, 3.4 -0.61 %, 3.5 +1.66 %")
        assert not any(line.endswith(("3.1", "3.2", "3.4", "3.5")) for line in page.text().splitlines())


def test_figures_in_columns_stay_at_the_right_below_a_long_title() -> None:
    page = Page(40)
    page.row("A title that is long", "665.57 kg  min 655 kg  +10 kg", 2, 4)
    page.row("A title that is long", "clauses 3.1, 3.2, 3.3 and 3.4", 2, 4)
    assert page.text().splitlines() == [
        "  A title that is long",
        "           665.57 kg  min 655 kg  +10 kg",
        "  A title that is long",
        "    clauses 3.1, 3.2, 3.3 and 3.4",
    ]


def test_a_row_puts_the_figure_at_the_right_or_below() -> None:
    page = Page(32)
    page.row("Weight", "-3.43 kg", 2, 7, label="3.1")
    page.row("Minimum weight with driver", "+1.5 kg", 2, 7, label="3.2")
    page.row("Minimum weight, driver seated", "+16.652345 kg", 2, 7, label="3.10")
    assert page.text().splitlines() == [
        "  3.1  Weight           -3.43 kg",
        "  3.2  Minimum weight with",
        "       driver            +1.5 kg",
        "  3.10 Minimum weight, driver",
        "       seated      +16.652345 kg",
    ]


def test_a_label_too_long_for_its_column_still_leaves_a_blank() -> None:
    page = Page(60)
    page.labelled("swept volume", "engine.capacity / 4", 9, 2)
    assert page.text() == "  swept volume engine.capacity / 4\n"


def test_a_table_that_does_not_fit_is_not_printed() -> None:
    page = Page(32)
    assert not page.table([("car", "name"), ("27", "a name that is far too long for a page")])
    assert page.text() == ""
    assert page.table([("car", "name"), ("27", "Redshank")])
    assert page.text() == "car  name\n27   Redshank\n"


def test_blank_lines_never_stand_first_or_twice() -> None:
    page = Page()
    page.blank()
    page.heading("one")
    page.blank()
    page.blank()
    page.heading("two", capitals=False)
    assert page.text() == "ONE\n\ntwo\n"


@given(width=st.integers(32, 100), line=st.text(max_size=150))
def test_a_drawing_keeps_its_blanks_and_is_cut_at_the_width(width: int, line: str) -> None:
    page = Page(width)
    page.drawn(f"  |   {line}")
    [drawn] = page.text().splitlines()
    assert len(drawn) <= page.width
    assert drawn.startswith("  |   " if drawn != "  |" else "  |")
    assert drawn.isprintable()


def test_a_path_is_never_broken_however_long() -> None:
    path = "/home/club/scrutineering/2026/round-three/declarations/light-at-the-flag.yaml:13"
    page = Page(40)
    page.put(f"It stands in {path} and nowhere else.", 2, 4)
    assert path in page.text()


@settings(examples(300))
@given(
    st.lists(st.text("ab-/é.,", min_size=1, max_size=14), max_size=12),
    st.integers(0, 8),
    st.integers(0, 8),
    st.integers(32, 60),
)
def test_paragraphs_are_filled_as_the_standard_library_does(
    words: list[str], indent: int, hang: int, width: int
) -> None:
    page = Page(width)
    page.put(" ".join(words), indent, hang)
    expected = textwrap.wrap(
        " ".join(words),
        width,
        initial_indent=" " * indent,
        subsequent_indent=" " * hang,
        break_on_hyphens=False,
    )
    assert page.text().splitlines() == expected
