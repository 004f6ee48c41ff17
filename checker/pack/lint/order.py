"""Checks that take entries in the order in which an entrant happens to declare them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from checker.kinds.contract.check import uses, walk
from checker.kinds.frame.entries import Many
from checker.kinds.frame.framed import Framed
from checker.pack.check_parts import parts_of
from checker.pack.model import Pack
from checker.reading.problems import Problem

_SORTING = ("number", "quantity", "percent", "date", "days")
_AT_AN_END = re.compile(r"\b(?:first|last)\(\s*run\s*\)\s*\.\s*(\w+)")


def unsorted(pack: Pack) -> Iterator[Problem]:
    """Runs of neighbours that no field sorts, though their entries have one that says where each stands (510)."""
    told: set[int] = set()
    for clause in pack.clauses.values():
        for part in parts_of(clause):
            check = part.check
            if not isinstance(check, Framed) or check.many is None or id(check) in told:
                continue
            told.add(id(check))
            many = check.many
            field = _sorting_field(check, many) if many.mode == "runs" and not many.by else ""
            if field:
                message = f"{many.list_name} are taken in the order declared, which an entrant may choose"
                span = pack.document.span((*part.path, "runs"))
                yield Problem("PK510", message, span, f"say `by: {field}`", clause.number, warning=True)


def _sorting_field(check: Framed, many: Many) -> str:
    """The field that says where an entry stands: one that the check looks at, at an end of a run if at any."""
    fields = {} if many.entries is None else many.entries.fields
    texts = [expression.text for part in walk(check) for _, expression in part.expressions()]
    texts += [expression.text for _, expression in check.names]
    ends = [name for text in texts for name in _AT_AN_END.findall(text)]
    used = [name.rpartition(".")[2] for name in sorted(uses(check)) if name.startswith(f"{many.list_name}.")]
    sorting = (name for name in (*ends, *used) if name in fields and fields[name].kind.name in _SORTING)
    return next(sorting, "")
