"""An address as a QR code, for paper and for a terminal."""

from __future__ import annotations

import segno

_QUIET = 4
"""Light modules around a code (ISO/IEC 18004, recalled)."""


def code_drawn(address: str) -> str:
    """As SVG, dark on light whatever the page's colours are."""
    drawn: str = segno.make(address, error="m", micro=False).svg_inline(
        scale=4, border=_QUIET, light="#fff", svgclass="code", omitsize=True, title=None
    )
    return drawn


def code_in_text(address: str) -> list[str]:
    """In half blocks, two rows of modules to a line, for a terminal that is light on dark."""
    rows = [list(row) for row in segno.make(address, error="l", micro=False).matrix_iter(border=_QUIET // 2)]
    if len(rows) % 2:
        rows.append([0] * len(rows[0]))
    return [
        "".join(_HALVES[not above, not below] for above, below in zip(upper, lower, strict=True))
        for upper, lower in zip(rows[::2], rows[1::2], strict=True)
    ]


_HALVES = {(True, True): "█", (True, False): "▀", (False, True): "▄", (False, False): " "}
