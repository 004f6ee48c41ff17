"""What stands behind the clauses of the printed rulebook: bulletins, changes, conditions, tables, facts, the index."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from checker.car.described.vocabulary import Condition, FactType
from checker.kinds.contract.check import Check, walk
from checker.kinds.frame.framed import Framed
from checker.pack.model import Pack
from checker.quantities.display import decimal_text
from checker.report.facts import facts_in_order, form_words, how_words
from checker.report.interpretations import open_questions
from checker.report.rulebook.clauses import barred, table_lines, to_clause
from checker.report.rulebook.markdown import code, escaped, place, table, with_names
from checker.studies.change.comparison import RuleChange, compare

_CHANGE_WORDS = {
    "added": "new",
    "withdrawn": "withdrawn",
    "renumbered": "renumbered",
    "reworded": "worded anew",
    "tightened": "tighter",
    "relaxed": "looser",
    "changed": "changed",
}


def back_matter(pack: Pack, before: Pack | None) -> Iterator[str]:
    """Everything behind the clauses.

    Args:
        before: The edition before, whose differences are marked and listed; None: neither.
    """
    yield from _bulletins(pack)
    yield from _open_questions(pack)
    yield from _changes(pack, before)
    yield from _conditions(pack)
    yield from _tables(pack, before)
    yield from _facts(pack, before)
    yield from _worked_out(pack)
    yield from _gear(pack)
    yield from _words(pack)
    yield from _index(pack)


def _bulletins(pack: Pack) -> Iterator[str]:
    if not pack.bulletins:
        return
    yield from ("## Bulletins carried out", "")
    rows: list[Sequence[str]] = []
    for name in pack.bulletins:
        mine = [o for o in pack.origins if o.bulletin == name]
        where = dict.fromkeys(_part(o.path) for o in mine)
        first = mine[0].first_day.isoformat() if mine else ""
        last = mine[0].last_day.isoformat() if mine and mine[0].last_day else "further notice"
        rows.append((escaped(name), first, last, ", ".join(where), escaped(mine[0].reason if mine else "")))
    yield from (*table(("bulletin", "from", "until", "changes", "reason"), rows), "")


def _open_questions(pack: Pack) -> Iterator[str]:
    found = open_questions(pack)
    if not found:
        return
    yield from ("## Open questions", "")
    for one in found:
        where = ", ".join(map(to_clause, one.clauses))
        yield f"- {escaped(one.number)}, asked {one.asked.isoformat()}, of {where}: {escaped(one.question)}"
    yield ""


def _part(path: Sequence[str | int]) -> str:
    if path[0] == "clauses" and len(path) > 1:
        return to_clause(str(path[1]))
    return code(".".join(str(part) for part in path[:2]))


def _changes(pack: Pack, before: Pack | None) -> Iterator[str]:
    if before is None:
        return
    yield from (f"## Changes against edition {escaped(before.edition)}", "")
    found = compare(before, pack)
    for change in found:
        yield f"- {_change_words(change, pack)}"
    if not found:
        yield "None."
    yield ""


def _change_words(change: RuleChange, pack: Pack) -> str:
    number = to_clause(change.clause) if change.clause in pack.clauses else code(change.clause)
    title = f" {escaped(change.title)}" if change.title else ""
    told = "; ".join(map(with_names, change.words))
    return f"{number}{title}: {_CHANGE_WORDS.get(change.change, change.change)}" + (
        f": {told}" if told else ""
    )


def _conditions(pack: Pack) -> Iterator[str]:
    named = {
        c.name for clause in pack.clauses.values() for check in clause.checks for c in _conditions_in(check)
    }
    yield from (place("conditions"), "## Conditions", "")
    for condition in pack.vocabulary.conditions.values():
        if condition.name in named:
            yield f"- **{escaped(condition.name)}**: {escaped(condition.words or 'as the car was weighed')}"
    yield ""


def _conditions_in(check: Check) -> Iterator[Condition]:
    for part in walk(check):
        if isinstance(part, Framed):
            yield from part.conditions


def _tables(pack: Pack, before: Pack | None) -> Iterator[str]:
    yield from (place("tables"), "## Tables", "")
    for name, its_table in pack.tables.items():
        lines = [
            f"**{escaped(name)}**, by {escaped(', '.join(its_table.keys))}:",
            "",
            *table_lines(its_table),
        ]
        then = before.tables.get(name) if before is not None else None
        marked = before is not None and (then is None or table_lines(then) != table_lines(its_table))
        yield from (*(barred(lines) if marked else lines), "")
    if not pack.tables:
        yield from ("None.", "")


def _facts(pack: Pack, before: Pack | None) -> Iterator[str]:
    yield from (place("what-is-declared"), "## What is declared", "")
    facts = {fact.name: fact for fact in facts_in_order(pack)}
    yield from _fact_table(facts, pack, before.vocabulary.facts if before is not None else None)
    for name, its_list in pack.vocabulary.lists.items():
        yield from (f"**{escaped(name)}**, an entry for each:", "")
        then = before.vocabulary.lists.get(name) if before is not None else None
        fields = then.fields if then is not None else {} if before is not None else None
        yield from _fact_table(dict(its_list.fields), pack, fields)


def _fact_table(
    facts: Mapping[str, FactType], pack: Pack, before: Mapping[str, FactType] | None
) -> Iterator[str]:
    """A row for each; the first column has a mark where the edition before has it otherwise or not at all."""
    rows: list[Sequence[str]] = []
    for name, fact in facts.items():
        cells = _fact_cells(fact, pack)
        marked = before is not None and (name not in before or _fact_cells(before[name], pack) != cells)
        rows.append(("\\>" if marked else "", code(name), *cells))
    yield from (*table(("", "name", "what it is", "form", "how"), rows), "")


def _fact_cells(fact: FactType, pack: Pack) -> tuple[str, str, str]:
    if fact.formula is not None:
        return "worked out", with_names(fact.formula.text), ""
    return escaped(fact.about), escaped(form_words(fact, pack.vocabulary)), escaped(how_words(fact))


def _worked_out(pack: Pack) -> Iterator[str]:
    if not pack.derived:
        return
    yield from ("## Worked out", "")
    for derived in pack.derived.values():
        yield f"- {code(derived.name)} = {with_names(derived.expression.text)}"
    yield ""


def _gear(pack: Pack) -> Iterator[str]:
    given = pack.document.get(("instruments",))
    if not isinstance(given, dict) or not given:
        return
    yield from ("## Scales, gauges and tapes", "")
    heads = list(dict.fromkeys(key for one in given.values() if isinstance(one, dict) for key in one))
    rows = [
        [escaped(name), *(_written(one.get(key, "")) for key in heads)]
        for name, one in given.items()
        if isinstance(one, dict)
    ]
    yield from (*table(["name", *(escaped(head.replace("_", " ")) for head in heads)], rows), "")


def _written(value: object) -> str:
    return escaped(decimal_text(value) if isinstance(value, Fraction) else str(value))


def _words(pack: Pack) -> Iterator[str]:
    for title, tree in (("Categories", pack.vocabulary.categories), ("Materials", pack.vocabulary.materials)):
        if not tree.words:
            continue
        yield from (f"## {title}", "")
        for word in tree.words:
            families = tree.families(word) if title == "Materials" else ()
            yield f"- {escaped(word)}" + (f" ({escaped(', '.join(families))})" if families else "")
        yield ""


def _index(pack: Pack) -> Iterator[str]:
    """Every name that a clause looks at, with the clauses."""
    found: dict[str, list[str]] = {}
    for number, clause in pack.clauses.items():
        for name in clause.judged_by:
            if "." in name or name in pack.derived or name in pack.tables:
                found.setdefault(name, []).append(number)
    yield from (place("index-of-quantities"), "## Index of quantities", "")
    for name in sorted(found):
        yield f"- {code(name)}: {', '.join(map(to_clause, found[name]))}"
    yield ""
