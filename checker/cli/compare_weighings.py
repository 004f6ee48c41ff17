"""`checker compare-weighings`: a weighing at home against the club's, and the offset to enter at home."""

from __future__ import annotations

import click

from checker.car.declaration.loading import formula_of, load_car
from checker.cli import exits, output
from checker.cli.options import a_command, day, units, with_options
from checker.cli.printing import Printing, printing
from checker.pack.keeping.kept import pack_at, pack_of
from checker.reading.strict_yaml import read_document
from checker.report.one_car.weighing_comparison import comparison_document, comparison_text
from checker.report.words.remarks import car_warnings
from checker.studies.one_car.weighing_comparison import compare_weighings
from checker.verdict.run import dated, day_for

_OPTIONS = (
    click.option("--pack", metavar="PATH",
                 help="Rule pack that the files are read by: a file, a folder of editions, or its name."),
    click.option("--on", callback=day, metavar="DATE",
                 help="Day to read them for. Without it: the event's day in HOME, else today."),
    click.option("--gear", metavar="FILE", help="The club's instruments and the checks made of its pads."),
)  # fmt: skip


@a_command(
    "A weighing at home against the club's, and the offset to enter at home.",
    "checker compare-weighings car.yaml weigh-in.yaml",
    "checker compare-weighings car.yaml weigh-in.yaml --gear club.yaml",
)
@click.argument("home", metavar="HOME")
@click.argument("club", metavar="CLUB")
@with_options(*_OPTIONS)
@units
@printing
def command(
    home: str,
    club: str,
    pack: str | None,
    on: str | None,
    gear: str | None,
    printing: Printing,
) -> int:
    """Hold the weighing in HOME, a car's file, against that in CLUB, a weigh-in slip or readings file of the same car.

    The club's weighing is corrected to the fuel, driver, tyres and wear at home. The differences are held against what
    both sets of gear leave open. It exits with 0 where they agree, 1 where they differ by more, 4 where that cannot be
    told.
    """
    printing.refuse_overwriting(home, club, gear, pack)
    document, slip = read_document(home, "CD"), read_document(club, "RD")
    described = read_document(gear, "GR") if gear else None
    today = day_for(document, None, on)
    rules = pack_at(pack, today) if pack else pack_of(formula_of(document), today)
    own = load_car(dated(document, today), rules.vocabulary)
    theirs = load_car(dated(document, today), rules.vocabulary, slip, gear=described)
    output.show_problems(list(dict.fromkeys((*car_warnings(own), *car_warnings(theirs)))))
    found = comparison_document(compare_weighings(own, theirs, rules.decision.confidence))
    printing.document(found, comparison_text)
    return exits.result(found["agrees"])
