"""`checker meeting measure`: facts measured, gauges, clauses looked at, defects, seals, samples, lost parts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from checker.cli import exits
from checker.cli.meeting.common import (
    a_meeting_command,
    acknowledge,
    by_option,
    occasion_option,
    reason_option,
    recording,
)
from checker.cli.options import handed, units
from checker.cli.printing import Printing
from checker.reading.quick_dataclasses import replace

_TOPICS = ("defect", "seal", "sample", "lost", "remark")

if TYPE_CHECKING:
    from checker.meeting.record.car_contents import Noted
    from checker.meeting.session.session import Meeting
    from checker.meeting.taking.measuring import Finding


_FINDING = (
    click.option("--gauge", type=click.Choice(["go", "no-go"]),
                 help="VALUE is the size of a gauge that went, or did not."),
    click.option("--with", "gear", default="", metavar="GEAR",
                 help="What it was measured with, if not as the pack says."),
    click.option("--new", "new_entry", is_flag=True,
                 help="The part is not declared; it was found on the car."),
    click.option("--corrects", type=int, default=0, metavar="ENTRY",
                 help="The entry that this one stands in place of."),
    reason_option("Why an entry is corrected."),
    occasion_option,
)  # fmt: skip
_NOTED = (
    click.option("--note", "topic", type=click.Choice(_TOPICS),
                 help="Something that is no fact of the pack."),
    click.option("--text", default="", metavar="WORDS", help="What a note says."),
    click.option("--part", default="", metavar="NAME",
                 help="The place of a seal, or the part that was lost."),
    click.option("--state", default="", metavar="WORD",
                 help="Seal: fitted, intact, broken. Defect: open, mended."),
    click.option("--clause", default="", metavar="NUMBER", help="The clause that a note is about."),
)  # fmt: skip


def _finding(gauge: str | None, occasion: str, **given: Any) -> Finding:
    """A finding whose car, fact and value are still to be named."""
    from checker.meeting.record.car_contents import SCRUTINEERING
    from checker.meeting.taking.measuring import Finding

    return Finding("", "", "", occasion or SCRUTINEERING, gauge=gauge or "", **given)


def _noted(topic: str | None, text: str, **given: Any) -> Noted:
    """A note whose car is still to be named; without a topic where none is taken."""
    from checker.meeting.record.car_contents import Noted

    return Noted("", "", topic or "", text, **given)


@a_meeting_command(
    "Record what is measured, gauged or seen on a car.",
    "checker meeting measure day.meeting --by KV",
    'checker meeting measure day.meeting 27 dimensions.ride_height "94 mm, 93 mm, 96 mm, 95 mm"',
    'checker meeting measure day.meeting 27 "components.front discs.thickness" "8.9 mm" --with caliper',
    'checker meeting measure day.meeting 27 engine.inlet_bore "36.0 mm" --gauge no-go',
    "checker meeting measure day.meeting 27 --seen 11.1 --seen 11.2",
    'checker meeting measure day.meeting 27 --note seal --part sump --state broken --text "SO 4418"',
    'checker meeting measure day.meeting 27 --note sample --text "fuel bottle 12, seal 4401" ',
)
@click.argument("car", required=False, metavar="[CAR]")
@click.argument("fact", required=False, metavar="[FACT]")
@click.argument("value", required=False, metavar="[VALUE]")
@click.option(
    "--seen", "seen", multiple=True, metavar="CLAUSE", help="Looked at, and as declared. May be repeated."
)
@handed("noted", _noted, *_NOTED)
@handed("finding", _finding, *_FINDING)
@by_option
@units
def command(
    day: str,
    car: str | None,
    fact: str | None,
    value: str | None,
    seen: tuple[str, ...],
    noted: Noted,
    finding: Finding,
    by: str,
) -> int:
    """Record what an official found on CAR.

    FACT is named as in the pack, or list.entry.field for a part; VALUE is as it would stand in a file. What is measured
    counts before what is declared. The clauses that it touches are judged again at once. Without FACT a desk opens that
    asks for one thing after the other, in the order of the procedure.
    """
    from checker.meeting.taking.measuring import measure, note

    when = finding.occasion
    _refuse_others(noted, finding, measures=fact is not None)
    if fact is None and not seen and not noted.topic:
        from checker.cli.meeting.keys import hold
        from checker.meeting.desk.checks import ChecksDesk

        return hold(day, by, lambda meeting: ChecksDesk(meeting, by, when), car or "")
    if (
        car is None
        or sum((fact is not None, bool(seen), bool(noted.topic))) != 1
        or (fact is None) != (value is None)
    ):
        raise click.UsageError("give FACT and VALUE, or --seen CLAUSE, or --note")
    with recording(day, by) as meeting:
        if fact is not None and value is not None:
            measure(meeting, [replace(finding, car=car, fact=fact, value=value)], by)
        else:
            noted = replace(noted, car=car, occasion=when)
            looked_at = [replace(noted, topic="seen", text="", clause=number) for number in seen]
            note(meeting, looked_at or [replace(noted, corrects=finding.corrects, reason=finding.reason)], by)
        code = exits.COMPLIES if fact is None else _judged(meeting, car, by)
        acknowledge(meeting, f"Car {car}")
        return code


def _refuse_others(noted: Noted, finding: Finding, *, measures: bool) -> None:
    """Refuse an option that says nothing of what is recorded: left out in silence, it would be believed to count."""
    fact, note = "FACT and VALUE", "--note"
    for option, given, goes_with in (
        ("--gauge", finding.gauge, {fact}),
        ("--with", finding.gear, {fact}),
        ("--new", finding.new_entry, {fact}),
        ("--corrects", finding.corrects, {fact, note}),
        ("--reason", finding.reason, {fact, note}),
        ("--text", noted.text, {note}),
        ("--part", noted.part, {note}),
        ("--state", noted.state, {note}),
        ("--clause", noted.clause, {note}),
    ):
        if given and not (fact in goes_with and measures) and not (note in goes_with and noted.topic):
            raise click.UsageError(f"{option} goes with {' or '.join(sorted(goes_with, reverse=True))} only")


def _judged(meeting: Meeting, car: str, by: str) -> int:
    from checker.meeting.standing.standing import complies, standing_of
    from checker.report.meeting.document import standing_data
    from checker.report.meeting.slip import verdict_text
    from checker.report.one_car.document import inspection_document

    entered = meeting.car(car)
    judgement = meeting.judge_and_record(entered, by)
    standing = standing_of(meeting, entered)
    with Printing().paged() as page:
        verdict_text(inspection_document(judgement.inspection), standing_data(meeting, standing), page)
    return exits.result(complies(judgement.inspection.complies, standing))
