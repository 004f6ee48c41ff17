"""What the two regions of a car's set-ups hold, in words: all that may be done to it, and what of that is legal."""

from __future__ import annotations

from checker.report.amounts import Data
from checker.report.wording import listed


def region_words(reach: Data) -> dict[str, str]:
    """Of each region what it holds, no more than is known of it.

    Args:
        reach: The regions, with what could not be reckoned with, as `checker.report.one_car.reach` makes them.
    """
    if any(one["not_shown"] for one in reach["declined"]):
        legal = "what of it is legal is not known"
    elif not reach["legal"]:
        legal = "nothing of it is legal by weight" if reach["whole"] else "legal by weight: nothing was found"
    else:
        legal = "of it legal by weight, clear of measuring error"
    return {"possible": "can be had, as weighed", "legal": legal}


def region_notes(reach: Data) -> list[str]:
    """What both leave aside, a line for each."""
    clauses = [one["clause"] for one in reach["declined"]]
    things = [one["what"] for one in reach["left_out"]]
    return [
        *([f"clause{'s' * (len(clauses) > 1)} {listed(clauses)} could not be followed"] if clauses else ()),
        *([f"{listed(things)} left out"] if things else ()),
        *([] if reach["whole"] else ["the time was up before every direction was looked in"]),
    ]
