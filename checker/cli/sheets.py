"""Options of commands whose result may also be tables: as CSV, or as a workbook."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

import click

from checker.cli import output
from checker.cli.endings import TABLES_ASKED
from checker.cli.options import with_options
from checker.cli.printing import Printing
from checker.report.tables.table import Table

Function = TypeVar("Function", bound=Callable[..., object])


def _noted(ctx: click.Context, param: click.Parameter, value: str | bool | None) -> None:
    ctx.meta.setdefault(TABLES_ASKED, {})[param.name] = value


def tables(*names: str) -> Callable[[Function], Function]:
    """A decorator that adds the options, for a command that has these tables."""
    from checker.report.tables.text import DIALECTS

    return with_options(
        click.option("--csv", type=click.Choice(names), callback=_noted, expose_value=False,
                     help="Write this table as CSV in place of the report."),
        click.option("--csv-for", type=click.Choice(list(DIALECTS)), callback=_noted, expose_value=False,
                     default="programs", show_default=True,
                     help="excel: marked so that it reads every letter; excel-comma: with 3,5 for 3.5 and semicolons, "
                     "where the machine's settings want those."),
        click.option("--xlsx", is_flag=True, callback=_noted, expose_value=False,
                     help="Write all tables as the sheets of a workbook; give its name with --output."),
    )  # fmt: skip


def asked_for(printing: Printing) -> bool:
    """Whether tables are wanted in place of the report.

    Raises:
        click.UsageError: Two things are asked for at once, or a workbook without a file.
    """
    context = click.get_current_context()
    asked = context.meta[TABLES_ASKED]
    forms = [f"--format {printing.form}"] if context.params.get("form", "text") != "text" else []
    ways = [f"--{way}" for way in ("csv", "xlsx") if asked[way]] + forms
    if len(ways) > 1:
        raise click.UsageError(f"{' and '.join(ways)} are two forms of one result; give one")
    if asked["xlsx"] and printing.file is None:
        raise click.UsageError("--xlsx writes a file: give its name, such as --output cars.xlsx")
    return bool(asked["csv"] or asked["xlsx"])


def one_table_asked_for() -> bool:
    """Whether one table alone is wanted, whose rows need not all be held at once."""
    return not click.get_current_context().meta[TABLES_ASKED]["xlsx"]


def deliver_tables(made: Mapping[str, Table], printing: Printing) -> None:
    """Print or write the table, or the workbook, that is asked for.

    Raises:
        NotWrittenError: It cannot be written, or what writes workbooks is not installed.
    """
    asked = click.get_current_context().meta[TABLES_ASKED]
    if asked["xlsx"]:
        from checker.report.tables.workbook import as_xlsx

        try:
            workbook = as_xlsx(made)
        except ImportError:
            cure = "pip install 'scrutineering-checker[sheets]'"
            raise output.NotWrittenError(f"what writes workbooks is not installed: {cure}") from None
        output.write_bytes(str(printing.file), workbook)
        return
    from checker.report.tables.text import DIALECTS, csv_lines

    printing.published(csv_lines(made[asked["csv"]], DIALECTS[asked["csv_for"]]))
