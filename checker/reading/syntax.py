"""What libyaml could not read, in words that help someone who has never heard of YAML."""

from __future__ import annotations

import re
from typing import Any, Final

import yaml

from checker.reading.patterns import pattern
from checker.reading.pitfalls import NO_TABS, Fault
from checker.reading.plain_text import shortened

NO_DIRECTIVE: Final = "Take the lines that begin with '%' away."
_INDENT: Final = "Check how far this line and those above it are indented."
_QUOTES: Final = "Text that begins with a special sign goes in quotes."
_CLOSE: Final = "Text that holds a comma or a bracket goes in quotes."
_CUT_OFF: Final = "The text ends before its brackets close: close them, or put text that holds one in quotes."
_CLOSE_QUOTE: Final = "Put the same mark where the text ends, on this line."
_BACKSLASH: Final = "Between double quotes write \\\\ for a backslash, or use single quotes."

_WORDS: Final[dict[str, tuple[str, str]]] = {
    "mapping values are not allowed in this context": (
        "there is a colon where no value can follow",
        "If the colon belongs to the text, put the text in quotes; else check the indentation.",
    ),
    "mapping keys are not allowed in this context": ("there is a '?' where no key can follow", _QUOTES),
    "block sequence entries are not allowed in this context": (
        "there is a '-' where no list can begin",
        "A list begins on a line of its own, or stands in [ ]; text that begins with '- ' goes in quotes.",
    ),
    "could not find expected ':'": ("this line is no 'key: value'", _INDENT),
    "did not find expected key": ("this does not fit what is above it", _INDENT),
    "did not find expected '-' indicator": ("this line does not continue the list above it", _INDENT),
    "did not find expected ',' or '}'": ("a ',' or '}' is missing before this", _CLOSE),
    "did not find expected ',' or ']'": ("a ',' or ']' is missing before this", _CLOSE),
    "did not find expected node content": ("a value is missing before this", _QUOTES),
    "did not find expected <document start>": (
        "this stands after the end of the data",
        "A file holds one mapping; check brackets, and the indentation of the first lines.",
    ),
    "found a tab character that violates indentation": NO_TABS,
    "found a tab character where an indentation space is expected": NO_TABS,
    "found unknown escape character": ("there is no such escape with a backslash", _BACKSLASH),
    "did not find expected hexdecimal number": (
        "this escape with a backslash needs more hexadecimal digits",
        _BACKSLASH,
    ),
    "found invalid Unicode character escape code": (
        "this escape with a backslash is no character",
        "Write the character itself.",
    ),
    "did not find expected alphabetic or numeric character": (
        "no text can begin with '&' or '*'",
        "Put it in quotes.",
    ),
    "did not find expected comment or line break": (
        "after '|' or '>' the text begins on the next line",
        "Text that begins with '|' or '>' goes in quotes.",
    ),
    "found an indentation indicator equal to 0": ("after '|' or '>' stands a number from 1 to 9", ""),
}
_GLUED: Final = pattern(r"[ \t]*(?:- +)*([^\s:'\"{}\[\],#&*!|>%@`][^\s:]*:[^\s:/]\S*)([^:\r\n]*)")
_NEXT_TO_COME: Final = {
    "did not find expected key": "mapping",
    "did not find expected '-' indicator": "list",
    "did not find expected <document start>": "",
}
"""Complaints about what follows a finished value, and what the value stands in."""


def explain(error: yaml.YAMLError, text: str) -> Fault:
    """What an error of libyaml means to the one who wrote `text`."""
    problem, start = _part(error, "problem", text)
    context, opened = _part(error, "context", text)
    if problem == "exceeded maximum nesting depth":
        return _at("this is nested far too deep", start, number="117")
    if "directive" in problem + context or problem == "found incompatible YAML document":
        return _at("a directive stands here", _line_start(text, start), NO_DIRECTIVE, number="116")
    if "tag" in context or "tag" in problem:
        hint = "Text that begins with '!' goes in quotes."
        return _at("tags, which begin with '!', are not allowed", opened, hint, number="114")
    if problem == "did not find expected <document start>":
        if re.search(r"^%", text, re.MULTILINE):
            return _at("a directive stands here", _line_start(text, start), NO_DIRECTIVE, number="116")
        if re.search(r"^\.\.\.", text[:start], re.MULTILINE):
            return _at("a second document begins here", start, "Keep one file for each.", number="116")
    return _in_the_data(problem, start, context, opened, text)


