"""What libyaml reads otherwise than it looks on the page, or reads though YAML 1.2 does not allow it.

Each pattern looks at the text round a value that was read, so that what nobody would misread costs nothing.
"""

from __future__ import annotations

from typing import Final

from checker.reading.patterns import pattern
from checker.reading.plain_text import shortened
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """What cannot be read, or could be misread, and where: offsets into the text."""

    message: str
    start: int
    end: int
    hint: str = ""
    number: str = "112"
    """In the problem's code."""
    related: tuple[tuple[str, int, int], ...] = ()
    """Other places that matter: what, from and to which offset."""
    is_last: bool = False
    """Whether reading on is useless."""


_LOST: Final = pattern(r"[ \t]*(?<=[ \t])(#\w[^\r\n]*)")
_COMMENT: Final = pattern(r"(?<=\s)#[^\r\n]*")
_BLOCK_HEAD: Final = pattern(r"[|>][-+0-9]*(#)")
_BLANK_LINES: Final = pattern(r"[|>][^\r\n]*\r?\n((?:[ ]*\r?\n)*)([ ]*)(?=[^ \r\n])")
_NEXT_LINES: Final = pattern(r"(?<=\n)([ ]*)(\t?)[ \t]*([^\s#][^\r\n]*)")
_AFTER_ANCHOR: Final = pattern(r"[^\s,\[\]{}]")

NO_TABS: Final = ("a tab is used to indent this line", "Indent with blanks only.")
_BLANK_BEFORE: Final = "Put a blank before '#'; if it belongs to the text, put the text in quotes."


def after_plain(text: str, end: int) -> Fault | None:
    """`SO #4417` is `SO` and a comment to YAML, and a number to everybody else."""
    lost = _LOST.match(text, end)
    if lost is None:
        return None
    written = shortened(lost[1].rstrip())
    hint = f"Put the text in quotes, or, if it is a comment, a blank after the '#': {shortened(f'# {lost[1][1:]}')}"
    return Fault(f"'{written}' would not be read: '#' after a blank begins a comment", *lost.span(1), hint)


def glued_comment(text: str, end: int) -> Fault | None:
    """`"value"#comment`, `[a, b]#comment`."""
    if not text.startswith("#", end):
        return None
    return Fault("a comment begins right after the value", end, end + 1, _BLANK_BEFORE)


def glued_after_comma(text: str, start: int, end: int) -> Fault | None:
    """`[a,#comment`, where the entries of a list or mapping in brackets are separated."""
    at = _COMMENT.sub(lambda comment: " " * len(comment[0]), text[start:end]).find("#")
    if at < 0:
        return None
    return Fault("a comment begins right after a comma", start + at, start + at + 1, _BLANK_BEFORE)


def in_block_text(text: str, start: int, end: int, indent: int) -> Fault | None:
    """`># comment`, and blank lines that go further in than the text that they precede."""
    head = _BLOCK_HEAD.match(text, start, end)
    if head is not None:
        return Fault("a comment begins right after the sign for a text", *head.span(1), _BLANK_BEFORE)
    blank = _BLANK_LINES.match(text, start)
    if blank is None or len(blank[2]) <= indent:
        return None
    if max((len(line) for line in blank[1].splitlines()), default=0) <= len(blank[2]):
        return None
    message = "the blank lines before this one go further in than it does"
    return Fault(message, blank.end(2), blank.end(2) + 1, "Take the blanks of the empty lines away.")


def outside_of_block(text: str, start: int, end: int, indent: int, brackets: bool) -> Fault | None:
    """Lines of a value in quotes or brackets that stand no further in than what holds it, or by a tab."""
    for line in _NEXT_LINES.finditer(text, start, end):
        if len(line[1]) > indent or (brackets and line[3][0] in "]}"):
            continue
        what, hint = (
            "this line belongs to a value that begins above it",
            f"Indent it by {indent + 1} blanks or more.",
        )
        if line[2]:
            what, hint = NO_TABS
        return Fault(what, line.start(3), line.start(3) + 1, hint)
    return None


def question_mark(text: str, start: int) -> Fault | None:
    """`{?mass: 82 kg}` is the key `mass` to libyaml and `?mass` to YAML 1.2."""
    if start == 0 or text[start - 1] != "?":
        return None
    hint = "Take it away, or put the key in quotes."
    return Fault("a '?' stands right before this key", start - 1, start, hint)


def after_anchor(text: str, name: str, start: int, end: int) -> Fault | None:
    """`&an:chor value` is the anchor `an` and `:chor value` to libyaml."""
    if _AFTER_ANCHOR.match(text, end) is None:
        return None
    message = f"the name of the anchor '&{shortened(name)}' goes on with '{text[end]}'"
    return Fault(message, start, end + 1, "Names of anchors are letters, digits, '-' and '_'.", "115")


_GLUED: Final = pattern(r":(?=\S)")
_DECIMAL_COMMA: Final = pattern(r"(?<![0-9.,])([0-9]+(?:\.[0-9]{3})*),([0-9]+)(?=[ ]*(?:%|[A-Za-z]))")
_LONGEST_NUMBER: Final = 40


def glued_colon(text: str, start: int, end: int) -> Fault | None:
    """`{a:b}` is the key "a:b" without a value, which nobody means."""
    found = _GLUED.search(text, start, end)
    if found is None or text[start] in "'\"":
        return None
    colon = found.start()
    hint = f"Write {shortened(text[start:colon])}: {shortened(text[colon + 1 : end])}"
    message = f"'{shortened(text[start:end])}' needs a blank after the colon"
    return Fault(message, colon, colon + 1, hint, "121")


def decimal_comma(text: str, start: int) -> Fault | None:
    """`{a: 143,4 kg}` is 143 and the key "4 kg" without a value, `[143,4 kg]` two values: nobody means either.

    Args:
        start: Where the entry, or the key without a value, begins.
    """
    near = max(0, start - _LONGEST_NUMBER)
    numbers = _DECIMAL_COMMA.finditer(text, near, start + _LONGEST_NUMBER)
    found = next((number for number in numbers if number.end(1) + 1 >= start), None)
    if found is None or found.end(1) + 1 != start:
        return None
    whole, part = found.groups()
    point = f"{whole.replace('.', '')}.{part}: the decimal mark is a point"
    hint = f"Write {point}."
    if "." in whole:
        hint = f"Write {point}, and thousands have no mark."
    elif len(part) == 3 and len(whole) <= 3 and whole[0] != "0":
        hint = f"Write {whole}{part}, or {point}, and thousands have no mark."
    return Fault(f"the comma in '{found[0]}' ends the value", *found.span(), hint)
