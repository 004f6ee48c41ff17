"""A code says the words it was made of, to whoever scans it; an independent reader of codes says so."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.report.figure import Figure
from checker.report.figures.code import code_figure
from tests.examples import each_row
from tests.report.html.test_one_car import HOSTILE

pytest.importorskip("segno", reason="segno is not installed")
MODULE = 4


def scanned(figure: Figure) -> str:
    """What a reader of codes finds in the picture."""
    numpy = pytest.importorskip("numpy", reason="numpy is not installed")
    zxing = pytest.importorskip("zxingcpp", reason="zxing-cpp is not installed")
    width = int(re.findall(r'width="(\d+)"', figure.svg)[0])
    picture = numpy.full((width, width), 255, dtype=numpy.uint8)
    at = re.findall(r'class="module" x="(\d+)" y="(\d+)" width="(\d+)" height="(\d+)"', figure.svg)
    for x, y, wide, high in (map(int, one) for one in at):
        picture[y : y + high, x : x + wide] = 0
    (found,) = zxing.read_barcodes(picture)
    return str(found.text)


@given(
    st.text(st.characters(categories=("L", "N", "P", "Zs"), max_codepoint=0x5FF), min_size=1, max_size=120)
)
def test_what_is_scanned_is_what_was_said(words: str) -> None:
    assert scanned(code_figure("Code", words)) == words


@each_row("words", [one[:300] for one in HOSTILE], ids=range(len(HOSTILE)))
def test_whatever_it_says_is_text_beside_it(words: str) -> None:
    figure = code_figure(words, words)
    assert "<script" not in figure.svg
    assert figure.svg.count("</svg>") == 1
    assert not re.search("[\u202a-\u202e\u2066]", figure.svg)


def test_two_codes_on_one_page_have_names_of_their_own() -> None:
    one, other = (code_figure("Code", words) for words in ("car 7", "car 8"))
    assert one.name != other.name
    assert one == code_figure("Code", "car 7")
