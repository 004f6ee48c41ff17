"""`checker pack cases`: does a pack say of each of its own cases what its author meant it to say?"""

from __future__ import annotations

import click

from checker.cli import exits
from checker.cli.editions import edition_with_cases
from checker.cli.options import units, with_options
from checker.cli.printing import Printing, printing
from checker.report.change.cases import cases_document, cases_text
from checker.studies.cases.casebook import Casebook, read_cases
from checker.studies.cases.coverage import coverage_of
from checker.studies.cases.running import run_cases
from checker.studies.cases.strength import strength_of

_SUGGEST = click.option(
    "--suggest",
    metavar="CAR",
    help="Write the cases that are missing, on each limit and just beyond it, made from this car's declaration.",
)


@click.command(
    "cases",
    short_help="Run a pack's own cases, and tell which slips in the rules none of them would notice.",
    epilog="""\b
    Examples:
      checker pack cases rulepacks/dunlin
      checker pack cases rulepacks/dunlin/2025.1.yaml --format json
      checker pack cases rulepacks/dunlin --suggest samples/cars/legal.yaml""",
)
@click.argument("path", metavar="PATH")
@with_options(_SUGGEST)
@printing
@units
def command(path: str, suggest: str | None, printing: Printing) -> int:
    """Judge the cases of the pack at PATH: of a file, of a folder's newest edition, or of that of PATH@DATE.

    Told are the cases that come out otherwise than expected, the clauses, branches and rows of tables that no case
    decides, and the slips of the pen that no case would notice: every bound, list, guard and table is changed by a
    little, one at a time, and the cases are asked again.

    Exit codes: 0 every case comes out, 1 one does not, 3 one cannot be judged, 4 there are none.
    """
    printing.refuse_overwriting(path, suggest)
    book = read_cases(edition_with_cases(path))
    if suggest is not None:
        if printing.form == "json":
            raise click.UsageError("--suggest writes YAML; leave out --format json")
        printing.text(_suggested(book, suggest))
        return exits.COMPLIES
    runs = run_cases(book)
    first = book.edition.pack_on(book.edition.head.first)
    document = cases_document(first, runs, coverage_of(first, runs), strength_of(first, runs))
    printing.document(document, cases_text)
    counts = document["counts"]
    if counts["not_judged"]:
        return exits.UNREADABLE
    return exits.result(None if not runs else not counts["otherwise"])


def _suggested(book: Casebook, car: str) -> str:
    """The missing cases as YAML, to be looked through and added to the pack's own."""
    from checker.reading.printer import to_yaml
    from checker.reading.strict_yaml import read_document
    from checker.studies.cases.suggesting import Suggester, base_path, day_of

    declaration = read_document(car, "CD")
    edition = book.edition
    on = day_of(declaration, edition)
    base = base_path(car, book.file or edition.document.name)
    made = Suggester(edition.pack_on(on), declaration, on, base, edition.head.first).suggest(run_cases(book))
    if not made:
        return "# No case is missing that can be made from this car.\n"
    return "# Made from the rules themselves: look whether each says what is meant.\n" + to_yaml(made)
