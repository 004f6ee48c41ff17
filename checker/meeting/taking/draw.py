"""Draws lots that anybody can draw again: a random order, or a sample, from a seed that stands in the record.

How lots are drawn stands in `checker.meeting.record.lots`.
"""

from __future__ import annotations

import secrets
from collections.abc import Sequence

from checker.meeting.record.contents import Content, Drawn
from checker.meeting.record.day import Day
from checker.meeting.record.lots import in_drawn_order
from checker.meeting.record.refusal import refusal
from checker.meeting.session.session import Meeting


def draw(
    meeting: Meeting,
    by: str,
    *,
    purpose: str = "",
    sample: int | None = None,
    among: Sequence[str] = (),
    seed: str = "",
) -> Drawn:
    """Draw an order of all cars that take part, or a sample of them, and record it; on disk when this returns.

    Args:
        meeting: Open for work.
        by: Initials of the official.
        purpose: What the draw is for.
        sample: How many to draw; None for an order of all.
        among: Numbers to draw from; empty for every car that takes part.
        seed: Words that somebody else has called out, for instance an entrant; "" to have one made at random.

    Raises:
        InputError: MT203, MT205, MT214.
    """
    seed = " ".join(seed.split()) or secrets.token_hex(8)
    drawn: list[Drawn] = []

    def decide(day: Day) -> list[Content]:
        if among:
            cars = list(dict.fromkeys(meeting.car(number, taking_part=True).number for number in among))
        else:
            cars = [car.number for car in day.cars.values() if not car.withdrawn]
        if not cars or (sample is not None and not 0 < sample <= len(cars)):
            message = f"{sample if sample is not None else 'an order'} cannot be drawn from {len(cars)} cars"
            raise refusal("MT214", message)
        order = in_drawn_order(seed, cars)
        drawn[:] = [Drawn(purpose.strip(), seed, cars, order if sample is None else order[:sample])]
        return list(drawn)

    meeting.record(by, decide)
    return drawn[0]
