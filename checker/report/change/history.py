"""The history of a clause, and the days on which rules change by themselves, as text and Markdown."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from checker.report.page import BOLD, Page
from checker.report.rulebook.markdown import escaped, table, with_names
from checker.studies.change.history import Version
from checker.studies.change.turning_days import TurningDay


def history_text(versions: Sequence[Version], page: Page) -> None:
    """Every version of a clause, the newest first."""
    newest = versions[0]
    page.heading(f"Clause {newest.number} {newest.pack.clauses[newest.number].title}", capitals=False)
    for version in versions:
        page.blank()
        page.put(_since(version), 0, 2, BOLD)
        for line in _told(version):
            page.put(line, 2, 4)


def history_markdown(versions: Sequence[Version]) -> str:
    """The same, to publish."""
    newest = versions[0]
    title = f"Clause {newest.number} {newest.pack.clauses[newest.number].title}"
    lines = [f"# {escaped(title)}", ""]
    for version in versions:
        lines += [
            f"## {escaped(_since(version))}",
            "",
            *(f"- {with_names(line)}" for line in _told(version)),
            "",
        ]
    return "\n".join(lines)


def _since(version: Version) -> str:
    bulletins = f" with {', '.join(version.pack.bulletins)}" if version.pack.bulletins else ""
    number = f", clause {version.number}" if version.number else ", not in it"
    return f"From {version.first_day.isoformat()}: edition {version.pack.edition}{bulletins}{number}"


def _told(version: Version) -> list[str]:
    told = [
        f"{change.change}{f' by {change.by}' if change.by else ''}: {'; '.join(change.words)}".rstrip(": ")
        for change in version.changes
    ]
    told += [f"why, {reason}" for reason in version.reasons]
    if version.text:
        told.append(f"text: {version.text}")
    if version.rule:
        told.append(f"check: {version.rule}")
    for one in version.interpretations:
        told.append(f"question {one.number}, asked {one.asked.isoformat()}: {one.question}")
        if one.decided is None:
            told.append(f"{one.number} is not answered")
        else:
            told.append(f"answer {one.number}, {one.by}, {one.decided.isoformat()}: {one.answer}")
        if one.ends is not None:
            told.append(f"{one.number} was settled by bulletin {one.settled_by} on {one.ends.isoformat()}")
    return told


def turning_days_text(days: Sequence[TurningDay], title: str, page: Page, cut: date | None = None) -> None:
    """The days on which rules change by themselves.

    Args:
        cut: The last day up to which dates in formulas and tables were looked for, where more days were asked for.
    """
    page.heading(title, capitals=False)
    for one in days:
        clause = f"clause {one.clause}: " if one.clause else ""
        page.labelled(one.day.isoformat(), f"{clause}{one.words}", 14, 2)
    if not days:
        page.put("Nothing changes by itself.", 2)
    if cut is not None:
        page.put(horizon_words(cut), 2)


def horizon_words(cut: date) -> str:
    """How far ahead was looked, for whoever takes a calendar for the whole."""
    return f"Dates in formulas and tables were looked for until {cut.isoformat()}, ten years ahead, and no further."


def turning_days_markdown(days: Sequence[TurningDay], title: str, cut: date | None = None) -> str:
    """The same, to publish."""
    rows = [(one.day.isoformat(), escaped(one.clause), with_names(one.words)) for one in days]
    told = table(("Day", "Clause", "What changes"), rows) if rows else ["Nothing changes by itself."]
    ends = [] if cut is None else ["", horizon_words(cut)]
    return "\n".join([f"# {escaped(title)}", "", *told, *ends, ""])
