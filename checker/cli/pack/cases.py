"""`checker pack cases`: does a pack say of each of its own cases what its author meant it to say?"""

from __future__ import annotations

import os

import click

from checker.cli import exits
from checker.cli.editions import edition_with_cases
from checker.cli.options import a_command, units, with_options
from checker.cli.printing import Printing, printing_as
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


@a_command(
    "Run a pack's own cases, and tell which slips in the rules none of them would notice.",
    "checker pack cases rulepacks/dunlin",
    "checker pack cases rulepacks/dunlin/2025.1.yaml --format json",
    "checker pack cases rulepacks/dunlin --suggest samples/cars/legal.yaml",
)
@click.argument("path", metavar="PATH")
@with_options(_SUGGEST)
@printing_as("json", "html", otherwise={"suggest": "yaml"})
@units
def command(path: str, suggest: str | None, printing: Printing) -> int:
    """Judge the cases of the pack at PATH: of a file, of a folder's newest edition, or of that of PATH@DATE.

    Told are the cases that come out otherwise than expected, the clauses, branches and rows of tables that no case
    decides, and the slips of the pen that no case would notice: every bound, list, guard and table is changed by a
    little, one at a time, and the cases are asked again.

    With --suggest, --output FILE adds the cases to FILE where it has some: its own keep their order and comments.
    What could not be suggested is told.

    Exit codes: 0 every case comes out, 1 one does not, 3 one cannot be judged, 4 there are none.
    """
    printing.refuse_overwriting(path, suggest)
    book = read_cases(edition_with_cases(path), printing.file if suggest is not None else None)
    if suggest is not None:
        if printing.form == "json":
            raise click.UsageError("--suggest writes YAML; leave out --format json")
        return _suggest(book, suggest, printing)
    runs = run_cases(book)
    first = book.edition.pack_on(book.edition.head.first)
    document = cases_document(first, runs, coverage_of(first, runs), strength_of(book.edition, runs))
    printing.document(document, cases_text)
    counts = document["counts"]
    if counts["not_judged"]:
        return exits.UNREADABLE
    return exits.result(None if not runs else not counts["otherwise"])


def _suggest(book: Casebook, car: str, printing: Printing) -> int:
    """The missing cases as YAML, to be looked through: printed, or added to a file; what could not be made is told."""
    from checker.reading.strict_yaml import read_document
    from checker.studies.cases.adding import added_to, as_new_file, base_path
    from checker.studies.cases.suggesting import Suggester, day_of

    declaration = read_document(car, "CD")
    edition, file = book.edition, printing.file
    on = day_of(declaration, edition)
    base = base_path(car, file or book.file or edition.document.name)
    suggester = Suggester(edition, declaration, on, base)
    made = suggester.suggest(run_cases(book))
    missing = [f"# Not suggested: clause {number}: {why}.\n" for number, why in suggester.missing]
    if file is None:
        none = "# No case is missing that can be made from this car.\n"
        printing.text((as_new_file(made) if made else none) + "".join(missing))
        return exits.COMPLIES
    if made:
        there = os.path.exists(file)
        printing.text(added_to(read_document(file, "PK"), made) if there else as_new_file(made))
    many = f"{len(made)} case{'' if len(made) == 1 else 's'}"
    told = f"{many} written to {file}: look whether each says what is meant.\n"
    Printing().text("".join([told, *(line.removeprefix("# ") for line in missing)]))
    return exits.COMPLIES
