"""What an official or the organiser states of a car: which fact is meant, and how its text stands in a readings file.

A fact is named as in a pack, `dimensions.ride_height`, or, for an entry of a list, by list, entry and field:
`components.front discs.thickness`. A gauge that goes or does not go tells only that the value lies beyond its size to
one side; how that is judged stands in `checker.meeting.session.judging`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from checker.car.car import Car
from checker.car.described.vocabulary import ENTRANT, ORGANISER, FactType, Vocabulary
from checker.meeting.record.refusal import refusal
from checker.quantities.display import show
from checker.quantities.folding import fold
from checker.quantities.literal import parse_quantity
from checker.quantities.misread import LiteralError
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import dataclass

GO, NO_GO = "go", "no-go"

_TRUTHS = {"true": True, "yes": True, "false": False, "no": False}
_BEYOND = Fraction(1, 1000)
"""How far beyond a gauge's size a value is judged, in the unit of the size: nearer than any rule is written."""


@dataclass(frozen=True, slots=True)
class Target:
    """The fact, or the field of an entry, that is stated."""

    name: str
    """As it is recorded."""
    fact: FactType
    list_name: str = ""
    entry: str = ""


def target_of(
    name: str, vocabulary: Vocabulary, car: Car | None = None, *, new_entry: bool = False
) -> Target:
    """What a name means.

    Args:
        name: `section.fact`, or `list.entry.field`.
        vocabulary: Of the pack.
        car: Whose entries may be named; None where only plain facts may.
        new_entry: The entry is one that the declaration does not have, found on the car.

    Raises:
        InputError: MT208, there is no such fact, or it is not stated this way.
    """
    name = " ".join(name.split())
    fact = vocabulary.facts.get(name)
    if fact is not None:
        if name.startswith("weighing."):
            raise refusal("MT208", f"{name} goes with the weighing", "state it with `meeting weigh`")
        if name in ("car.number", "event.date"):
            raise refusal("MT208", f"{name} is settled by the entry and the meeting")
        return Target(name, fact)
    list_name, _, rest = name.partition(".")
    entry, _, field = rest.rpartition(".")
    its_list = vocabulary.lists.get(list_name)
    if its_list is None or not entry:
        known = [*vocabulary.facts, *vocabulary.lists]
        hint = did_you_mean(name, known) or "write section.fact, or list.entry.field for a part"
        if its_list is not None:
            hint = f"name an entry of that list and a field of it: {list_name}.ENTRY.FIELD"
        raise refusal("MT208", f"the pack has no fact '{name}'", hint)
    if field not in its_list.fields or its_list.fields[field].formula is not None:
        stated = [key for key, its in its_list.fields.items() if its.formula is None]
        hint = did_you_mean(field, stated) or f"known: {', '.join(stated)}"
        raise refusal("MT208", f"{list_name} have no '{field}' that can be stated", hint)
    if not its_list.known_by:
        raise refusal("MT208", f"the entries of {list_name} have no names, so none can be named here")
    labels = [] if car is None else [e.label for e in car.every_entry(list_name)]
    label = next((known for known in labels if fold(known) == fold(entry)), None)
    if label is None and not new_entry:
        hint = did_you_mean(entry, labels) or "for a part that is not declared, say that it is new"
        raise refusal("MT208", f"the declaration has no '{entry}' among its {list_name}", hint)
    return Target(f"{list_name}.{label or entry}.{field}", its_list.fields[field], list_name, label or entry)


def refuse_organiser(target: Target) -> None:
    """A fact of the organiser is announced, not measured.

    Raises:
        InputError: MT208.
    """
    if target.fact.stated_by == ORGANISER:
        hint = "use `meeting announce`, for one car or for all"
        raise refusal("MT208", f"{target.name} is the organiser's to state", hint)


def refuse_others(target: Target) -> None:
    """Only what the pack keeps for the organiser is announced.

    Raises:
        InputError: MT208.
    """
    if target.fact.stated_by != ORGANISER and target.name != "event.session":
        whose = "the entrant's" if target.fact.stated_by == ENTRANT else "an official's"
        raise refusal(
            "MT208", f"{target.name} is {whose} to state", "measure it on the car with `meeting measure`"
        )


def plain_value(fact: FactType, text: str) -> Any:
    """A stated text as it would stand in a readings file; what cannot be read stays text and is refused there."""
    text = text.strip()
    if fact.several:
        inner = text[1:-1] if text.startswith("[") and text.endswith("]") else text
        return [_one(fact, part.strip()) for part in inner.split(",")] if inner.strip() else []
    return _one(fact, text)


def _one(fact: FactType, text: str) -> Any:
    if fact.kind.name == "truth":
        return _TRUTHS.get(fold(text), text)
    if fact.kind.name == "number":
        try:
            value = parse_quantity(text, fact.kind, None).value
        except LiteralError:
            return text
        number = Fraction(value) if isinstance(value, Fraction) else Fraction(0)
        return int(number) if number.denominator == 1 else number
    return text


# -- gauges --------------------------------------------------------------------------------------------------


def gauge_size(target: Target, size: str, result: str, currency: str | None) -> None:
    """Refuse a gauge that tells nothing of this fact.

    Raises:
        InputError: MT208 or MT209.
    """
    if result not in (GO, NO_GO):
        raise refusal("MT209", f"a gauge goes or does not go, not '{result}'", f"write {GO} or {NO_GO}")
    if not target.fact.kind.is_measure or target.fact.whole or target.fact.unit is None:
        raise refusal("MT208", f"{target.name} is nothing that a gauge is put to")
    try:
        parse_quantity(size, target.fact.kind, currency)
    except LiteralError as error:
        raise refusal("MT209", f"the gauge's size '{size}': {error.message}", error.hint) from None


def near_and_far(target: Target, size: str, result: str, currency: str | None) -> tuple[Any, Any]:
    """The two ends of what a gauge tells, as they would stand in a readings file.

    The near one is a hair beyond the gauge's size and carries no uncertainty: the gauge itself has decided on which
    side of its size the value lies. The far one is the end of the fact's range.
    """
    fact = target.fact
    literal = parse_quantity(size, fact.kind, currency)
    assert literal.unit is not None
    assert isinstance(literal.value, Fraction)
    hair = _BEYOND * literal.unit.factor
    went = result == GO
    low = fact.low if fact.low is not None else Fraction(0)
    high = (
        fact.high if fact.high is not None else max(100 * literal.value, Fraction(100) * literal.unit.factor)
    )
    near = min(literal.value + hair, high) if went else max(literal.value - hair, low)
    far = high if went else low
    ends = [
        {"value": show(end, literal.unit), "uncertainty": show(Fraction(0), literal.unit.step)}
        for end in (near, far)
    ]
    return ends[0], ends[1]


def gauge_words(size: str, result: str) -> str:
    """What a gauge told: "above 36.0 mm (gauge went)"."""
    return f"above {size} (gauge went)" if result == GO else f"below {size} (gauge did not go)"
