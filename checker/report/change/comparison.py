"""What a change of the rules is, as one document; text and Markdown are rendered from it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.pack.model import Pack
from checker.report.amounts import Data, begun
from checker.report.one_car.identity import pack_data
from checker.report.page import BOLD, DIM, GREEN, RED, YELLOW, Page
from checker.report.rulebook.markdown import escaped, with_names
from checker.report.wording import rules_words
from checker.studies.change.comparison import CHANGES, RuleChange
from checker.studies.change.turning_days import TurningDay

_COLUMN = 9
_COLOURS = {"tightened": RED, "relaxed": GREEN, "changed": YELLOW}
_WORDS = {
    "added": "new",
    "withdrawn": "withdrawn",
    "renumbered": "renumbered",
    "reworded": "reworded only",
    "tightened": "tightened",
    "relaxed": "relaxed",
    "changed": "changed",
}


def comparison_document(
    old: Pack, new: Pack, changes: Sequence[RuleChange], between: Sequence[TurningDay] = ()
) -> Data:
    """The document of a comparison, ready for JSON.

    Args:
        between: What changes by itself between the days of the two.
    """
    return {
        **begun("comparison"),
        "old": pack_data(old),
        "new": pack_data(new),
        "changes": [
            {
                "clause": change.clause,
                "title": change.title,
                "change": change.change,
                "old": change.old or None,
                "new": change.new or None,
                "by": change.by or None,
                "words": "; ".join(change.words),
            }
            for change in changes
        ],
        "by_themselves": [
            {"day": one.day.isoformat(), "clause": one.clause, "text": one.words} for one in between
        ],
        "counts": {kind: sum(change.change == kind for change in changes) for kind in CHANGES},
    }


def comparison_text(document: Data, page: Page) -> None:
    """Print a comparison on a page, clause by clause."""
    page.heading("What changed")
    for label, side in (("before", "old"), ("after", "new")):
        page.labelled(label, rules_words({"pack": document[side]}), _COLUMN, 2)
        if document[side]["because"]:
            page.put(document[side]["because"], _COLUMN)
    for change in document["changes"]:
        page.blank()
        page.put(_headline(change), 0, 2, _COLOURS.get(change["change"], BOLD))
        for line in _told(change):
            page.put(line, 2, 4)
    if document["by_themselves"]:
        page.heading("Changes by itself between the two days")
        for one in document["by_themselves"]:
            page.labelled(one["day"], f"clause {one['clause']}: {one['text']}", 14, 2)
    page.heading("Result")
    page.put(_summary(document), 2)
    page.blank()
    page.put(
        "Words and numbers are those of the packs. Who is affected is told by `checker pack affected`.",
        style=DIM,
    )


def comparison_markdown(document: Data) -> str:
    """A comparison as Markdown, to publish or to put before a meeting."""
    before, after = (escaped(rules_words({"pack": document[side]})) for side in ("old", "new"))
    lines = [f"# Changes to {after}", "", f"Compared with {before}.", ""]
    for label, side in (("Before", "old"), ("After", "new")):
        if document[side]["because"]:
            lines += [f"{label}: {escaped(document[side]['because'])}.", ""]
    for change in document["changes"]:
        lines.append(f"- **{escaped(_headline(change))}**")
        lines += [f"  - {with_names(line)}" for line in _told(change)]
    lines += [
        f"- **{one['day']}**, clause {escaped(one['clause'])}: {with_names(one['text'])}"
        for one in document["by_themselves"]
    ]
    if document["changes"] or document["by_themselves"]:
        lines.append("")
    return "\n".join([*lines, escaped(_summary(document)), ""])


def _headline(change: Data) -> str:
    by = f" by {change['by']}" if change["by"] else ""
    name = f"{change['clause']} {change['title']}".strip()
    return f"{name}: {_WORDS[change['change']]}{by}"


def _told(change: Data) -> Iterator[str]:
    """What to say below the headline."""
    kind = change["change"]
    if kind == "added":
        yield from [change["new"]] if change["new"] else []
    elif kind == "withdrawn":
        yield from [f"was: {change['old']}"] if change["old"] else []
    elif kind == "reworded":
        yield f"before: {change['old'] or 'no words'}"
        yield f"now: {change['new'] or 'no words'}"
    else:
        yield from change["words"].split("; ") if change["words"] else []


def _summary(document: Data) -> str:
    counts = document["counts"]
    told = [f"{counts[kind]} {_WORDS[kind]}" for kind in CHANGES if counts[kind]]
    by_themselves = len(document["by_themselves"])
    if by_themselves:
        told.append(
            f"{by_themselves} by {'itself' if by_themselves == 1 else 'themselves'}, as the days go by"
        )
    return f"{', '.join(told)}." if told else "Nothing that bears on a car or a reader is different."
