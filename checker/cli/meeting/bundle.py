"""`checker meeting bundle`: everything about one car, readable without this program."""

from __future__ import annotations

import os
from pathlib import Path

import click

from checker.cli import exits, output
from checker.cli.endings import ends_as
from checker.cli.meeting.common import a_meeting_command, car_argument


@a_meeting_command(
    "Write all that a protest needs about one car: a folder or a zip.",
    "checker meeting bundle day.meeting 35 --output protest-35.zip",
    "checker meeting bundle day.meeting 35 --output protest-35/",
)
@car_argument
@click.option(
    "--output",
    "target",
    required=True,
    metavar="PLACE",
    callback=ends_as("zip"),
    help="A new folder, or a file that ends in .zip.",
)
def command(day: str, car: str, target: str) -> int:
    """Write declaration, pack, readings, gear checks, computation, rulings and hashes of CAR, with a README.

    Nothing in it needs this program: all is plain text, and its README says how to check it with common tools.
    """
    from checker.meeting.session.session import Meeting
    from checker.meeting.standing.bundle import gather
    from checker.report.meeting.bundle import as_zip, bundle_files

    if os.path.lexists(target):
        raise click.UsageError(f"--output {target} is there already; give a new name")
    with Meeting.open(day, writing=False) as meeting:
        meeting.refuse_unsound()
        files = bundle_files(gather(meeting, car))
    name = Path(target).name.removesuffix(".zip") or f"car-{car}"
    if target.endswith(".zip"):
        output.write_bytes(target, as_zip(files, name))
    else:
        for file, data in files.items():
            place = Path(target) / file
            place.parent.mkdir(parents=True, exist_ok=True)
            output.write_bytes(str(place), data)
    output.deliver(f"{target}: {len(files)} files about car {car}\n")
    return exits.COMPLIES
