"""A report as a page of HTML: whatever is written on a sheet of text may be written on this one.

So every report has one order and one set of words, on a terminal as on a page. Here a heading is a heading, labels are
a list of terms, columns are a table, and pictures, which a terminal cannot show, are drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field
from checker.report.figure import Figure
from checker.report.html.rendering import render
from checker.report.page import BOLD, DIM, GREEN, RED, WIDEST, YELLOW, Page

_LOOKS = {RED: "fails", GREEN: "met", YELLOW: "open", BOLD: "strong", DIM: "soft"}


@dataclass(slots=True)
class Block:
    """One thing on a page."""

    kind: str
    """heading, words, terms, row, table, lines, form, figure, code or sign: how `blocks.html` shows it."""
    words: str = ""
    look: str = ""
    deep: int = 0
    """How far it is set in."""
    number: str = ""
    figure: str = ""
    _: KW_ONLY
    rows: list[tuple[str, ...]] = field(default_factory=list)
    looks: list[str] = field(default_factory=list)
    """Of rows, the head's first; those that are left out have none."""
    terms: list[Term] = field(default_factory=list)
    picture: Figure | None = None


@dataclass(slots=True)
class Term:
    """A label and what stands behind it."""

    label: str
    words: list[str]
    look: str = ""


class Sheet(Page):
    """Blocks in the order that they are written."""

    draws = True

    def __init__(self) -> None:
        super().__init__(WIDEST)
        self.blocks: list[Block] = []
        self.paper = ""
        self._below = 0
        """Words that are set in as far belong to what was written before."""

    def text(self) -> str:
        """The page, once all is written."""
        return sheets_page([self])

    @property
    def title(self) -> str:
        """The words that it begins with."""
        return next((one.words for one in self.blocks if one.words), "Report")

    @property
    def figures(self) -> list[Figure]:
        """Every picture on it."""
        return [one.picture for one in self.blocks if one.picture is not None and one.kind == "figure"]

    def blank(self) -> None:
        self._below = 0

    def heading(self, words: str, colour: str = "", *, capitals: bool = True, figure: str = "") -> None:  # noqa: ARG002
        self._below = 0
        self.blocks.append(Block("heading", words[:1].upper() + words[1:], _look(colour), figure=figure))

    def put(self, words: str, indent: int = 0, hang: int | None = None, style: str = "") -> None:  # noqa: ARG002
        if not words:
            return
        last = self.blocks[-1] if self.blocks else None
        if last is not None and last.kind == "terms" and self._below and indent >= self._below:
            last.terms[-1].words.append(words)
            return
        self.blocks.append(Block("words", words, _look(style), min(indent // 2, 4)))

    def labelled(self, label: str, words: str, column: int, indent: int = 0, style: str = "") -> None:
        last = self.blocks[-1] if self.blocks else None
        deep = min(indent // 2, 4)
        if last is None or last.kind != "terms" or last.deep != deep:
            last = Block("terms", deep=deep)
            self.blocks.append(last)
        last.terms.append(Term(label, [words], _look(style)))
        self._below = max(indent + 1, min(column, indent + len(label) + 1))

    def row(
        self, words: str, figure: str, indent: int = 0, hang: int = 0, style: str = "", label: str = ""
    ) -> None:
        self._below = 0
        deep = min((indent if label else max(indent, hang if not words else indent)) // 2, 4)
        self.blocks.append(Block("row", words, _look(style), deep, label, figure))

    def table(self, rows: Sequence[Sequence[str]], indent: int = 0, styles: Sequence[str] = ()) -> bool:
        self._below = 0
        looks = [_look(style) for style in styles]
        cells = [tuple(row) for row in rows]
        self.blocks.append(Block("table", rows=cells, looks=looks, deep=min(indent // 2, 4)))
        return True

    def columns(self, cells: Sequence[str], widths: Sequence[int], style: str = "", cut: int = -1) -> None:  # noqa: ARG002
        self._below = 0
        last = self.blocks[-1] if self.blocks else None
        if last is None or last.kind != "table" or len(last.rows[0]) != len(cells):
            last = Block("table")
            self.blocks.append(last)
        last.rows.append(tuple(cells))
        last.looks.append(_look(style))

    def drawn(self, line: str, style: str = "") -> None:  # noqa: ARG002 (lines of one block look alike)
        self._below = 0
        if not self.blocks or self.blocks[-1].kind != "lines":
            self.blocks.append(Block("lines"))
        self.blocks[-1].words += f"{line}\n"

    def draw(self, picture: Figure | None) -> None:
        self._below = 0
        if picture is not None:
            self.blocks.append(Block("figure", picture=picture))

    def on_paper(self, size: str) -> None:
        self.paper = size

    def form(self, rows: Sequence[Sequence[str]]) -> None:
        self._below = 0
        self.blocks.append(Block("form", rows=[tuple(row) for row in rows]))

    def code(self, title: str, words: str) -> None:
        from checker.report.figures.code import code_figure

        try:
            self.blocks.append(Block("code", title, picture=code_figure(title, words)))
        except ImportError:
            self.put(f"{title}: a code is not drawn without {_CODES}", style=DIM)

    def sign(self, *who: str) -> None:
        self._below = 0
        self.blocks.append(Block("sign", rows=[who]))


_CODES = "the extra pages: pip install 'scrutineering-checker[pages]'"


def sheets_page(sheets: Iterable[Sheet]) -> str:
    """One page of several reports, each on a sheet of its own when it is printed."""
    made = list(sheets)
    titles = [sheet.title for sheet in made]
    title = titles[0] if len(titles) == 1 else f"{len(titles)} reports"
    return render("sheets", title=title, sheets=made)


def _look(style: str) -> str:
    return " ".join(look for code, look in _LOOKS.items() if code in style.split(";"))
