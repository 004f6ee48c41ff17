"""Why a clause is not planned by, or a thing is left out of a plan."""

from __future__ import annotations

from checker.quantities.reason import Why


class NotPlanned(Why):
    SINGLE_WHEELS = "what single wheels carry only a weighing tells"
    NO_DISTANCE = "it has no distance to a limit that could be followed"
    NOT_LINEAR = "it is not linear in the loads of the car"
    BY_LEVELS = "the tank is told by levels, and only one place is moved"
    NOT_BETWEEN = "it does not sit on the line between the two places that it slides between"
    WITH_THE_START = "with it the fuel to start with is not settled, and only one of both is planned"
