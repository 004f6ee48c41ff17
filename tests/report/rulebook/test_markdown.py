"""Markdown in which what a file says is text: another parser (markdown-it-py, test-only) sees no mark-up in it."""

from __future__ import annotations

import html
import re

from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from checker.reading.plain_text import printable
from checker.report.rulebook.markdown import anchor, code, escaped, table, with_names
from tests.examples import each_row

READER = MarkdownIt("commonmark", {"html": True, "linkify": False}).enable("table").enable("strikethrough")
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=60)


def seen(markdown: str) -> str:
    """What a reader of the rendered page sees."""
    return html.unescape(re.sub(r"<[^>]*>", "", READER.render(markdown))).strip("\n")


def plain(text: str) -> str:
    return " ".join(printable(text).split())


@each_row(
    "text",
    [
        "# no heading",
        "- no list",
        "+ no list",
        "1. no list",
        "12) no list",
        "> no quotation",
        "---",
        "===",
        "    no code",
        "```",
        "`code`",
        "*no* _emphasis_ **here** ~~nor here~~",
        "<b>no HTML</b> <script>alert(1)</script>",
        "<!-- hidden -->",
        "&lt; &amp; &#60;",
        "[no](link) ![no](image) <https://example.org>",
        "https://example.org www.example.org a@example.org",
        "a | b | c",
        "back\\slash \\* \\",
        "line\nbreak\r\nand\u2028another",
        "\x1b[2J\u202eturned",
        "[^1]: note",
    ],
)
def test_what_a_file_says_is_text(text: str) -> None:
    page = READER.render(escaped(text))
    assert re.sub(r"</?p>", "", page).strip() == html.escape(plain(text), quote=True).replace("&#x27;", "'")
    assert not re.search("https?://|www[.]|[^\\\\]@", escaped(text))  # what GitHub's dialect makes a link of


@given(TEXTS)
def test_any_text_is_seen_as_it_is(text: str) -> None:
    assert seen(escaped(text)) == plain(text)
    assert seen(f"before {escaped(text)} after").split() == ["before", *plain(text).split(), "after"]


@given(TEXTS)
def test_code_is_seen_as_it_is(text: str) -> None:
    assert seen(code(text)) == plain(text).strip()


@given(st.lists(st.lists(TEXTS, min_size=2, max_size=2), min_size=1, max_size=3))
def test_a_table_keeps_its_cells(rows: list[list[str]]) -> None:
    page = READER.render("\n".join(table(["a", "b"], [[escaped(cell) for cell in row] for row in rows])))
    cells = [html.unescape(cell).strip() for cell in re.findall(r"<td>(.*?)</td>", page)]
    assert cells == [plain(cell) for row in rows for cell in row]


def test_names_in_a_sentence_are_code() -> None:
    told = with_names("weight.total at least minimum_weight(engine.capacity) * 2 <b>")
    assert told == "`weight.total` at least `minimum_weight`(`engine.capacity`) \\* 2 \\<b\\>"
    assert seen(told) == "weight.total at least minimum_weight(engine.capacity) * 2 <b>"


@given(st.text("ab._ (*`|<-1", max_size=30))
def test_a_sentence_with_names_is_seen_as_it_is(text: str) -> None:
    assert seen(with_names(text)).split() == plain(text).split()


def test_anchors_are_safe_in_links() -> None:
    assert anchor("clause", "3.1") == "clause-3-1"
    assert anchor("clause", '"><x') == "clause-x"
    assert anchor("clause", "§") == "clause-x"
