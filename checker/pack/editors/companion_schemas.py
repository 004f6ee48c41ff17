"""JSON Schemas of what stands beside an edition: cases, bulletins, the register of approvals; and of a shelf's file."""

from __future__ import annotations

from checker.kinds.judging.assessment import OUTCOMES
from checker.pack.editors.declaration_schema import DeclarationParts
from checker.pack.editors.planning_schema import planning_schema
from checker.pack.editors.schema_parts import (
    DAY,
    DIALECT,
    LITERAL,
    TEXT,
    Schema,
    by_its_key,
    closed,
    defined,
    either,
    if_text,
    mapping,
    several,
    text,
    told,
    words,
)
from checker.pack.model import Pack


def cases() -> Schema:
    outcome = words(OUTCOMES)
    margin = either({"type": "string"}, {"type": "number"})
    expected = if_text(outcome, closed({"outcome": outcome, "margin": margin}, "outcome"))
    case = {
        "name": TEXT,
        "from": text("A declaration to start from; an empty one without it."),
        "on": told(DAY, "The day it is judged for; the edition's first without it."),
        "set": told({"type": "object"}, "Values by path, counted from 0."),
        "remove": several(TEXT, "Paths that are taken away."),
        "expect": mapping(expected, "What becomes of the clauses."),
    }
    return several(closed(case, "name", "expect"))


def _change(verb: str, *required: str) -> Schema:
    place = text("A clause by its number, anything else as section.name.")
    return closed({verb: place, "at": TEXT, "for": {}, "read": {}}, verb, *required)


def bulletin() -> Schema:
    changes = {
        "change": _change("change", "at"),
        "add": _change("add", "read"),
        "withdraw": _change("withdraw"),
    }
    keys = {
        "bulletin": text("Its name."),
        "amends": closed({"pack": TEXT, "edition": TEXT}, "pack", "edition"),
        "in_force": closed({"from": DAY, "until": DAY}, "from"),
        "reason": text("Why."),
        "changes": several(by_its_key(changes), least=1),
    }
    return closed(keys, "bulletin", "amends", "in_force", "changes")


def register() -> Schema:
    approval = {
        "reference": TEXT,
        "clauses": several(TEXT),
        "cars": several(TEXT, "Racing numbers; any car without it."),
        "when": told(LITERAL, "It applies only where this is true."),
        "from": DAY,
        "until": DAY,
        "reason": TEXT,
        "changes": several({"type": "object"}),
    }
    return closed({"approvals": several(closed(approval, "reference", "clauses"))}, "approvals")


def interpretations() -> Schema:
    interpretation = {
        "number": text("In quotes where it is digits only: I-2026-01."),
        "clauses": several(TEXT, "What it is about, in quotes."),
        "question": text("What is not clear."),
        "asked": DAY,
        "answer": text("How the clause is to be read; left out while the question is open."),
        "decided": DAY,
        "by": text("The office that decided, no person."),
        "settled_by": text("The bulletin that writes it into the rules and so ends it."),
        "cases": defined("cases"),
    }
    one = closed(interpretation, "number", "clauses", "question", "asked")
    one["dependentRequired"] = {"answer": ["decided", "by"], "decided": ["answer"], "by": ["answer"]}
    return closed({"interpretations": several(one)}, "interpretations")


def shelf_schema(pack: Pack) -> Schema:
    """The schema of a shelf's file for that pack. Draft 2020-12."""
    parts = DeclarationParts(pack)
    planning = planning_schema(parts)
    about = f"What may be done to cars of {pack.title}, edition {pack.edition}"
    return {"$schema": DIALECT, "$comment": about, **planning, "$defs": parts.defs}
