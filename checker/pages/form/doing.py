"""What a button of the form does to what stands in its fields."""

from __future__ import annotations

from checker.pages.form.filling import entry_of, order_of
from checker.pages.form.inputs import MORE, NONE, ORDER, Filled


def done(asked: str, filled: Filled) -> tuple[Filled, str]:
    """The fields afterwards, and the name of what is new in them.

    Args:
        asked: "add NAME" for another entry of a list, "remove NAME POSITION", "more NAME" for all fields of an entry;
            else nothing is done.
    """
    what, _, rest = asked.partition(" ")
    if what == "add" and order_of(rest) in filled | {order_of(rest): []}:
        positions = filled.get(order_of(rest), [])
        numbers = [int(one) for one in positions if one.isascii() and one.isdigit()]
        used = [_position(name, rest) for name in filled]
        new = str(max([*numbers, *used], default=-1) + 1)
        return {
            **{name: texts for name, texts in filled.items() if name != rest + NONE},
            order_of(rest): [*positions, new],
        }, entry_of(rest, new)
    if what == "more":
        return {**filled, rest + MORE: ["yes"]}, ""
    if what == "remove":
        name, _, position = rest.rpartition(" ")
        positions = filled.get(order_of(name), [])
        here = entry_of(name, position)
        left = {key: texts for key, texts in filled.items() if not key.startswith((f"{here}.", f"{here}|"))}
        return {**left, order_of(name): [one for one in positions if one != position]}, ""
    return filled, ""


def _position(name: str, of: str) -> int:
    """The position of the entry of a list that a field is in; -1 where it is in none."""
    if not name.startswith(f"{of}[") or name.endswith(ORDER):
        return -1
    number = name[len(of) + 1 :].partition("]")[0]
    return int(number) if number.isascii() and number.isdigit() and len(number) < 7 else -1
