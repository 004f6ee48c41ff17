"""`checker meeting rule`: an official's decision on one clause, beside what was computed."""

from __future__ import annotations

import click

from checker.cli.meeting.common import (
    a_meeting_command,
    acknowledge,
    by_option,
    car_argument,
    reason_option,
    recording,
)
from checker.cli.printing import Printing


@a_meeting_command(
    "Decide on a clause: uphold what was computed, exclude the car, or allow it.",
    'checker meeting rule day.meeting 27 3.6 exclude --reason "the plate is ballast" --protest 412 --by KV',
    'checker meeting rule day.meeting 27 2.7 allow --reason "resealed in our presence" --by KV',
)
@car_argument
@click.argument("clause", metavar="CLAUSE")
@click.argument("decision", type=click.Choice(["uphold", "exclude", "allow"]))
@reason_option("Why it is decided so; needed.")
@click.option("--protest", type=int, default=0, metavar="ENTRY", help="The protest that it answers.")
@click.option(
    "--corrects", type=int, default=0, metavar="ENTRY", help="The ruling that this one stands in place of."
)
@by_option
def command(
    day: str, car: str, clause: str, decision: str, reason: str, protest: int, corrects: int, by: str
) -> int:
    """Record a decision on CLAUSE for CAR: the computed outcome is upheld, the car is excluded, or it is allowed.

    What was computed is recorded with it and stays in every report; a decision stands beside it, never instead of it.
    """
    from checker.meeting.taking.ruling import DECISIONS_SAID, Ruling, rule
    from checker.report.wording import outcome_word
    from checker.report.words.findings import found_words

    with recording(day, by) as meeting:
        number = rule(
            meeting, Ruling(car, clause, DECISIONS_SAID[decision], reason, protest, corrects), by, found_words
        )
        car_day = meeting.car(car)
        ruled = car_day.rulings()[clause].content
        still_open = [one.number for one in car_day.open_protests() if one.content.clause == clause]
        with Printing().paged() as page:
            page.put(f"computed: {outcome_word(ruled.computed, 'official')}. {ruled.found}")
            for one in still_open:
                page.put(
                    f"Entry {one} still protests against this clause. If this answers it:"
                    f" --corrects {number} --protest {one}"
                )
        return acknowledge(meeting, f"Car {car}, clause {clause}: {decision}")
