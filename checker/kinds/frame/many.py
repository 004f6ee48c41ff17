"""Reads which list a check goes through: `within`, `each`, `pairs` or `runs`, and what may stand beside them."""

from __future__ import annotations

from checker.kinds.frame.entries import IF_NONE, MODES, Many
from checker.kinds.judging.assessment import PASS
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.problem import FormulaError
from checker.quantities.formula.scope import Entries
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import replace


def read_many(reader: CheckReader, covers: str) -> Many | None:
    """Which list the check goes through; None when that cannot be used (the problems are noted).

    Args:
        covers: A list that the kind goes through where the check names none and nothing to look at.
    """
    present = [mode for mode in MODES if reader.has(mode)]
    if not present:
        covering = bool(covers) and not reader.has("of") and not reader.around.item_list
        for key in ("if_none", "where", "by", "shortest", "longest"):
            if reader.has(key) and not (covering and key in ("if_none", "where")):
                reader.key_problem(502, f"`{key}` goes with within, each, pairs or runs", key)
                return None
        if not covering:
            return Many()
        if_none = _if_none(reader)
        entries = reader.scope.entries[covers]
        return None if if_none is None else Many("each", covers, if_none=if_none or PASS, entries=entries)
    if len(present) > 1:
        reader.key_problem(501, f"{' and '.join(present)} do not go together", present[1])
        return None
    mode = present[0]
    if reader.around.many:
        reader.key_problem(
            506, f"`{mode}` inside `{reader.around.many}`: a check goes through one list at a time", mode
        )
        return None
    return _read_mode(reader, mode)


def _read_mode(reader: CheckReader, mode: str) -> Many | None:
    named = reader.get(mode)
    category, tree, list_name = "", None, named
    if mode == "within":
        tree = reader.scope.trees["category"]
        known = tree.canonical(named) if isinstance(named, str) else None
        if known is None:
            hint = did_you_mean(str(named), tree.words) or "add it under `categories`"
            reader.problem(204, f"'{named}' is no category of this pack", mode, hint=hint)
            return None
        category, list_name = known, "components"
    if not isinstance(list_name, str) or list_name not in reader.scope.entries:
        lists = tuple(reader.scope.entries)
        hint = did_you_mean(str(named), lists) or f"lists: {', '.join(lists)}"
        reader.problem(201, f"'{named}' is no list of this pack", mode, hint=hint)
        return None
    if_none = _if_none(reader)
    lengths = _read_lengths(reader, mode)
    if if_none is None or lengths is None:
        return None
    shortest, longest = lengths
    entries = reader.scope.entries[list_name]
    by = _read_order(reader, mode, entries)
    if by is None:
        return None
    made = Many(mode, list_name, category, if_none, entries=entries, tree=tree)
    return replace(made, shortest=shortest, longest=longest, by=by)


def _read_order(reader: CheckReader, mode: str, entries: Entries) -> str | None:
    """The field under `by`; "" for none, None where it cannot be used (the problem is noted)."""
    if not reader.has("by"):
        return ""
    if mode != "runs":
        reader.key_problem(502, "`by` goes with `runs`", "by")
        return None
    name = reader.get("by")
    try:
        field = entries.fields.get(str(name))
    except FormulaError as error:
        reader.note(error, ("by",))
        return None
    if field is None:
        hint = did_you_mean(str(name), entries.fields) or f"its fields are {', '.join(entries.fields)}"
        reader.problem(205, f"'{name}' is not a field of {entries.name}", "by", hint=hint)
        return None
    if not (field.kind.is_measure or field.kind.name == "date"):
        reader.problem(302, f"'{name}' is {field.kind}, which puts nothing in order", "by")
        return None
    return str(name)


def _if_none(reader: CheckReader) -> str | None:
    """What is said under `if_none`; "" for nothing, None where it cannot be used (502 noted)."""
    if not reader.has("if_none"):
        return ""
    given = reader.get("if_none")
    if given in IF_NONE:
        return str(given)
    hint = did_you_mean(str(given), IF_NONE)
    reader.problem(502, f"`if_none` is one of {', '.join(IF_NONE)}", "if_none", hint=hint)
    return None


def _read_lengths(reader: CheckReader, mode: str) -> tuple[int, int | None] | None:
    lengths: dict[str, int | None] = {"shortest": 2, "longest": None}
    for key in lengths:
        if not reader.has(key):
            continue
        value = reader.get(key)
        if mode != "runs":
            reader.key_problem(502, f"`{key}` goes with `runs`", key)
            return None
        if isinstance(value, bool) or not isinstance(value, int) or value < 1:
            reader.problem(302, f"`{key}` is a whole number of 1 or more", key)
            return None
        lengths[key] = value
    shortest, longest = lengths["shortest"] or 2, lengths["longest"]
    if longest is not None and longest < shortest:
        reader.problem(503, "`longest` is below `shortest`", "longest")
        return None
    return shortest, longest
