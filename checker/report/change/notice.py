"""A notice to members: a bulletin with its day and reason, old and new wording, whom it touches and what to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.pack.model import Pack
from checker.report.amounts import Data
from checker.report.change.affected_text import tasks
from checker.report.page import BOLD, DIM, Page
from checker.report.rulebook.markdown import escaped, with_names
from checker.report.wording import listed
from checker.studies.change.comparison import ADDED
from checker.studies.change.notice import BulletinNotice

_DECIDES = "The organising body's rules and its officials decide; this notice is made from the rule pack."


def notice_text(found: BulletinNotice, cars: Sequence[Data] | None, page: Page) -> None:
    """As text; `cars` are documents of `car_data`, None where no cars were looked at."""
    page.put(_title(found), style=BOLD)
    page.put(_days(found))
    page.blank()
    page.put(found.bulletin.reason)
    for heading, lines in _clauses(found):
        page.heading(heading, capitals=False)
        for label, words in lines:
            page.labelled(label, words, 9, 2)
    if found.settles:
        page.heading("Questions settled", capitals=False)
        for line in _settled(found):
            page.put(line, 2, 4)
    if cars is not None:
        page.heading("Who has to act", capitals=False)
        for line in _who(cars):
            page.put(line, 2, 4)
    page.blank()
    page.put(_DECIDES, style=DIM)


def notice_markdown(found: BulletinNotice, cars: Sequence[Data] | None) -> str:
    """As Markdown, to publish."""
    lines = [f"# {escaped(_title(found))}", "", escaped(_days(found)), "", escaped(found.bulletin.reason), ""]
    for heading, told in _clauses(found):
        lines += [f"## {escaped(heading)}", ""]
        lines += [f"- **{label}**: {with_names(words)}" for label, words in told]
        lines.append("")
    if found.settles:
        lines += ["## Questions settled", "", *(f"- {escaped(line)}" for line in _settled(found)), ""]
    if cars is not None:
        lines += ["## Who has to act", "", *(f"- {with_names(line)}" for line in _who(cars)), ""]
    return "\n".join([*lines, escaped(_DECIDES), ""])


def _title(found: BulletinNotice) -> str:
    rules = found.after.title or found.after.name
    return f"Notice to members: bulletin {found.bulletin.name} to {rules}, edition {found.after.edition}"


def _days(found: BulletinNotice) -> str:
    last = found.bulletin.last_day
    until = f" to {last.isoformat()}" if last is not None else ""
    return f"In force from {found.bulletin.first_day.isoformat()}{until}."


def _clauses(found: BulletinNotice) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """Each thing that changes: its heading, and its lines with their labels."""
    for change in found.changes:
        lines = [("before", _text(found.before, change.clause)), ("now", _text(found.after, change.clause))]
        if lines[0][1] == lines[1][1]:
            lines = [("before", change.old), ("now", change.new)]
        if lines[0][1] == lines[1][1]:
            lines = [("rule", change.new)]
        by = f" by {change.by}" if change.by else ""
        told = change.words or filter(None, (change.new,) if change.change == ADDED else ())
        lines.append(("what", ": ".join(filter(None, (f"{change.change}{by}", "; ".join(told))))))
        lines += [("but", one) for one in found.contradicting.get(change.clause, ())]
        yield f"{change.clause} {change.title}".strip(), [(label, words) for label, words in lines if words]


def _settled(found: BulletinNotice) -> Iterator[str]:
    """Questions that the bulletin settles, with the answers that no longer speak."""
    for one in found.settles:
        answered = one.decided is not None
        answer = f" Until then, by {one.by}: {one.answer}" if answered else " It was not answered before."
        yield f"{one.number}, of clause {listed(one.clauses)}: {one.question}{answer}"


def _text(pack: Pack, number: str) -> str:
    return pack.clauses[number].text if number in pack.clauses else ""


def _who(cars: Sequence[Data]) -> Iterator[str]:
    touched = 0
    for car in cars:
        told = list(tasks(car))
        touched += bool(told)
        for when, effect, task in told:
            name = " ".join(filter(None, (car["car"]["number"], car["car"]["name"])))
            yield f"car {name}, {when}: clause {effect['clause']}: {task['act'] or task['text']}"
    yield f"{touched} of {len(cars)} cars looked at have to act."
