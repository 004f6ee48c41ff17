"""libyaml's complaints in words that help someone who has never heard of YAML."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

import yaml

COLON_HINT: Final = "A colon between a key and its value needs a blank after it."
_INDENT_HINT: Final = "Check how far this line and those above it are indented."
_QUOTE_HINT: Final = "Text that begins with or holds a special sign goes in quotes."

_WORDS: Final[dict[str, tuple[str, str]]] = {
    "mapping values are not allowed in this context": (
        "there is a colon where no value can follow",
        "If the colon belongs to the text, put the text in quotes; else check the indentation.",
    ),
    "mapping keys are not allowed in this context": ("there is a '?' where no key can follow", _QUOTE_HINT),
    "block sequence entries are not allowed in this context": (
        "there is a '-' where no list can begin",
        "A list begins on a line of its own, or stands in [ ].",
    ),
    "could not find expected ':'": ("this line has no 'key: value'", COLON_HINT),
    "did not find expected key": ("this line does not fit what is above it", _INDENT_HINT),
    "did not find expected '-' indicator": ("this line does not continue the list above it", _INDENT_HINT),
    "did not find expected ',' or '}'": (
        "a ',' or '}' is missing before this",
        "Every '{' needs its '}'; text that holds a comma or a bracket goes in quotes.",
    ),
    "did not find expected ',' or ']'": (
        "a ',' or ']' is missing before this",
        "Every '[' needs its ']'; text that holds a comma or a bracket goes in quotes.",
    ),
    "did not find expected node content": ("a value is missing here", _QUOTE_HINT),
    "did not find expected <document start>": (
        "there is more after the end of the data",
        "A file holds one mapping; check the indentation of its first lines.",
    ),
    "found character that cannot start any token": ("no value can begin with this character", _QUOTE_HINT),
    "found a tab character that violates indentation": (
        "a tab is used to indent this line",
        "Indent with blanks only.",
    ),
    "found a tab character where an indentation space is expected": (
        "a tab is used to indent this line",
        "Indent with blanks only.",
    ),
    "found unexpected end of stream": ("the file ends inside quotes", "Close the quotation mark."),
    "found unexpected document indicator": (
        "a line of '---' or '...' stands inside quotes",
        "Close the quotation mark before it.",
    ),
    "found unknown escape character": (
        "this escape with a backslash is not known",
        "Between double quotes write \\\\ for a backslash, or use single quotes.",
    ),
    "found invalid Unicode character escape code": (
        "this \\u escape is not a character",
        "Write the character itself.",
    ),
    "did not find expected hexdecimal number": (
        "an escape such as \\x or \\u needs its hexadecimal digits",
        "Between double quotes write \\\\ for a backslash, or use single quotes.",
    ),
    "did not find expected alphabetic or numeric character": (
        "text cannot begin with '&' or '*'",
        "Put the text in quotes.",
    ),
    "did not find expected comment or line break": (
        "after '|' or '>' the text begins on the next line",
        "Put text that begins with '|' or '>' in quotes.",
    ),
}
_GLUED_COLON: Final = re.compile(r"\s*(?:- )*[^\s:'\"{}\[\],#]+:[^\s:/]")


@dataclass(frozen=True, slots=True)
class Fault:
    """Where and what libyaml could not read."""

    number: str
    """The number in the problem's code."""
    message: str
    start: int
    """Offset into the text."""
    hint: str = ""
    related: tuple[tuple[str, int], ...] = ()
    """Other places that matter, by offset."""


def explain(error: yaml.YAMLError, text: str) -> Fault:
    """What an error of libyaml means for the one who wrote `text`."""
    problem = str(getattr(error, "problem", None) or error)
    context = str(getattr(error, "context", None) or "")
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    start = mark.index if mark is not None else 0
    if problem == "exceeded maximum nesting depth":
        return Fault("117", "this is nested too deep", start)
    if "directive" in problem or "directive" in context or problem == "found incompatible YAML document":
        return Fault("116", "a directive stands here", start, "Take the lines that begin with '%' away.")
    if "tag" in problem or "tag" in context:
        return Fault("114", "a tag is not allowed here", start, "Text that begins with '!' goes in quotes.")
    message, hint = _WORDS.get(problem, (f"this cannot be read: {problem}", ""))
    line_start = max(text.rfind("\n", 0, start), text.rfind("\r", 0, start)) + 1
    if _GLUED_COLON.match(text, line_start):
        hint = COLON_HINT
    return Fault("112", message, start, hint)
