"""A picture in the making: SVG of our own, with a title, a description and its numbers as a table.

Coordinates are those of the screen (x to the right, y down), in units that are about a pixel. Looks come from classes
alone (`figure.css`), so that one picture serves light and dark, page and file, and a strict Content-Security-Policy.
The same numbers give the same bytes.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from html import escape
from importlib.resources import files

from checker.reading.plain_text import printable
from checker.report.bidi import isolated
from checker.report.figure import Figure

_LETTER = 0.53
"""Mean width of a letter, in parts of the size of its type."""


def as_file(figure: Figure) -> str:
    """A picture as a file of its own, with a margin round it."""
    style = "".join(style_of(name) for name in ("colours", "figure"))
    first, _, rest = figure.svg.partition(">")
    width, height = (float(size) + 2 * _MARGIN for size in _SIZE.findall(first))
    around = (
        f'viewBox="-{_MARGIN} -{_MARGIN} {_n(width)} {_n(height)}" width="{_n(width)}" height="{_n(height)}"'
    )
    first = _BOX.sub(around, first).replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    ground = f'<rect class="paper" x="-{_MARGIN}" y="-{_MARGIN}" width="100%" height="100%"/>'
    return f"{first}><style>{style}</style>{ground}{rest}\n"


_MARGIN = 14
_BOX = re.compile(r'viewBox="[^"]*" width="[^"]*" height="[^"]*"')
_SIZE = re.compile(r' (?:width|height)="([0-9.]+)"')


def style_of(name: str) -> str:
    """A style sheet of pictures."""
    return files(__package__ or "").joinpath(f"{name}.css").read_text("utf-8")


class Drawing:
    """Shapes on a sheet.

    Args:
        name: Of letters; told in the ids.
        width: Of the sheet.
    """

    def __init__(self, name: str, width: float) -> None:
        self.name = name
        self.width = width
        self._parts: list[str] = []
        self._hatches = False

    def line(self, look: str, x1: float, y1: float, x2: float, y2: float) -> None:
        at = zip(("x1", "y1", "x2", "y2"), (x1, y1, x2, y2), strict=True)
        self._put("line", look, " ".join(f'{name}="{_n(value)}"' for name, value in at))

    def rect(self, look: str, x: float, y: float, width: float, height: float, corner: float = 0) -> None:
        rounded = f' rx="{_n(corner)}"' if corner else ""
        size = f'width="{_n(max(0, width))}" height="{_n(max(0, height))}"'
        self._put("rect", look, f'x="{_n(x)}" y="{_n(y)}" {size}{rounded}')

    def circle(self, look: str, x: float, y: float, radius: float) -> None:
        self._put("circle", look, f'cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}"')

    def path(self, look: str, points: Sequence[tuple[float, float]], *, closed: bool = False) -> None:
        """Straight from point to point."""
        told = " L".join(f"{_n(x)} {_n(y)}" for x, y in points)
        self._put("path", look, f'd="M{told}{"Z" if closed else ""}"')

    def cross(self, look: str, x: float, y: float, size: float) -> None:
        a, b, c, d = (_n(value) for value in (x - size, x + size, y - size, y + size))
        self._put("path", look, f'd="M{a} {c}L{b} {d}M{a} {d}L{b} {c}"')

    def arrow(self, look: str, x1: float, y1: float, x2: float, y2: float) -> None:
        """A line with a head at its end."""
        turn = math.atan2(y2 - y1, x2 - x1)
        self.line(look, x1, y1, x2, y2)
        sides = [(x2 - 7 * math.cos(turn + by), y2 - 7 * math.sin(turn + by)) for by in (0.42, -0.42)]
        self.path(look, [sides[0], (x2, y2), sides[1]])

    def diamond(self, look: str, x: float, y: float, size: float) -> None:
        self.path(look, [(x, y - size), (x + size, y), (x, y + size), (x - size, y)], closed=True)

    def text(self, look: str, x: float, y: float, words: str, anchor: str = "start", room: float = 0) -> None:
        """Words on one line.

        Args:
            anchor: start, middle or end: what of them stands at x.
            room: How wide they may be; what is longer is cut, for the table has it whole. 0: as they come.
        """
        size = 12 if "small" in look else 13
        told = clipped(words, room, size) if room else words
        at = f'x="{_n(x)}" y="{_n(y)}"' + (f' text-anchor="{anchor}"' if anchor != "start" else "")
        self._put("text", look, at, _text(told))

    def hatched(self, x: float, y: float, width: float, height: float) -> None:
        """Ground that is not allowed: told apart without colour."""
        mark = f"{self.name}-hatch"
        if not self._hatches:
            self._hatches = True
            self._parts.append(
                f'<defs><pattern id="{mark}" width="6" height="6" patternUnits="userSpaceOnUse" '
                'patternTransform="rotate(45)"><path class="hatch" d="M0 0V6"/></pattern></defs>'
            )
        at = f'x="{_n(x)}" y="{_n(y)}" width="{_n(width)}" height="{_n(height)}"'
        self._parts.append(f'<rect fill="url(#{mark})" {at}/>')

    def done(
        self,
        height: float,
        title: str,
        about: str,
        head: Sequence[str],
        rows: Sequence[Sequence[str]],
    ) -> Figure:
        """The picture of all that was put on the sheet."""
        svg = (
            f'<svg class="figure {self.name}" viewBox="0 0 {_n(self.width)} {_n(height)}" '
            f'width="{_n(self.width)}" height="{_n(height)}" role="img" '
            f'aria-labelledby="{self.name}-title {self.name}-desc">'
            f'<title id="{self.name}-title">{_text(title)}</title>'
            f'<desc id="{self.name}-desc">{_text(about)}</desc>{"".join(self._parts)}</svg>'
        )
        return Figure(self.name, title, about, svg, tuple(head), tuple(map(tuple, rows)))

    def _put(self, element: str, look: str, attributes: str, inner: str = "") -> None:
        ends = f">{inner}</{element}>" if inner else "/>"
        named = f' class="{look}"' if look else ""
        self._parts.append(f"<{element}{named} {attributes}{ends}")


def clipped(words: str, room: float, size: float = 13) -> str:
    """Words cut to so much room, at a size of type."""
    most = max(3, int(room / (size * _LETTER)))
    return words if len(words) <= most else f"{words[: most - 1].rstrip()}…"


def width_of(words: str, size: float = 13) -> float:
    """About how much room words take."""
    return len(words) * size * _LETTER


def _n(value: float) -> str:
    """A coordinate, to a tenth."""
    told = f"{value:.1f}"
    return "0" if told == "-0.0" else told.removesuffix(".0")


def _text(words: str) -> str:
    return escape(isolated(printable(words)), quote=False)
