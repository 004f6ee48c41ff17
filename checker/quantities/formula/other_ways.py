"""Formulas as spreadsheets, other languages and sentences write them, and how here. For messages only."""

from __future__ import annotations

import re

from checker.quantities.formula.problem import FormulaProblem
from checker.quantities.misread import with_comma
from checker.quantities.other_amounts import other_way, unit_meant
from checker.quantities.other_ways import OtherWay, Rule, first_of, masked, unmasked
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import replace

FUNCTIONS_IN_WORDS = "abs|cbrt|cos|hypot|lg|max|mean|median|min|sin|sqrt|sum|tan"
"""Functions that people write without brackets."""
_REPLACED = (103, 104, 105, 106, 107, 201, 301, 302)
"""Numbers of problems that another notation may lie behind."""
_OPEN, _CLOSE = "([", ")]"
_LEVEL_END = re.compile(r"[<>=!]=?|\b(?:and|or|if|else|for)\b")


def cured(text: str, problem: FormulaProblem, currency: str | None) -> FormulaProblem:
    """The problem, with what to write where another notation lies behind it, and that as its place."""
    if problem.as_meant or problem.number not in _REPLACED:
        return problem
    plain = masked(text)
    found = (
        _whole(plain)
        or first_of(_RULES, text, problem.start, problem.end, currency)
        or other_way(text, problem.start, problem.end, currency)
        or _without_brackets(plain, problem)
        or _loose_comma(plain, problem)
    )
    if found is None:
        return problem
    found = replace(found, hint=unmasked(found.hint))
    if found.end - found.start < problem.end - problem.start and problem.number in (301, 302):
        return replace(problem, start=found.start, end=found.end, hint=found.hint)
    message = problem.message
    if (found.start, found.end) != (problem.start, problem.end):
        message = f"'{' '.join(text[found.start : found.end].split())}' cannot be read"
    return replace(problem, message=message, start=found.start, end=found.end, hint=found.hint)


def _whole(text: str) -> OtherWay | None:
    """A choice in another order of its parts, and a spreadsheet's functions of truths."""
    for shape in _CHOICES:
        if found := shape.fullmatch(text):
            condition, yes, no = (found[part].strip() for part in ("c", "y", "n"))
            return OtherWay(0, len(text), f"write {yes} if {condition} else {no}")
    if called := _SPREADSHEET.search(text):
        stop, end = _closed(text, called.end() - 1)
        parts = [part.strip() for part in _parted(text[called.end() : stop])]
        name = called[1].casefold()
        if name == "if" and len(parts) == 3:
            return OtherWay(called.start(), end, f"write {parts[1]} if {parts[0]} else {parts[2]}")
        if name in ("and", "or") and len(parts) > 1:
            return OtherWay(called.start(), end, f"write {f' {name} '.join(parts)}")
    return None


_CHOICES = (
    re.compile(r"\s*(?i:if)\b(?P<c>.+)\b(?i:then)\b(?P<y>.+)\b(?i:else)\b(?P<n>.+)", re.DOTALL),
    re.compile(r"(?P<c>[^?]+)\?(?P<y>[^:?]+):(?P<n>[^:?]+)", re.DOTALL),
)
_SPREADSHEET = re.compile(r"(?:^|(?<=[(\[,;+*/<>=-]))\s*\b(IF|If|if|AND|And|OR|Or)\s*\(")


def _closed(text: str, at: int) -> tuple[int, int]:
    """Where what a bracket holds ends, and where the bracket does; both the end of the text where none closes it."""
    depth = 0
    for place in range(at, len(text)):
        depth += (text[place] in _OPEN) - (text[place] in _CLOSE)
        if depth == 0:
            return place, place + 1
    return len(text), len(text)


def _parted(text: str) -> list[str]:
    """The text between commas, or semicolons, that no bracket holds."""
    parts, depth = [""], 0
    for sign in text:
        depth += (sign in _OPEN) - (sign in _CLOSE)
        if sign in ",;" and depth == 0:
            parts.append("")
        else:
            parts[-1] += sign
    return parts


def _without_brackets(text: str, problem: FormulaProblem) -> OtherWay | None:
    """`max 1, 2`: a function whose values stand in no brackets, or in square ones."""
    for found in _CALL.finditer(text):
        begin = found.end()
        if found[2] == "[":
            stop, end = _closed(text, begin - 1)
            inside = text[begin:stop]
        else:
            begin -= len(found[3])
            unopened = (at for at in range(begin, len(text)) if _depth(text[begin : at + 1]) < 0)
            closed = next(unopened, len(text))
            ends = _LEVEL_END.search(text, begin, closed)
            end = ends.start() if ends else closed
            inside = text[begin:end]
        if found.start() <= problem.start <= end and inside.strip():
            end -= len(text[:end]) - len(text[:end].rstrip())
            return OtherWay(found.start(), end, f"write {found[1]}({inside.strip()})")
    return None


