"""Words as a QR code, for paper and for a terminal: what is scanned is the words themselves, which need no network."""

from __future__ import annotations

from hashlib import sha256
from itertools import groupby

from checker.report.figure import Figure
from checker.report.figures.drawing import Drawing

_QUIET, _SIZE = 4, 4
"""Light modules around a code (ISO/IEC 18004, recalled), and how large a module is drawn."""


def code_figure(title: str, words: str) -> Figure:
    """A code that says these words, dark on light in every scheme.

    Args:
        title: What is found in it, for those who do not see it.
        words: At most about 400 letters, or a code is too fine to be read from a slip.

    Raises:
        ImportError: What makes codes is not installed.
    """
    import segno

    rows = list(segno.make(words, error="m", micro=False, encoding="utf-8").matrix_iter(border=_QUIET))
    drawing = Drawing(f"qr-{sha256(words.encode()).hexdigest()[:10]}", _SIZE * len(rows))
    drawing.rect("ground", 0, 0, drawing.width, drawing.width)
    for y, row in enumerate(rows):
        x = 0
        for dark, run in groupby(row):
            long = len(list(run))
            if dark:
                drawing.rect("module", _SIZE * x, _SIZE * y, _SIZE * long, _SIZE)
            x += long
    return drawing.done(drawing.width, title, words.replace("\n", ", "), (), ())


def code_in_text(words: str) -> list[str]:
    """A code in half blocks, two rows of modules to a line, for a terminal that is light on dark.

    Raises:
        ImportError: What makes codes is not installed.
    """
    import segno

    rows = [list(row) for row in segno.make(words, error="l", micro=False).matrix_iter(border=_QUIET // 2)]
    if len(rows) % 2:
        rows.append([0] * len(rows[0]))
    return [
        "".join(_HALVES[not above, not below] for above, below in zip(upper, lower, strict=True))
        for upper, lower in zip(rows[::2], rows[1::2], strict=True)
    ]


_HALVES = {(True, True): "█", (True, False): "▀", (False, True): "▄", (False, False): " "}
