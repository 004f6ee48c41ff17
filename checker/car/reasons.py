"""Why a car's weights, or what is stated of it, cannot be told."""

from __future__ import annotations

from checker.quantities.reason import Why


class NotOfCar(Why):
    AFTER = "{} is {}, after {}, the day judged"
    GIVES_ONLY = "the weighing gives only {}"
    AS_WEIGHED_ONLY = (
        "weight.{} can only be told as weighed, for how an axle's load splits is never predicted"
    )
    NO_TOTAL = "the total comes out at {} or less"
    PART_OF = "{} is part of {}, and no other mass is given for that"
