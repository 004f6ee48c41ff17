"""Checks a racing car's declaration against a club formula's rule pack.

The flow, one folder for each step; an import points only to a folder further up this list:

    reading      bytes -> plain values, each with its place in the file
    quantities   units, exact values, formulas with their kinds and dimensions
    car          declaration and readings -> facts; weights in every condition
    kinds        the kinds of check, one file each
    pack         the rulebook: editions -> clauses, each with a compiled check
    verdict      clauses on a car -> outcomes
    studies      questions that run an inspection many times
    meeting      the officials' day and its record
    report       one document; text, Markdown, calendars and tables only render it
    cli          one thin file per command

In a program:

    from checker import inspect_files
    inspection = inspect_files("samples/cars/legal.yaml")
    inspection.complies
"""

from __future__ import annotations

TYPE_CHECKING = False  # not imported: until the guard of `cli.main` stands, Ctrl-C finds as little as can be
if TYPE_CHECKING:
    from checker.verdict.inspection import Inspection

__version__ = "0.1.0"


def inspect_files(
    car: str,
    *,
    pack: str | None = None,
    on: str | None = None,
    readings: str | None = None,
    audience: str = "entrant",
    gear: str | None = None,
) -> Inspection:
    """Judge a car's file by the pack of its formula.

    Args:
        car: Path of the declaration.
        pack: Path of the pack; found by the declaration's `formula` where not given.
        on: Day to judge for, YYYY-MM-DD; the day of the event in the car's file where not given, else today.
        readings: Path of a file with what officials measured.
        audience: "entrant" or "official".
        gear: Path of a club's file of its instruments and the checks of its pads.

    Raises:
        InputError: A file cannot be used; with every problem found.
    """
    from checker.verdict.run import Request, inspect_request

    return inspect_request(Request(car, pack, on, readings, audience, gear=gear))
