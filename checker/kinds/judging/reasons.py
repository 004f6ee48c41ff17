"""Why a check cannot be judged, beside what its formulas lack."""

from __future__ import annotations

from checker.quantities.reason import Why


class NotJudged(Why):
    """What kinds of check and what stands round them find."""

    NO_ROWS_OF = "there are no {} of {} to check"
    """Pairs or runs."""
    NO_ENTRY = "no entry of {} is declared that this clause is about"
    NOTHING_WITHIN = "no component within {} is declared that this clause is about"
    DIVISOR_TURNS = "in {} a divisor passes through zero"
    EMPTY_LIST = "{} is stated as an empty list"
    NO_MATERIALS = "the materials are stated as an empty list"
    NO_STEP = "the step of a rounding is not above 0"
    NO_MARGIN = "this breach has no margin"
    """For a penalty that is worked out by it."""
