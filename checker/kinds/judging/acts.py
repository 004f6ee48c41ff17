"""What to do about a breach, as data: what to do, how much at least, from where and to where.

Nothing here is a sentence or rounded. `checker.report` alone knows words, units shown, rounding and width.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import Union

from checker.car.errors.cures import Remedy
from checker.kinds.judging.findings import Found
from checker.quantities.amount import Amount
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, replace


class Do(StrEnum):
    """What there is to do."""

    ADD = "add"
    REMOVE = "remove"
    MOVE = "move"
    TAKE_OFF = "take_off"
    FIT = "fit"
    TAKE_READINGS = "take_readings"
    SPEND_MORE = "spend_more"
    SPEND_LESS = "spend_less"
    RAISE = "raise"
    LOWER = "lower"
    BRING_NEARER = "bring_nearer"
    """Two values to each other."""
    SHIFT_LOAD = "shift_load"
    """From one diagonal to the other: by the springs, for nothing that is moved does it."""
    CHANGE = "change"
    """Into what is wanted."""
    CHANGE_FROM = "change_from"
    """Into anything but what is named as wanted."""
    REPLACE = "replace"
    REMOVE_OR_REPLACE = "remove_or_replace"
    MAKE_OF_ANOTHER = "make_of_another"
    """Of another material than that."""
    PROVIDE = "provide"
    RENEW = "renew"
    FIT_OR_DECLARE = "fit_or_declare"
    GIVE_UP = "give_up"
    MEASURE = "measure"
    NOTHING_HELPS = "nothing_helps"
    """The limits lie too near to each other for the car's states or its gear: by the amount."""
    AS_WRITTEN = "as_written"
    """In the words of whoever wrote the rules."""


@dataclass(frozen=True, slots=True)
class Unresolved:
    """Why the amount is more than the breach: what the gear does not resolve stands on top of it."""

    mostly: str = ""
    """The largest source of doubt, where the doubt alone stands between the car and a pass."""
    advice: Remedy | None = None
    """What would make that smaller."""
    cure: Remedy | None = None
    """What would make it small enough to settle the question."""
    whole: bool = True
    """Every reading behind the margin has a stated error."""


class Untried(StrEnum):
    """Why nobody knows whether what is told is enough: it was not done on the car as data, or something is open."""

    AS_WRITTEN = "as_written"
    """It is in the words of whoever wrote the rules."""
    READINGS = "readings"
    """What is measured then decides."""
    CHOICE = "choice"
    """Which thing, or how, is left to whoever does it."""
    WORKED_OUT = "worked_out"
    """It moves what is worked out from several things that are stated."""
    BESIDE = "beside"
    """It is to be done beside something that was not tried."""
    OPEN = "open"
    """It was done, and then nothing fails, but something that the clause looks at is not known."""


@dataclass(frozen=True, slots=True)
class Room:
    """Another clause that leaves less room than an act asks for."""

    clause: str
    left: Amount


@dataclass(frozen=True, slots=True)
class Act:
    """One thing to do."""

    do: Do
    what: str = ""
    """What it is done to, where it is neither the car's weight nor named by `start`."""
    amount: Amount | None = None
    """The least that suffices, exact and above 0; how many, for `give_up` and `provide`."""
    more: bool = False
    """The amount itself is not enough: more than that."""
    _: KW_ONLY
    each: bool = False
    """It stands more than once, and the amount is for each."""
    start: str = ""
    """From where: a place, or the entry whose word it is."""
    end: str = ""
    """To where: a place."""
    wanted: tuple[Amount, ...] = ()
    """What it must come to: any one of these, or all, as `do` says."""
    further: str = ""
    """Which way beyond what is wanted serves too: later, earlier, better, lower."""
    options: tuple[str | Found, ...] = ()
    """What is to be given up some of."""
    unresolved: Unresolved | None = None
    target: tuple[str, ...] = ()
    """The fact that it moves by its name, or a field by its list, the path of its entry and its name."""
    summed: tuple[str, str] | None = None
    """The list and the field of which it moves a sum: any of its entries serves."""
    sets: tuple[tuple[str, ...], ...] = ()
    """What it sets, each as `target`; what is provided, by its list, "" and its field."""
    most: Amount | None = None
    """More than this would be too much; None where that is further off than an amount is ever rounded."""
    enough: bool | None = None
    """Done on the car as data, it makes the clause pass; None where it was not tried."""
    untried: Untried | None = None
    """Why not; None where it was, or nobody asked for it."""
    short_of: tuple[Room, ...] = ()
    """Clauses that leave less room than that."""
    item: str = ""
    """The entry that it is about."""
    remedy: Remedy | None = None
    """How to measure."""


@dataclass(frozen=True, slots=True)
class Acts:
    """Several things to do: all of them, or any one."""

    acts: tuple[Act | Acts, ...]
    any_one: bool = False
    item: str = ""


Advice = Union[Act | Acts]  # noqa: UP007 (a name for both)


def all_of(acts: Iterable[Advice | None]) -> Advice | None:
    """All of these are to be done, each once; None where there are none.

    Of two that differ in whether every error behind them is stated, the one stands that says it is not.
    """
    return _joined(acts, any_one=False)


def any_of(acts: Iterable[Advice | None]) -> Advice | None:
    """Any one of these is enough; None where there are none."""
    return _joined(acts, any_one=True)


def about(act: Advice | None, item: str) -> Advice | None:
    """The same for an entry of that name."""
    if act is None or not item:
        return act
    return Acts((act,), item=item) if act.item else replace(act, item=item)


def _joined(acts: Iterable[Advice | None], *, any_one: bool) -> Advice | None:
    found: dict[Advice, Advice] = {}
    for some in acts:
        parts: tuple[Advice | None, ...] = (some,)
        if isinstance(some, Acts) and some.any_one == any_one and not some.item:
            parts = some.acts
        for one in parts:
            if one is not None:
                least = _less_sure(one)
                found[least] = one if found.get(least, one) == one else least
    return Acts(tuple(found.values()), any_one) if len(found) > 1 else next(iter(found.values()), None)


def _less_sure(act: Advice) -> Advice:
    if isinstance(act, Acts) or act.unresolved is None:
        return act
    return replace(act, unresolved=replace(act.unresolved, whole=False))
