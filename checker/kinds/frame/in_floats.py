"""How floats tell the outcome of a check within its frame: under its guards, for each entry, in every condition.

Unlike the exact engine it goes through all, also where the worst is found: whatever stands near an edge, or is not
known, leaves the whole to the exact engine.
"""

from __future__ import annotations

from collections.abc import Callable

from checker.car.scene import ITEM
from checker.kinds.contract.check import formulas
from checker.kinds.contract.writing import BINDS_NOT, BROKEN, MET, NotInFloats, Writing
from checker.kinds.frame.entries import bound_expression, item_scope
from checker.kinds.frame.frame import Frame
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, PASS

_BOUND = {"each": (ITEM,), "within": (ITEM,), "pairs": ("a", "b")}
"""The names that entries are bound to, by how a check goes through them."""


def write_outcome(frame: Frame, write: Writing) -> str:
    """Write it.

    Raises:
        NotInFloats: A divisor changes with the condition, it goes through runs, or what stands inside is declined.
    """
    if not frame.conditions:
        return _guarded(frame, write)
    if any(expression.denominators for expression in formulas(frame)):
        raise NotInFloats
    outcome, corner = write.name(), write.name()
    write.line(f"{outcome} = {BINDS_NOT}")
    corners = f"car.corners({write.constant(frame.conditions)}, {write.scene})"
    with write.block(f"for {corner} in {corners}:"), write.within(corner, {}, {}):
        write.line(f"{outcome} = max({outcome}, {_guarded(frame, write)})")
    return outcome


def _guarded(frame: Frame, write: Writing) -> str:
    outcome = write.name()
    write.line(f"{outcome} = {BINDS_NOT}")
    binds = "True"
    if frame.days is not None:
        binds = f"{write.constant(frame.days)}.outside({write.scene}) is None"
    lets = {name: bound_expression(expression) for name, expression in frame.names}
    with write.block(f"if {binds}:"), write.within("", lets, {}):
        _where_needed(frame, write, outcome, once=True, told=lambda: _over_many(frame, write))
    return outcome


def _where_needed(frame: Frame, write: Writing, outcome: str, *, once: bool, told: Callable[[], str]) -> None:
    """Write what is told under the guards that are asked once, or of each entry."""
    tests = [
        write.truth(guard) if needed else f"not {write.truth(guard)}"
        for guard, needed in frame.guards(once=once)
    ]
    with write.block(f"if {' and '.join(tests) or 'True'}:"):
        write.line(f"{outcome} = {told()}")


def _over_many(frame: Frame, write: Writing) -> str:
    many = frame.many
    if many is None:
        return frame.check.write_outcome(write)
    if many.mode not in _BOUND:
        raise NotInFloats
    variables = _BOUND[many.mode]
    known: dict[str, bool | None] = {}
    members, outcome, kept = write.name(), write.name(), write.name()
    write.line(f"{members} = car.members({write.constant(many)}, {write.constant(known)})")
    write.give_up_if(f"{members} is None")
    write.line(f"{outcome}, {kept} = {BINDS_NOT}, False")
    holders = [write.name() for _ in variables]
    items = {name: (holder, many.list_name) for name, holder in zip(variables, holders, strict=True)}
    binding = "".join(f".bind({write.constant(name)}, {holder})" for name, (holder, _) in items.items())
    names, _ = item_scope(write.scope, many)
    with write.block(f"for {', '.join(holders)}, in {members}:"), write.within(binding, names, items):
        if frame.where is not None:
            write.line(f"if not {write.truth(frame.where)}: continue")
        one = write.name()
        write.line(f"{kept}, {one} = True, {BINDS_NOT}")
        _where_needed(frame, write, one, once=False, told=lambda: frame.check.write_outcome(write))
        write.line(f"{outcome} = max({outcome}, {one})")
    with write.block(f"if not {kept}:"):
        write.line(f"{outcome} = {_of_none(frame, write)}")
    if frame.summed:
        write.untold_where(f"{outcome} == {BROKEN} or not {kept}")
    return outcome


def _of_none(frame: Frame, write: Writing) -> str:
    """What becomes of it where nothing is left to be checked."""
    many = frame.many
    assert many is not None
    by_word: dict[str, int] = {PASS: MET, FAIL: BROKEN, NOT_APPLICABLE: BINDS_NOT}
    told = by_word.get(many.if_none)
    if told is None:
        filtered = many.mode == "within" or frame.where is not None
        entries = f"car.entries({write.constant(many.list_name)}, parts=True)"
        stated_empty = "False" if filtered or many.if_none else f"not {entries}"
        write.give_up_if(f"not ({stated_empty})")
    return str(BINDS_NOT if told is None else told)