def _in_the_data(problem: str, start: int, context: str, opened: int, text: str) -> Fault:
    message, hint = _WORDS.get(problem, (f"this cannot be read as YAML: {problem}", ""))
    if problem == "found character that cannot start any token":
        if text[start] == "\t":
            return _at(NO_TABS[0], start, NO_TABS[1])
        return _at(f"no value can begin with '{text[start]}'", start, "Put the text in quotes.")
    if "quoted scalar" in context and problem in (
        "found unexpected end of stream",
        "found unexpected document indicator",
    ):
        hint = _CUT_OFF if _is_cut_off(text) else _CLOSE_QUOTE
        return _at("the quotation mark that opens here is never closed", opened, hint)
    if opening := _runs_over_lines(text, start):
        mark = text[opening]
        message = f"the quotation mark that opens here is closed only lines below, by a {mark} that opens the next text"
        return _at(message, opening, _CLOSE_QUOTE, ("what follows cannot be read", start))
    if context in ("while parsing a flow mapping", "while parsing a flow sequence"):
        if not text[start:].strip():
            return _at(f"the '{text[opened]}' that opens here is never closed", opened, _CUT_OFF)
        return _at(message, start, hint, (f"the '{text[opened]}' opens here", opened))
    if "flow node" in context and not text[start:].strip():
        return _at(message, start, _CUT_OFF)
    if "quoted scalar" in context:  # a wrong escape; libyaml points behind its first letters
        start = max(opened, text.rfind("\\", opened, start + 1))
        return _at(message, start, hint)
    if problem == "could not find expected ':'":
        start = opened
    this_line = _line_start(text, start)
    line_above = _line_start(text, len(text[:this_line].rstrip("\r\n")))
    for line in (this_line, line_above):
        glued = _GLUED.match(text, line)
        if glued is not None and not text.startswith(":", glued.end()):
            message = f"'{shortened(glued[1])}' needs a blank after the colon"
            return _at(message, glued.start(1) + glued[1].index(":"))
    if problem in _NEXT_TO_COME:
        before = text[this_line:start].rstrip(" \t")
        if before.endswith(("'", '"')):
            hint = "Quote all of it, or nothing."
            return _at("the quotation marks end before the text does", start, hint)
        if before.endswith(("]", "}")):
            hint = "Text that begins with a bracket goes in quotes."
            return _at("the brackets end before the text does", start, hint)
        what = _NEXT_TO_COME[problem]
        return _at(message, start, hint, *([(f"the {what} begins here", opened)] if what else []))
    return _at(message, start, hint)


def _at(message: str, start: int, hint: str = "", *beside: tuple[str, int], number: str = "112") -> Fault:
    """A fault at one character; `beside` are other places that matter."""
    return Fault(message, start, start + 1, hint, number, tuple((what, at, at + 1) for what, at in beside))


def _is_cut_off(text: str) -> bool:
    """Whether text that stands in brackets as a whole, as JSON does, ends without the last of them."""
    whole = text.strip()
    closing = {"{": "}", "[": "]"}.get(whole[:1])
    return closing is not None and not whole.endswith(closing)


def _runs_over_lines(text: str, fault: int) -> int:
    """Where the last quotation mark before a fault opens, if its text runs over lines up to the fault; else 0.

    Text over several lines is sound YAML; a fault right behind it tells that its mark was meant to close lines above.
    """
    last: Any = None
    try:
        for token in yaml.scan(text, Loader=yaml.CSafeLoader):
            if token.end_mark.index > fault:
                break
            if isinstance(token, yaml.ScalarToken):
                last = token
    except yaml.YAMLError:
        pass
    if last is None or last.style not in ("'", '"') or last.start_mark.line == last.end_mark.line:
        return 0
    closed = last.end_mark.index
    begins_text = text[closed - 2] in " \t[{," and "\n" not in text[closed:fault]
    return int(last.start_mark.index) if begins_text else 0


def _part(error: yaml.YAMLError, what: str, text: str) -> tuple[str, int]:
    """One of the two halves of an error, "problem" and "context", with its offset."""
    mark: Any = getattr(error, f"{what}_mark", None)
    return getattr(error, what, None) or "", min(mark.index, len(text)) if mark is not None else 0


def _line_start(text: str, offset: int) -> int:
    return max(text.rfind("\n", 0, offset), text.rfind("\r", 0, offset)) + 1