_CALL = re.compile(rf"\b({FUNCTIONS_IN_WORDS})(?:[ ]*(\[)|[ ]+([\w'.-]))")


def _depth(text: str) -> int:
    """How many more brackets it opens than it closes."""
    return sum((sign in _OPEN) - (sign in _CLOSE) for sign in text)


def _loose_comma(text: str, problem: FormulaProblem) -> OtherWay | None:
    """A comma or semicolon that joins two statements."""
    depth = 0
    if with_comma(text):
        return None
    for at, sign in enumerate(text):
        depth += (sign in _OPEN) - (sign in _CLOSE)
        if sign in ",;" and depth == 0 and problem.start <= at < max(problem.end, problem.start + 1):
            hint = "write and, or `or`, between two statements; what a function takes stands in brackets"
            return OtherWay(at, at + 1, hint)
    return None


def _choice(found: re.Match[str], currency: str | None) -> str | None:
    value = re.fullmatch(r"\s*-?[0-9][0-9./ ]*([A-Za-z%][\w/]*)?\s*", found[1])
    unit = f" {value[1]}" if value and value[1] and unit_meant(value[1], currency) else ""
    if value is None:
        return f"say what it is otherwise: {found[0].strip()} else .."
    return f"write {found[0].strip()} else 0{unit}: a choice has two sides"


_RULES: tuple[Rule, ...] = (
    (
        pattern(r"\b(?:AND|And|OR|Or|NOT|Not|IN|In|IF|If|ELSE|Else|FOR|For)\b"),
        lambda found, _: f"write {found[0].casefold()}",
    ),
    (pattern(r"\b(?:is|equals?|equal to)\b(?! not\b)"), "write =="),
    (pattern(r"\b(?:is not|unequal|differs from)\b"), "write !="),
    (pattern(r"\b(?:is )?(?:at least|not less than)\b"), "write >="),
    (pattern(r"\b(?:is )?(?:at most|not more than|up to)\b"), "write <="),
    (pattern(r"\b(?:is )?(?:more|greater|larger) than\b"), "write >"),
    (pattern(r"\b(?:is )?(?:less|smaller) than\b"), "write <"),
    (pattern(r"\bxor\b", re.IGNORECASE), "write !="),
    (
        pattern(r"(?<=[\w)\]%])(?<!\bfor)(?<!\bin)(?<!\bif)[ ]+[xX][ ]+(?!(?:for|in|if|and|or)\b)(?=[\w(])"),
        "write *",
    ),
    (pattern(r"([<>])[ ]*\1"), r"write \1"),
    (pattern(r":="), "write =="),
    (pattern(r"\u2248|~="), "write ==, or a limit with `nominal` and `plus_minus`"),
    (pattern(r"(?:^|(?<=[(<>=+*/,-]))[ ]*\|([^|]+)\|"), lambda found, _: f"write abs({found[1].strip()})"),
    (pattern(r"\u221a[ ]*(\w[\w.]*|\([^()]*\))"), lambda found, _: f"write sqrt({found[1].strip('()')})"),
    (pattern(r"\u03c0"), "write pi"),
    (
        pattern(r"(?<![\w.])([0-9]+)([\u00b2\u00b3])"),
        lambda found, _: f"write {found[1]} ** {'2' if found[2] == chr(0xB2) else '3'}",
    ),
    (
        pattern(
            r"(?<![\w.])([0-9]+(?:\.[0-9]+)?) in"
            r"(?=[ ]*(?:[\[({]|(?!(?:if|else|and|or|not|for)\b)[A-Za-z\U000f0022\U000f0027]))"
        ),
        r"write (\1) in: right after a number `in` is inches",
    ),
    (pattern(r"(?<=\bin)[ ]*[({]([^(){}]*,[^(){}]*)[)}]"), lambda found, _: f"write [{found[1].strip()}]"),
    (
        pattern(r"\{(?![^}]*\bfor\b)([^{}]*)\}"),
        lambda found, _: f"write [{found[1].strip()}] for a list, ( ) in sums",
    ),
    (pattern(r"\{[^{}]*\}"), "write it inside sum(..), any(..) and the like, in round brackets"),
    (pattern(r"^(?!.*\belse\b)([^()]+?)\bif\b.+$", re.DOTALL), _choice),
    (pattern(r"`([^`']*)`"), r"write '\1'"),
    (
        pattern(r"[\u2018\u2019\u201c\u201d]([^'\u2018\u2019\u201c\u201d]*)[\u2018\u2019\u201c\u201d]"),
        r"write '\1'",
    ),
)
