"""Makes text from a file safe to show.

A name in a declaration must not be able to move the cursor, change colours, turn the reading direction
round or hide a part of itself. What cannot be seen is shown as an escape that can.
"""

from __future__ import annotations

import unicodedata


def printable(text: str, *, keep_newlines: bool = False) -> str:
    """`text` with everything that is not seen, or changes what is seen, as a visible escape.

    Letters of every script, signs and combining marks stay. Tabs, unusual blanks and line ends become
    blanks; with `keep_newlines` line ends become "\\n".
    """
    if text.isprintable():
        return text
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(
        character if character.isprintable() else _shown(character, keep_newlines) for character in text
    )


def shortened(text: str, longest: int = 60) -> str:
    """`text` for quoting in a message, its middle left out where it has more than `longest` characters."""
    if len(text) <= longest:
        return text
    half = (longest - 3) // 2
    return f"{text[:half]}...{text[-half:]}"


def _shown(character: str, keep_newlines: bool) -> str:
    if character == "\n" and keep_newlines:
        return character
    if character in "\n\t" or unicodedata.category(character) == "Zs":
        return " "
    code = ord(character)
    if code < 0x100:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
