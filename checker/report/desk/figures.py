"""Figures and words in block letters, to be read at arm's length.

The cursor is drawn thin, so that nothing untyped looks like a figure.
"""

from __future__ import annotations

ROWS = 5
"""Height of a figure."""

_FONT = {
    "0": (" ### ", "#   #", "#   #", "#   #", " ### "),
    "1": ("  #  ", " ##  ", "  #  ", "  #  ", " ### "),
    "2": ("#### ", "    #", " ### ", "#    ", "#####"),
    "3": ("#### ", "    #", " ### ", "    #", "#### "),
    "4": ("#  # ", "#  # ", "#####", "   # ", "   # "),
    "5": ("#####", "#    ", "#### ", "    #", "#### "),
    "6": (" ### ", "#    ", "#### ", "#   #", " ### "),
    "7": ("#####", "   # ", "  #  ", " #   ", " #   "),
    "8": (" ### ", "#   #", " ### ", "#   #", " ### "),
    "9": (" ### ", "#   #", " ####", "    #", " ### "),
    ".": ("  ", "  ", "  ", "  ", "##"),
    "_": ("     ", "     ", "     ", "     ", "_____"),
    "-": ("     ", "     ", "#####", "     ", "     "),
    "K": ("#   #", "#  # ", "###  ", "#  # ", "#   #"),
    "D": ("#### ", "#   #", "#   #", "#   #", "#### "),
    "G": (" ####", "#    ", "#  ##", "#   #", " ####"),
    "H": ("#   #", "#   #", "#####", "#   #", "#   #"),
    "T": ("#####", "  #  ", "  #  ", "  #  ", "  #  "),
    "U": ("#   #", "#   #", "#   #", "#   #", " ### "),
    "W": ("#   #", "#   #", "# # #", "## ##", "#   #"),
    "R": ("#### ", "#   #", "#### ", "#  # ", "#   #"),
    "A": (" ### ", "#   #", "#####", "#   #", "#   #"),
    "C": (" ####", "#    ", "#    ", "#    ", " ####"),
    "E": ("#####", "#    ", "#### ", "#    ", "#####"),
    "F": ("#####", "#    ", "#### ", "#    ", "#    "),
    "I": ("###", " # ", " # ", " # ", "###"),
    "L": ("#    ", "#    ", "#    ", "#    ", "#####"),
    "M": ("#   #", "## ##", "# # #", "#   #", "#   #"),
    "N": ("#   #", "##  #", "# # #", "#  ##", "#   #"),
    "O": (" ### ", "#   #", "#   #", "#   #", " ### "),
    "P": ("#### ", "#   #", "#### ", "#    ", "#    "),
    "S": (" ####", "#    ", " ### ", "    #", "#### "),
    " ": ("  ", "  ", "  ", "  ", "  "),
}


def block(text: str) -> list[str]:
    """A text in block letters; what has no letter is left out."""
    glyphs = [_FONT[character] for character in text if character in _FONT]
    return [" ".join(glyph[row] for glyph in glyphs) for row in range(ROWS)]


def large(text: str, width: int) -> list[str]:
    """A text as large as it fits: in block letters, or as one line."""
    known = all(character in _FONT for character in text)
    lines = block(text) if known else [text]
    return lines if max(map(len, lines), default=0) <= width else [text]
