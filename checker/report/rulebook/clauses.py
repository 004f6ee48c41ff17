"""The clauses of the printed rulebook: text, check in words, how it is measured, tables; what is new has a bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.car.described.vocabulary import FactType
from checker.kinds.contract.check import Check
from checker.kinds.frame.framed import Framed
from checker.pack.lint.left_in_texts import contradictions_by_clause
from checker.pack.model import ADVISORY, Clause, Earlier, Interpretation, Pack, TableText
from checker.report.facts import how_words
from checker.report.rulebook.markdown import anchor, code, escaped, place, table, with_names
from checker.studies.change.pairing import Pair, paired

Blocks = dict[str, list[str]]
"""What stands under a clause, by what it is."""


def clauses(pack: Pack, before: Pack | None) -> Iterator[str]:
    """Every clause under its heading, with a bar where it is not as before."""
    pairs = {pair.new: pair for pair in paired(before, pack)} if before is not None else {}
    shown: dict[str, str] = {}
    contradicting = contradictions_by_clause(pack)
    yield from ("## Clauses", "")
    for number, clause in pack.clauses.items():
        pair = pairs.get(number)
        then = (
            _blocks(before.clauses[pair.old], before, {}) if before and pair and pair.old is not None else {}
        )
        yield place(anchor("clause", number))
        yield from (f"### {escaped(number)} {escaped(clause.title)}", "")
        if before is not None and pair is not None:
            yield from _was(pair, clause, before)
        for name, lines in _blocks(clause, pack, shown, contradicting.get(number, ())).items():
            marked = before is not None and _differs(name, lines, then, pack, before)
            yield from (barred(lines) if marked else lines)
            yield ""


def _differs(name: str, lines: list[str], then: Blocks, pack: Pack, before: Pack) -> bool:
    """Whether a block is not as in the edition before; a table wherever it is shown or only named."""
    if not name.startswith("table "):
        return then.get(name) != lines
    which = name.removeprefix("table ")
    return name not in then or table_lines(before.tables[which]) != table_lines(pack.tables[which])


def _was(pair: Pair, clause: Clause, before: Pack) -> Iterator[str]:
    """What the clause was in the edition before, where its number or title is another."""
    if pair.old is None:
        yield from ("> New clause.", "")
        return
    old = before.clauses[pair.old]
    told = [f"formerly {escaped(pair.old)}"] if pair.old != pair.new else []
    told += [f"formerly called {escaped(old.title)}"] if old.title != clause.title else []
    if told:
        yield from (f"> {'; '.join(told).capitalize()}.", "")


def barred(lines: Sequence[str]) -> list[str]:
    """Lines with a bar in the margin."""
    return [f"> {line}".rstrip() for line in lines]


def _blocks(clause: Clause, pack: Pack, shown: dict[str, str], contradicting: Sequence[str] = ()) -> Blocks:
    """Everything that stands under a clause.

    Args:
        shown: Tables that an earlier clause has shown, by the number of that clause; filled on the way.
        contradicting: What its text says and its check does not.
    """
    blocks: Blocks = {}

    def add(name: str, label: str, text: str) -> None:
        if text:
            blocks[name] = [f"**{label}:** {text}" if label else text]

    add("text", "", escaped(clause.text))
    add("contradiction", "But", escaped("; ".join(contradicting)))
    add(
        "severity",
        "",
        "*This clause is advice; a breach has no consequence.*" if clause.severity == ADVISORY else "",
    )
    add("interpretation", "How it is read", escaped(clause.interpretation))
    for one in clause.interpretations:
        blocks[f"interpretation {one.number}"] = list(interpretation_lines(one))
    blocks["check"] = _check_lines("Check", clause.check)
    for at, entry in enumerate(clause.earlier):
        blocks[f"earlier {at}"] = _earlier_lines(entry)
    add("days", "In force", _days(clause))
    add("instead", "Takes the place of", ", ".join(to_clause(number) for number in clause.instead_of))
    add("measured", "How measured", _measured(clause, pack))
    for name in filter(clause.judged_by.__contains__, pack.tables):
        first = shown.setdefault(name, clause.number)
        if first == clause.number:
            blocks[f"table {name}"] = [f"**Table {code(name)}:**", "", *table_lines(pack.tables[name])]
        else:
            blocks[f"table {name}"] = [f"**Table {code(name)}:** see {to_clause(first)}"]
    add("act", "What to do", escaped(clause.act))
    add("consequence", "Consequence", escaped(clause.consequence))
    penalty = clause.penalty
    told = (
        escaped(penalty)
        if isinstance(penalty, str)
        else f"{with_names(penalty.amount.text)} {escaped(penalty.unit)}"
    )
    add("penalty", "Penalty", told)
    add("bulletins", "Changed by bulletin", ", ".join(map(escaped, clause.bulletins)))
    return blocks


def interpretation_lines(one: Interpretation) -> Iterator[str]:
    """A question, and the club's answer where there is one."""
    yield f"**Question {escaped(one.number)}** ({one.asked.isoformat()}): {escaped(one.question)}"
    if one.decided is not None:
        decided = f"{escaped(one.by)}, {one.decided.isoformat()}"
        yield from ("", f"**Interpretation {escaped(one.number)}** ({decided}): {escaped(one.answer)}")
    else:
        yield from ("", "*This question is open.*")


