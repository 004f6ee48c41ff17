"""A page of plain text: wrapped to a width, with hanging indents, in colour where asked for.

States are always said in words; colour only helps the eye. Text from files is made harmless before it gets here
(`checker.reading.plain_text`), for a page adds control codes of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from checker.reading.patterns import pattern
from checker.reading.plain_text import printable

if TYPE_CHECKING:
    from checker.report.figure import Figure

RED, YELLOW, GREEN, BOLD, DIM = "31", "33", "32", "1", "2"

SPACE, TICK = "_" * 12, "[ ]"

NARROWEST, WIDEST = 32, 200
_MEASURE = 100
"""Columns of prose at the most: lines that are longer are hard to follow. Tables take what there is."""

_BLANK_BEFORE_UNIT = pattern(r"(?<=\d) (?=[A-Za-z%/]{1,5}\b|%|[+-]\d)")
"""Before a unit, and between a clause and its margin."""
_KEPT = "\N{NO-BREAK SPACE}"
_LEAST_TEXT = 12
"""Columns that a paragraph needs beside its indent."""


def is_path(word: str) -> bool:
    """Of a file, a folder or a category: that is never broken, for what is copied from a report has to be found."""
    return "/" in word or "\\" in word


class Page:
    """Lines of text in the making; `checker.report.html.sheet` is one of HTML.

    Args:
        width: Columns; kept within `NARROWEST` and `WIDEST`.
        colour: Whether to add the control codes of colours.
    """

    draws = False
    """Whether it can show a picture."""

    def __init__(self, width: int = 80, *, colour: bool = False) -> None:
        self.width = min(max(width, NARROWEST), WIDEST)
        self._measure = min(self.width, _MEASURE)
        self.colour = colour
        self._lines: list[str] = []

    def text(self) -> str:
        """Everything so far, ending in a line end."""
        return "\n".join(self._lines) + "\n" if self._lines else ""

    def blank(self) -> None:
        """One empty line, unless the page is empty or has one already."""
        if self._lines and self._lines[-1]:
            self._lines.append("")

    def heading(self, words: str, colour: str = "", *, capitals: bool = True, figure: str = "") -> None:
        """A title over what follows.

        Args:
            figure: Stands at the right of it.
        """
        self.blank()
        told = words.upper() if capitals else words
        style = f"{BOLD};{colour}" if colour else BOLD
        if figure:
            self.row(told, figure, style=style)
        else:
            self.put(told, style=style)

    def put(self, words: str, indent: int = 0, hang: int | None = None, style: str = "") -> None:
        """A paragraph.

        Args:
            words: Its text.
            indent: Column (from 0) of the first line.
            hang: Column of the other lines; as the first where None.
            style: Colours and the like, e.g. `RED`.
        """
        hang = indent if hang is None else hang
        for line in self._wrapped(words, indent, hang):
            self._add(line, style)

    def labelled(self, label: str, words: str, column: int, indent: int = 0, style: str = "") -> None:
        """A paragraph with a label before it; it begins at `column` where the label leaves room.

        Args:
            label: Stands at `indent`; the style is the label's only.
        """
        start = max(column, indent + len(label) + 1)
        if start > self._measure - _LEAST_TEXT:
            self.put(label, indent, style=style)
            self.put(words, indent + 2)
            return
        first, *rest = self._wrapped(words, start, column) or [""]
        gap = " " * (start - indent - len(label))
        self._add_parts(" " * indent, (label, style), (gap + first.lstrip(), ""))
        self._lines += rest

    def row(
        self, words: str, figure: str, indent: int = 0, hang: int = 0, style: str = "", label: str = ""
    ) -> None:
        """Words with a short figure at the right margin, or below them where both do not fit.

        Args:
            label: Stands before the words, which then begin at `hang`; as lines that do not fit do.
        """
        start = hang if label else indent
        *above, last = self._wrapped(words, start, hang) or [""]
        head = label.ljust(hang - indent) if label else ""
        lines = [*above, last]
        lines[0] = " " * indent + head + lines[0][start:]
        for line in lines[:-1]:
            self._add(line, style)
        gap = self._measure - len(lines[-1]) - len(figure)
        if figure and gap >= 2:
            bare = lines[-1].lstrip(" ")
            self._add_parts(
                " " * (len(lines[-1]) - len(bare)), (bare, style), (" " * gap, ""), (figure, style)
            )
        else:
            self._add(lines[-1], style)
            room = self._measure - len(figure)
            if "  " in figure and room >= hang:  # columns, which stay where those of other rows are
                self._add(" " * room + figure, style)
            else:
                self.put(figure, hang, style=style)

    def table(self, rows: Sequence[Sequence[str]], indent: int = 0, styles: Sequence[str] = ()) -> bool:
        """Rows in columns, the first row as their heads.

        Args:
            styles: Of each row; none for plain rows.

        Returns:
            Whether they fit the width; if not, nothing is printed.
        """
        cells = [[printable(cell) for cell in row] for row in rows]
        widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
        if indent + sum(widths) + 2 * (len(widths) - 1) > self.width:
            return False
        for place, row in enumerate(cells):
            aligned = "  ".join(cell.ljust(size) for cell, size in zip(row, widths, strict=True))
            style = BOLD if place == 0 else styles[place] if styles else ""
            self._add(f"{' ' * indent}{aligned}".rstrip(), style)
        return True

    def columns(self, cells: Sequence[str], widths: Sequence[int], style: str = "", cut: int = -1) -> None:
        """One row of columns that always are so wide; the last takes what is left.

        Args:
            widths: Of all but the last.
            cut: Which of them is cut where it is longer; the others push on.
        """
        told = [
            f"{cell[: width - 4]}..." if place == cut and len(cell) >= width else cell
            for place, (cell, width) in enumerate(zip(cells[:-1], widths, strict=True))
        ]
        line = "".join(cell.ljust(width) for cell, width in zip(told, widths, strict=True)) + cells[-1]
        self.drawn(line if len(line) <= self.width else f"{line[: self.width - 3]}...", style)

    def draw(self, picture: Figure | None) -> None:
        """A picture, where it can be shown and is."""

    def on_paper(self, size: str) -> None:
        """What it is printed on: a4, as usual, or a5."""

    def form(self, rows: Sequence[Sequence[str]]) -> None:
        """A table to be filled in by hand, the first row its heads: `SPACE` is room to write, `TICK` to tick."""
        self.table(rows)

    def code(self, title: str, words: str) -> None:
        """Words as a code to scan, where it can be shown and is."""

    def sign(self, *who: str) -> None:
        """A line for the signature of each."""
        for one in who:
            self.put(f"{one} {'_' * 20}")

    def drawn(self, line: str, style: str = "") -> None:
        """A line of a drawing: every blank is kept, and what is beyond the width is cut off."""
        self._add(printable(line)[: self.width].rstrip(), style)

    def _wrapped(self, words: str, indent: int, hang: int) -> list[str]:
        words = _BLANK_BEFORE_UNIT.sub(_KEPT, " ".join(printable(words).split()))
        width = max(self._measure, hang + _LEAST_TEXT)
        if any(len(word) > width - max(indent, hang) for word in words.split(" ")):
            lines = _broken(words, width, indent, hang)
        else:
            lines = _filled(words, width, indent, hang)
        return [line.replace(_KEPT, " ") for line in lines]

    def _add(self, line: str, style: str = "") -> None:
        bare = line.lstrip(" ")
        self._add_parts(" " * (len(line) - len(bare)), (bare, style))

    def _add_parts(self, indent: str, *parts: tuple[str, str]) -> None:
        """One line of pieces, each with its own style; blanks at its end are left out."""
        kept = list(parts)
        while kept and not kept[-1][0].strip():
            kept.pop()
        if kept:
            kept[-1] = (kept[-1][0].rstrip(), kept[-1][1])
            self._lines.append(indent + "".join(self._styled(*piece) for piece in kept))

    def _styled(self, words: str, style: str) -> str:
        return f"\x1b[{style}m{words}\x1b[0m" if self.colour and style and words.strip() else words


def _filled(words: str, width: int, indent: int, hang: int) -> list[str]:
    """Lines of words of which each fits into one, with as many in each as there is room for."""
    lines: list[str] = []
    line = " " * indent
    free = width - indent
    for word in filter(None, words.split(" ")):
        if len(line) > width - free and len(line) + 1 + len(word) > width:
            lines.append(line)
            line, free = " " * hang, width - hang
        line += word if len(line) == width - free else f" {word}"
    return [*lines, line] if line.strip() else lines


def _broken(words: str, width: int, indent: int, hang: int) -> list[str]:
    """Lines where some word is longer than one: it is broken, unless it is a path."""
    from textwrap import wrap

    return wrap(
        words,
        width,
        initial_indent=" " * indent,
        subsequent_indent=" " * hang,
        break_on_hyphens=False,
        break_long_words=not any(len(word) > width - hang and is_path(word) for word in words.split()),
    )
