"""Documents as JSON that no terminal can misread: what is not seen, or turns what is seen, stands as an escape."""

from __future__ import annotations

import json
import re

from checker.reading.patterns import pattern

_MAYBE_UNSEEN = pattern(r"[^ -~\n]")


def json_text(document: object, *, indent: int | None = None) -> str:
    """The document with a line end behind it; letters stay letters, and what is read from it is the same text."""
    return _MAYBE_UNSEEN.sub(_escaped, json.dumps(document, ensure_ascii=False, indent=indent) + "\n")


def _escaped(sign: re.Match[str]) -> str:
    if sign[0].isprintable():
        return sign[0]
    halves = sign[0].encode("utf-16-be", "surrogatepass").hex()
    return "".join(f"\\u{halves[at : at + 4]}" for at in range(0, len(halves), 4))
