"""Shows a problem to a person, with the line it is in and a marker under the very characters.

The marker is placed by the width of what is shown, so that tabs, wide letters and escaped control
characters before it do not shift it.
"""

from __future__ import annotations

import unicodedata

from checker.reading.plain_text import printable
from checker.reading.problems import Problem, Span

WIDEST = 100
"""Columns of an excerpt."""

_CUT = "..."


def render(problem: Problem) -> str:
    """The problem as several lines of plain text: where and what, excerpt, cure, related places."""
    kind = "warning: " if problem.warning else ""
    place = f"{printable(str(problem.span))}: " if problem.span is not None else ""
    lines = [f"{place}{problem.code} {kind}{printable(problem.message)}"]
    if problem.span is not None and problem.span.source_line:
        lines += _excerpt(problem.span)
    clause = f"clause {printable(problem.clause)}. " if problem.clause else ""
    advice = (clause + printable(problem.hint)).rstrip()
    if advice:
        lines.append(f"   {advice}")
    lines += [f"   {printable(what)}: {printable(str(span))}" for what, span in problem.related]
    return "\n".join(lines)


def one_line(problem: Problem) -> str:
    """The problem as editors and build tools read it: `file:line:column: error: message [code]`."""
    kind = "warning" if problem.warning else "error"
    place = f"{printable(str(problem.span))}: " if problem.span is not None else ""
    return f"{place}{kind}: {printable(problem.message)} [{problem.code}]"


def as_data(problem: Problem) -> dict[str, object]:
    """The problem for JSON; places count from 1, ends are exclusive, what is absent is null or ""."""
    return {
        "code": problem.code,
        "severity": "warning" if problem.warning else "error",
        "message": problem.message,
        **_place_as_data(problem.span),
        "hint": problem.hint,
        "clause": problem.clause,
        "related": [{"what": what, **_place_as_data(span)} for what, span in problem.related],
    }


def _place_as_data(span: Span | None) -> dict[str, object]:
    return {name: getattr(span, name, None) for name in ("file", "line", "column", "end_line", "end_column")}


def _excerpt(span: Span) -> list[str]:
    """The line of `span`, cut to fit, and the marker below it."""
    number = f"{span.line:>5} | "
    room = WIDEST - len(number)
    first = min(span.column - 1, len(span.source_line))
    marked = span.end_column - 1 if span.end_line == span.line else len(span.source_line.rstrip())
    # Nothing further away than the room can be shown: a line may be megabytes long.
    before = [printable(character) for character in span.source_line[max(0, first - room) : first]]
    after = [printable(character) for character in span.source_line[first : first + room + 1]]
    widths_after = [_width(shown) for shown in after]
    width_before, width_after = sum(map(_width, before)), sum(widths_after)
    allowed_before = max(room // 2, room - width_after)
    left = ""
    if width_before > allowed_before or first > room:
        left, width = _CUT, len(_CUT)
        while before and width + sum(map(_width, before)) > allowed_before:
            before.pop(0)
    indent = len(left) + sum(map(_width, before))
    right = ""
    if indent + width_after > room:
        right = _CUT
        while after and indent + sum(map(_width, after)) + len(right) > room:
            after.pop()
    shown = left + "".join(before) + "".join(after) + right
    marker = max(1, sum(map(_width, after[: max(0, marked - first)])))
    return [f"{number}{shown}".rstrip(), f"{'| ':>{len(number)}}{' ' * indent}{'^' * marker}"]


def _width(shown: str) -> int:
    """Columns that a terminal gives to `shown`."""
    if shown.isascii():
        return len(shown)
    return sum(
        0 if unicodedata.combining(character) else 2 if unicodedata.east_asian_width(character) in "WF" else 1
        for character in shown
    )
