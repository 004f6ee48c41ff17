"""What would make an error smaller, in words."""

from __future__ import annotations

from fractions import Fraction

from checker.car.errors.cures import LEVEL_MM, How, Remedy
from checker.quantities.amount import Amount
from checker.quantities.rounding import round_to
from checker.report.words.amounts import value_words, within_words
from checker.report.words.units import in_sixteenths, shown_in

_ALONE: dict[How, str] = {
    How.WEIGH_AGAIN: "weigh again and take the mean",
    How.WEIGH_AGAIN_OR_FINER: "weigh again and take the mean, or use pads that show finer",
    How.FINER_PADS: "use pads that show finer",
    How.BETTER_OR_SWAPPED_PADS: "use better pads, or weigh again with the pads swapped",
    How.ADJUST_THE_SET: "have the set adjusted against one weight",
    How.ONE_PLANE: "bring the pads into one plane, and roll the car off and on again",
}
_TIMES = {1: "once more", 2: "twice more"}


def remedy_words(remedy: Remedy | None) -> str:
    """A remedy as a phrase in the imperative; "" for none."""
    if remedy is None:
        return ""
    what, to = remedy.what.rpartition(".")[2].replace("_", " "), remedy.to
    match remedy.how:
        case How.WEIGH_AGAIN if remedy.times:
            again = _TIMES.get(remedy.times, f"{remedy.times} times more")
            return f"weigh again {again} and take the mean of all"
        case How.LEVEL if to is not None:
            return f"level the pads {what} to {_levelled(to)}"
        case How.USE_GEAR if to is not None:
            return f"use {what} good to {within_words(to)}"
        case How.MEASURE_FINER:
            gear = "something finer" if to is None else f"something good to {within_words(to)}"
            return f"measure the {what} with {gear}"
        case How.CORRECT_READING:
            return f"first settle whether reading {remedy.times} was typed as it stood, and correct it if not"
        case How.FIND_CLOSER:
            return f"find the {what} more closely"
        case how:
            return _ALONE[how]


def _levelled(to: Amount) -> str:
    """A difference in height, in half millimetres or sixteenths of an inch, rounded down."""
    value = Fraction(to.value)
    if told := in_sixteenths(value, shown_in(to.unit), "down"):
        return told
    if shown_in(to.unit) != to.unit:
        return within_words(to)
    return value_words(Amount(round_to(value, LEVEL_MM, "down"), to.kind, to.unit))
