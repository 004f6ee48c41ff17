"""`checker meeting weigh`: readings of the scales, typed, given or imported, each with its verdict."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from checker.cli import exits, output
from checker.cli.meeting.common import (
    a_meeting_command,
    acknowledge,
    by_option,
    occasion_option,
    reason_option,
    recording,
)
from checker.cli.options import handed, reason, units
from checker.cli.printing import Printing
from checker.reading.quick_dataclasses import replace

if TYPE_CHECKING:
    from collections.abc import Sequence

    from checker.meeting.session.session import Meeting
    from checker.meeting.tables.scale_reading import ScaleReading
    from checker.reading.problems import Problem


_READING = (
    click.option("--fuel", default="", metavar="LITRES", help="Fuel on board, such as '6 L'."),
    click.option("--driver", default="", metavar="WORD", help="out or aboard."),
    click.option("--tyres", default="", metavar="NAME", help="The tyre set on the car."),
    click.option("--wear", default="", metavar="WORD", help="new or worn."),
    click.option("--pads", default="", metavar="WORDS",
                 help="'as marked', 'swapped side to side', 'swapped diagonally'."),
    click.option("--with", "gear", default="", metavar="GEAR",
                 help="What it was weighed on, if not the pads."),
    click.option("--again", default="", metavar="REASON", callback=reason,
                 help="Weigh anew; earlier readings no longer count."),
    click.option("--corrects", type=int, default=0, metavar="ENTRY",
                 help="The reading that this one stands in place of."),
    reason_option("Why a reading is corrected."),
    click.option("--confirm", "confirmed", default="", metavar="REASON", callback=reason,
                 help="You have looked: the reading is right though it looks wrong. Without it the car stays open."),
    occasion_option,
)  # fmt: skip


def _reading(occasion: str, **given: Any) -> ScaleReading:
    """A reading whose car and loads are still to be named."""
    from checker.meeting.record.car_contents import SCRUTINEERING
    from checker.meeting.tables.scale_reading import ScaleReading

    return ScaleReading("", {}, occasion or SCRUTINEERING, **given)


@a_meeting_command(
    "Take readings of the scales and judge at once; without loads, a desk.",
    "checker meeting weigh day.meeting --by TB",
    "checker meeting weigh day.meeting 27 --by TB",
    'checker meeting weigh day.meeting 27 159.0 147.5 148.5 141.0 --fuel "6 L" --by TB',
    'checker meeting weigh day.meeting 27 left=307.5 right=288.5 --with bridge --fuel "6 L" --by TB',
    'checker meeting weigh day.meeting 27 158.5 147.5 148.5 141.0 --corrects 57 --reason "misread" --by TB',
    "checker meeting weigh day.meeting --import pads.csv --mapping pads-mapping.yaml --by TB",
)
@click.argument("car", required=False, metavar="[CAR]")
@click.argument("loads", nargs=-1, metavar="[LOADS...]")
@handed("reading", _reading, *_READING)
@click.option("--import", "table", metavar="FILE", help="Readings from a table, in any order of columns.")
@click.option("--mapping", metavar="FILE", help="How that table is to be read.")
@click.option("--as-it-is", is_flag=True, help="Import also what looks wrong.")
@by_option
@units
def command(
    day: str,
    car: str | None,
    loads: tuple[str, ...],
    table: str | None,
    mapping: str | None,
    as_it_is: bool,
    reading: ScaleReading,
    by: str,
) -> int:
    """Record a reading of CAR and judge the car at once.

    LOADS are four pads, front left, front right, rear left, rear right, as the display shows them, or named values
    such as total=596 or left=307.5 right=288.5. Without LOADS a desk opens that takes car after car, wheel by wheel;
    what is typed is on disk before its verdict is shown. Chock the wheels; nobody gets in, out or under a car on pads.
    """
    from checker.meeting.taking.weighing import weigh

    if table is not None or mapping is not None:
        if table is None or mapping is None or car is not None:
            raise click.UsageError("--import FILE and --mapping FILE go together, without CAR")
        return _import(day, table, mapping, by, as_it_is, reading.again)
    if car is None or not loads:
        from checker.cli.meeting.keys import hold
        from checker.meeting.desk.scales import ScalesDesk

        return hold(day, by, lambda meeting: ScalesDesk(meeting, by, reading.occasion), car or "")
    reading = replace(reading, car=car, loads=_named(loads))
    with recording(day, by) as meeting:
        settled = weigh(meeting, reading, by)
        code = _verdict(meeting, car, reading.occasion, by, settled.warnings)
        acknowledge(meeting, f"Car {settled.content.car} weighed")
        return code


def _named(loads: tuple[str, ...]) -> dict[str, str]:
    """Four bare values are the pads in their usual order; others bear their names."""
    from checker.car.described.standard import WHEELS

    if loads and all("=" in load for load in loads):
        return {name: value for name, _, value in (load.partition("=") for load in loads)}
    if len(loads) != len(WHEELS) or any("=" in load for load in loads):
        raise click.UsageError(
            "give four loads (front left, front right, rear left, rear right), or NAME=LOAD each"
        )
    return dict(zip(WHEELS, loads, strict=True))


def _verdict(meeting: Meeting, car: str, occasion: str, by: str, warnings: Sequence[Problem]) -> int:
    """Print what the reading gives rise to, each thing once, and the verdict."""
    from checker.meeting.record.car_contents import SCRUTINEERING
    from checker.meeting.standing.standing import complies, standing_of
    from checker.report.meeting.document import standing_data
    from checker.report.meeting.slip import verdict_text
    from checker.report.one_car.document import inspection_document

    entered = meeting.car(car)
    judgement = meeting.judge_and_record(entered, by, occasion)
    doubts = judgement.doubts
    output.show_problems(
        [one for one in warnings if not any(one.message in doubt.message for doubt in doubts)]
    )
    output.show_problems(doubts)
    standing = standing_of(meeting, entered)
    with Printing().paged() as page:
        verdict_text(inspection_document(judgement.inspection), standing_data(meeting, standing), page)
        done = len(entered.weighings(occasion))
        due = meeting.procedure.weighings_on(occasion == SCRUTINEERING)
        if done < due:
            page.put(f"Weighing {done} of {due}; the next with the pads {meeting.procedure.pads}.")
    return exits.result(complies(judgement.inspection.complies, standing))


def _import(day: str, table: str, mapping: str, by: str, as_it_is: bool, again: str) -> int:
    from checker.meeting.tables.given import GivenFile
    from checker.meeting.taking.importing import import_weighings

    with recording(day, by) as meeting:
        given, how = GivenFile.read(table), GivenFile.read(mapping)
        done = import_weighings(meeting, given, how, by, as_it_is=as_it_is, again=again)
        output.show_problems(done.warnings)
        verdicts: list[bool | None] = []
        for number in dict.fromkeys(reading.car for reading in done.readings):
            judgement = meeting.judge_and_record(meeting.car(number), by)
            output.show_problems(judgement.doubts)
            verdicts.append(judgement.inspection.complies)
        acknowledge(meeting, f"{len(done.readings)} weighings imported")
        return exits.worst(exits.result(complies) for complies in verdicts)
