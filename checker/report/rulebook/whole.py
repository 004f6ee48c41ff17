"""The rulebook as Markdown, made from the pack: what is printed and what is judged have one source.

A block is a paragraph, a list or a table under a clause. Blocks that the edition before does not have, or has
otherwise, carry a bar in the margin: Markdown's sign for a quotation, `>`, which is seen as a bar when it is
printed and as a sign where it is read as plain text.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.pack.model import AS_DISPLAYED, BENEFIT, Pack
from checker.report.rulebook.back import back_matter
from checker.report.rulebook.clauses import clauses
from checker.report.rulebook.markdown import anchor, escaped, with_links_to_headings
from checker.report.wording import CAUTION

_OFFICIAL = {
    AS_DISPLAYED: "An official goes by what is displayed.",
    BENEFIT: "An official fails a car only where it is over by more than measuring error.",
}


def rulebook(pack: Pack, before: Pack | None = None) -> str:
    """The book of a pack.

    Args:
        pack: As in force on a day.
        before: The edition before, whose differences are marked; None: nothing is marked.
    """
    lines = [*_head(pack, before), *_contents(pack), *clauses(pack, before), *back_matter(pack, before)]
    lines += ["## Caution", "", escaped(CAUTION), ""]
    return "\n".join(with_links_to_headings(lines)).rstrip("\n") + "\n"


def _head(pack: Pack, before: Pack | None) -> Iterator[str]:
    vocabulary = pack.vocabulary
    until = "further notice" if pack.last_day is None else pack.last_day.isoformat()
    yield from (f"# {escaped(pack.title or pack.name)}", "")
    yield from (
        f"Edition {escaped(pack.edition)}, in force from {pack.first_day.isoformat()} to {until}.",
        "",
    )
    if pack.because:
        yield from (f"As in force: {escaped(pack.because)}.", "")
    if before is not None:
        told = f"A bar in the margin (`>` in plain text) marks what is not as in edition {escaped(before.edition)}."
        yield from (told, "")
    if vocabulary.course:
        yield from (
            f"Cars go round {vocabulary.course}, so the inside of a car is its {vocabulary.inside}.",
            "",
        )
    confidence = f"{float(100 * pack.decision.confidence):g} %"
    official = _OFFICIAL.get(pack.decision.official, "An official passes a car only where that is proven.")
    yield from (f"{official} Confidence: {confidence}.", "")


def _contents(pack: Pack) -> Iterator[str]:
    yield from ("## Contents", "")
    for clause in pack.clauses.values():
        yield f"- [{escaped(clause.number)} {escaped(clause.title)}](#{anchor('clause', clause.number)})"
    for title in ("Conditions", "Tables", "What is declared", "Index of quantities"):
        yield f"- [{title}](#{anchor(title)})"
    yield ""
