"""`checker meeting protest`: take down a protest against a car."""

from __future__ import annotations

import click

from checker.cli.meeting.common import a_meeting_command, acknowledge, by_option, car_argument, recording


@a_meeting_command(
    "Take down a protest against a car; a ruling answers it.",
    'checker meeting protest day.meeting 35 3.6 "the seat plate is ballast" --from 27 --by KV',
)
@car_argument
@click.argument("clause", metavar="CLAUSE")
@click.argument("text", metavar="WORDS")
@click.option("--from", "by_car", default="", metavar="CAR", help="The car whose entrant protests.")
@by_option
def command(day: str, car: str, clause: str, text: str, by_car: str, by: str) -> int:
    """Take down a protest against CAR under CLAUSE, in the protester's words."""
    from checker.meeting.record.car_contents import Protested
    from checker.meeting.taking.ruling import protest

    with recording(day, by) as meeting:
        protest(meeting, Protested(car, clause, text, by_car), by)
        return acknowledge(meeting, f"Protest against car {car}, clause {clause}")