def to_clause(number: str) -> str:
    return f"[{escaped(number)}](#{anchor('clause', number)})"


def _check_lines(label: str, check: Check) -> list[str]:
    """A check in words: one sentence, or a list where it combines several."""
    head, inner = _frame(check)
    branches = inner.branches()
    if not branches:
        return [f"**{label}:** {head}{with_names(inner.sentence())}{_to_do(check)}"]
    lines = [f"**{label}:** {head}{inner.heading()}", ""]
    return [*lines, *(line for branch in branches for line in _branch_lines(branch, 0))]


def _branch_lines(check: Check, depth: int) -> Iterator[str]:
    head, inner = _frame(check)
    indent = "  " * depth
    branches = inner.branches()
    if not branches:
        yield f"{indent}- {head}{with_names(inner.sentence())}{_to_do(check)}"
        return
    yield f"{indent}- {head}{inner.heading()}:"
    for branch in branches:
        yield from _branch_lines(branch, depth + 1)


def _to_do(check: Check) -> str:
    """What the pack says is to be done where a branch is not met."""
    act = check.act if isinstance(check, Framed) else ""
    return f" (what to do: {escaped(act)})" if act else ""


def _frame(check: Check) -> tuple[str, Check]:
    """What stands round a check, in words, and the check inside."""
    words: list[str] = []
    while isinstance(check, Framed):
        words += _frame_words(check)
        check = check.check
    return (", ".join(words) + ": " if words else ""), check


def _frame_words(check: Framed) -> Iterator[str]:
    if check.when is not None:
        yield f"when {with_names(check.when.text)}"
    if check.unless is not None:
        yield f"unless {with_names(check.unless.text)}"
    if check.many is not None:
        where = f" where {with_names(check.where.text)}" if check.where is not None else ""
        yield f"{with_names(check.many.words)}{where}"
    if check.days is not None:
        yield check.days.words
    for name, expression in check.names:
        yield f"with {code(name)} = {with_names(expression.text)}"
    if check.conditions:
        yield "in condition " + " and ".join(
            f"[{escaped(c.name)}](#conditions)" if c.words else escaped(c.name) for c in check.conditions
        )


def _earlier_lines(entry: Earlier) -> list[str]:
    until = f" until {entry.until.isoformat()}" if entry.until is not None else ""
    by = "" if entry.by.text == "car.chassis_built" else f" by {with_names(entry.by.text)}"
    who = f"Cars from before {entry.before.isoformat()}{by}{until}"
    if entry.check is None:
        return [f"**{who}:** the clause does not bind them"]
    return _check_lines(who, entry.check)


def _days(clause: Clause) -> str:
    told = [
        f"{word} {day.isoformat()}" for word, day in (("from", clause.since), ("until", clause.until)) if day
    ]
    return " ".join(told)


def _measured(clause: Clause, pack: Pack) -> str:
    """What the clause looks at and with what it is measured."""
    weighed = sorted(n for n in clause.judged_by if n.partition(".")[0] in ("weight", "percentage"))
    told = [f"{code(name)}: weighed, and worked out for the condition" for name in weighed]
    for name, fact in _looked_at(clause, pack):
        how = how_words(fact)
        told.append(f"{code(name)}: {escaped(how)}" if how else code(name))
    return "; ".join(told)


def _looked_at(clause: Clause, pack: Pack) -> Iterator[tuple[str, FactType]]:
    vocabulary = pack.vocabulary
    for name in sorted(clause.judged_by):
        head, _, field = name.partition(".")
        if name in vocabulary.facts:
            yield name, vocabulary.facts[name]
        elif head in vocabulary.lists and field in vocabulary.lists[head].fields:
            its_field = vocabulary.lists[head].fields[field]
            if its_field.formula is None:
                yield name, its_field


BETWEEN = "Between two rows it gives what lies between them, in a straight line"


def table_lines(its_table: TableText) -> list[str]:
    """A table of the pack as one of the book."""
    heads = (*its_table.keys, *its_table.columns)
    rows = [[escaped(str(row.get(head, ""))) for head in heads] for row in its_table.rows]
    lines = table([escaped(head) for head in heads], rows)
    return [*lines, "", f"*{BETWEEN}.*"] if its_table.interpolated else lines
