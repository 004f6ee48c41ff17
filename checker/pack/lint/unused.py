"""Names of a pack that nothing uses."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.car.described.standard import standard_facts, standard_lists
from checker.kinds.contract.check import walk
from checker.kinds.frame.framed import Framed
from checker.pack.model import Clause, Pack
from checker.reading.problems import Problem


def unused(pack: Pack, later: Sequence[str]) -> Iterator[Problem]:
    """Facts, derived values, tables, lists and fields that no formula names, nor any text in `later` (206)."""
    used = _used(pack)

    def told(name: str, what: str, *place: str) -> Iterator[Problem]:
        if name not in used and not any(name in text for text in later):
            message = f"{what} '{name}' is never used"
            yield Problem("PK206", message, pack.document.key_span(place), warning=True)

    standard = standard_facts()
    for name, fact in pack.vocabulary.facts.items():
        if fact.span is not None and name not in standard:
            yield from told(name, "fact", "facts", name)
    for name in pack.derived:
        yield from told(name, "derived value", "derived", name)
    for name in pack.tables:
        yield from told(name, "table", "tables", name)
    fields = standard_lists(pack.vocabulary.currency)
    for name, its_list in pack.vocabulary.lists.items():
        if its_list.span is None:
            continue
        of_list = [f"{name}.{field}" for field in its_list.fields]
        if name not in fields and used.isdisjoint([name, *of_list]):
            yield from told(name, "list", "lists", name)
            continue
        for field in pack.document.mapping(("lists", name, "fields")):
            known = its_list.known_by == field or (name in fields and field in fields[name].fields)
            if not known:
                yield from told(f"{name}.{field}", "field", "lists", name, "fields", field)


def _used(pack: Pack) -> frozenset[str]:
    """Full names of everything that a formula of the pack uses."""
    names: set[str] = set()
    for clause in pack.clauses.values():
        names |= used_by(clause)
    for name, derived in pack.derived.items():
        names |= derived.expression.uses - {name}
    for entries in pack.scope.entries.values():
        for name, field in entries.fields.items():
            names |= field.uses - {f"{entries.name}.{name}"}
    for tolerance in pack.surroundings.tolerances:
        names |= tolerance.uses
    return frozenset(names)


def used_by(clause: Clause) -> frozenset[str]:
    """Full names of everything that a formula of the clause uses."""
    lists = {p.many.list_name for c in clause.checks for p in walk(c) if isinstance(p, Framed) and p.many}
    return clause.looks_at | lists
