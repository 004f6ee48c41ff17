"""Why a reading of the day settles nothing: what it looks like, and what it does not go together with."""

from __future__ import annotations

from checker.quantities.reason import Why


class NotSettled(Why):
    """What is found of weighings and gauges."""

    GAUGE_TELLS = "the gauge tells only that {} is {}"
    """As it is marked, in its own unit."""
    IN_ENTRY = "in entry {} {}"
    DIFFER = "the weighings differ: {} {}, and measuring error explains {}"
    FAR_ABOVE = "the total of {} is {} above the {} that follow from {}"
    FAR_BELOW = "the total of {} is {} below the {} that follow from {}"
    LOOKS_EXCHANGED = (
        "the numbers look as if {} were exchanged: as typed they are up to {} from {}, exchanged up to {}"
    )
    REPEATS_EXCHANGED = "reading {} repeats the first with {} exchanged"
    MISTYPED = "the {} load of reading {} is {}, and {} in the first"
    FAILED_CHECK = "the {} pad failed its check of {}"
    OUT_OF_ORDER = (
        "the {} pad shows {} more than the {} pad under the same wheel: one of them is out of order"
    )
    PERHAPS_OUT = (
        "the {} pad shows {} more than the {} pad under the same wheel: perhaps one of them is out of order"
    )
