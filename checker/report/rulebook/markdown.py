"""Markdown (CommonMark, with tables) in which every word from a file is text: never mark-up, a link or HTML."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from checker.reading.patterns import pattern
from checker.reading.plain_text import printable

_SIGNS = pattern(r"([\\`*_{}\[\]<>#|~&$!^])")
_AT_THE_START = pattern(r"^(\s*)(?:([-+=:])|(\d{1,9})([.)])(?=\s|$))")
_LINK = pattern(r"(?i)(https?|ftp|mailto|xmpp)(:)|(www)(\.)|(@)")
_NAME = pattern(r"[A-Za-z]\w*(?:[._]\w+)+")


def escaped(text: str) -> str:
    """Text in which nothing is taken for mark-up, on one line."""
    told = _SIGNS.sub(r"\\\1", " ".join(printable(text).split()))
    told = _LINK.sub(_unlinked, told)
    return _AT_THE_START.sub(_unstarted, told)


def _unlinked(found: re.Match[str]) -> str:
    scheme, colon, www, point, at = found.groups()
    if at:
        return "\\@"
    return f"{scheme}\\{colon}" if scheme else f"{www}\\{point}"


def _unstarted(found: re.Match[str]) -> str:
    """A list, a rule or a heading begins with these at the start of a line."""
    blanks, sign, number, point = found.groups()
    return f"{blanks}\\{sign}" if sign else f"{blanks}{number}\\{point}"


def code(text: str) -> str:
    """Text as code, whatever it holds."""
    told = " ".join(printable(text).split())
    longest = max((len(run) for run in re.findall("`+", told)), default=0)
    fence = "`" * (longest + 1)
    blank = " " if told.startswith("`") or told.endswith("`") else ""
    return f"{fence}{blank}{told}{blank}{fence}" if told else ""


def with_names(text: str) -> str:
    """A sentence about formulas: names of facts and tables as code, all else as text."""
    parts: list[str] = []
    last = 0
    for found in _NAME.finditer(text):
        parts += [_between(text[last : found.start()], not parts), code(found[0])]
        last = found.end()
    parts.append(_between(text[last:], not parts))
    return "".join(parts).strip()


def _between(text: str, starts: bool) -> str:
    """Escaped, with the blanks at its ends; only at the very start may it look like a list."""
    told = escaped(text if starts else f"x{text}")
    told = told if starts else told[1:]
    front = " " if text[:1].isspace() and not told.startswith(" ") else ""
    back = " " if text[-1:].isspace() and text.strip() else ""
    return f"{front}{told}{back}"


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    """A table; cells are Markdown already."""
    lines = [_row(heads), _row(["---"] * len(heads))]
    return [*lines, *(_row(row) for row in rows)]


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(cells) + " |"


def place(name: str) -> str:
    """A line that gives the heading after it a name for links, until `with_links_to_headings` has been over it."""
    return f"{_PLACE}{name}"


def with_links_to_headings(lines: Iterable[str]) -> list[str]:
    """The lines with every link to a named place made one to its heading, and no more names.

    A heading is called as readers of Markdown call it by themselves: its words in small letters with - for blanks, and
    -1 behind those of a second heading of the same words. So links work without HTML, which many refuse.
    """
    kept: list[str] = []
    named: dict[str, str] = {}
    told: dict[str, int] = {}
    name = ""
    for line in lines:
        if line.startswith(_PLACE):
            name = line.removeprefix(_PLACE)
            continue
        if found := _HEADING.match(line):
            named[name] = heading_name(re.sub(r"\\(.)", r"\1", found[1]), told)
            name = ""
        kept.append(line)
    return [_TO_PLACE.sub(lambda link: f"](#{named.get(link[1], link[1])})", line) for line in kept]


def heading_name(words: str, told: dict[str, int]) -> str:
    """What readers of Markdown call a heading; `told` counts those before it."""
    slug = re.sub(r"[^\w\- ]", "", words.lower()).strip().replace(" ", "-")
    told[slug] = told.get(slug, -1) + 1
    return f"{slug}-{told[slug]}" if told[slug] else slug


_PLACE = "\0"
_HEADING = pattern(r"#+ (.*)")
_TO_PLACE = pattern(r"\]\(#([a-z0-9-]+)\)")


def anchor(*parts: str) -> str:
    """The name of a place in the book, safe in a link."""
    return "-".join(re.sub(r"[^A-Za-z0-9]+", "-", part).strip("-").lower() or "x" for part in parts)
