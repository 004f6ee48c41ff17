"""A rule pack in words, without a car: its clauses as they are checked, its facts, lists and tables."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import PurePath

from checker.car.described.vocabulary import FactType
from checker.pack.editions.finding import PackFolder
from checker.pack.model import ADVISORY, AS_DISPLAYED, BENEFIT, Clause, Earlier, Pack, TableText
from checker.report.facts import facts_in_order, form_words, how_words
from checker.report.interpretations import lines_of, open_questions
from checker.report.page import BOLD, DIM, Page
from checker.report.rulebook.clauses import BETWEEN
from checker.report.wording import listed

_OFFICIAL = {
    AS_DISPLAYED: "what is displayed counts",
    BENEFIT: "a car fails only by more than measuring error",
}


def packs_text(folders: Sequence[PackFolder], page: Page) -> None:
    """List the packs that were found."""
    page.heading(f"{len(folders)} rule pack{'' if len(folders) == 1 else 's'} found")
    for folder in folders:
        page.put(folder.name, 2, style=BOLD)
        page.put(folder.place, 4)
        for edition in folder.editions:
            if edition != folder.place:
                page.put(PurePath(edition).name, 6)
    page.blank()
    page.put("checker pack show PATH tells what is in one.", style=DIM)


def pack_text(pack: Pack, page: Page, clauses: Iterable[Clause] | None = None) -> None:
    """Print a pack as a book.

    Args:
        clauses: Only these, without the rest of the book; all of it where None.
    """
    _head(pack, page)
    page.heading("Clauses")
    for clause in pack.clauses.values() if clauses is None else clauses:
        _clause(clause, page)
    if clauses is not None:
        return
    if found := open_questions(pack):
        page.heading("Open questions")
        for one in found:
            asked = f"{one.number}, asked {one.asked.isoformat()}, of clause {listed(one.clauses)}"
            page.put(f"{asked}: {one.question}", 2, 4)
    _conditions(pack, page)
    page.heading("Facts")
    for fact in facts_in_order(pack):
        _fact(fact.name, fact, pack, page)
    for list_type in pack.vocabulary.lists.values():
        page.heading(f"List {list_type.name}, an entry for each", capitals=False)
        for field in list_type.fields.values():
            _fact(field.name, field, pack, page)
    if pack.derived:
        page.heading("Worked out")
        for derived in pack.derived.values():
            page.labelled(f"{derived.name} =", derived.expression.text, 4, 2, BOLD)
    for table in pack.tables.values():
        _table(table, page)
    _trees(pack, page)


def _head(pack: Pack, page: Page) -> None:
    vocabulary = pack.vocabulary
    until = "further notice" if pack.last_day is None else pack.last_day.isoformat()
    confidence = f"confidence {float(100 * pack.decision.confidence):g} %"
    official = _OFFICIAL.get(pack.decision.official, "a car passes only by more than measuring error")
    page.heading(pack.title or pack.name)
    for label, words in (
        ("pack", f"{pack.name}, edition {pack.edition}"),
        ("in force", f"{pack.first_day.isoformat()} to {until}"),
        ("bulletins", listed(pack.bulletins) if pack.bulletins else "none"),
        ("course", f"{vocabulary.course}: inside is {vocabulary.inside}"),
        ("tyre sets", ", ".join(vocabulary.tyre_sets) or "as the declaration describes"),
        ("money", vocabulary.currency or "none"),
        ("officials", f"{official}; {confidence}"),
        ("file", pack.document.name),
        ("sha256", pack.sha256),
    ):
        page.labelled(label, words, 13, 2)


def _clause(clause: Clause, page: Page) -> None:
    column = max(4 + len(clause.number), 7)
    page.blank()
    advisory = " (advice only)" if clause.severity == ADVISORY else ""
    page.labelled(clause.number, f"{clause.title}{advisory}", column, 2, BOLD)
    if clause.text:
        page.put(clause.text, column)
    page.labelled("check", clause.check.sentence(), column + 7, column)
    for earlier in clause.earlier:
        page.labelled("earlier-built cars:", _earlier_words(earlier), column + 7, column)
    days = [
        f"{word} {day.isoformat()}"
        for word, day in (("from", clause.since), ("until", clause.until))
        if day is not None
    ]
    penalty = (
        clause.penalty
        if isinstance(clause.penalty, str)
        else f"{clause.penalty.amount.text} {clause.penalty.unit}"
    )
    for label, words in (
        ("days", " ".join(days)),
        ("instead", f"of {listed(clause.instead_of)}" if clause.instead_of else ""),
        ("note", clause.interpretation),
        *lines_of(clause),
        ("do", clause.act),
        ("then", clause.consequence),
        ("then", penalty),
    ):
        if words:
            page.labelled(label, words, column + 7, column)


def _earlier_words(earlier: Earlier) -> str:
    until = f", until {earlier.until.isoformat()}" if earlier.until is not None else ""
    what = "does not bind them" if earlier.check is None else earlier.check.sentence()
    return f"{earlier.by.text} before {earlier.before.isoformat()}{until}: {what}"


def _conditions(pack: Pack, page: Page) -> None:
    page.heading("Conditions")
    for condition in pack.vocabulary.conditions.values():
        page.labelled(f"{condition.name}:", condition.words or "as the car was weighed", 4, 2, BOLD)


def _fact(name: str, fact: FactType, pack: Pack, page: Page) -> None:
    if fact.formula is not None:
        page.labelled(f"{name}:", f"worked out: {fact.formula.text}", 4, 2, BOLD)
        return
    told = "; ".join(filter(None, (form_words(fact, pack.vocabulary), how_words(fact))))
    page.labelled(f"{name}:", f"{fact.about or 'no more is said of it'} ({told})", 4, 2, BOLD)


def _table(table: TableText, page: Page) -> None:
    heads = (*table.keys, *table.columns)
    page.heading(f"Table {table.name} by {listed(table.keys)}", capitals=False)
    if table.interpolated:
        page.put(f"{BETWEEN}.", 2)
    rows = [heads, *(tuple(str(row.get(head, "")) for head in heads) for row in table.rows)]
    if not page.table(rows, indent=2):
        for row in rows[1:]:
            page.put("; ".join(f"{head} {cell}" for head, cell in zip(heads, row, strict=True)), 2, 4)


def _trees(pack: Pack, page: Page) -> None:
    vocabulary = pack.vocabulary
    for title, tree in (("Categories", vocabulary.categories), ("Materials", vocabulary.materials)):
        page.heading(title)
        for word in tree.words:
            families = tree.families(word)
            page.put(f"{word} (in {listed(families)})" if families and title == "Materials" else word, 2, 4)
