"""`checker pack lint`: every mistake and every warning about packs, without a car."""

from __future__ import annotations

from collections.abc import Sequence

import click

from checker import __version__
from checker.cli import exits
from checker.cli.options import a_command
from checker.cli.printing import Printing, printing_as
from checker.reading.excerpt import as_data, one_line, render
from checker.reading.problems import InputError, Problem
from checker.report.json_text import json_text
from checker.studies.cases.sound import lint_with_cases


@a_command(
    "Find every mistake in a pack, with line and column, before a car is seen.",
    "checker pack lint rulepacks/dunlin",
    "checker pack lint rulepacks/*/ --format gnu",
)
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@printing_as("json", "gnu", width=False)
def command(paths: tuple[str, ...], printing: Printing) -> int:
    """Find every mistake in the packs at PATH, a folder or a file of one.

    A case that cannot be judged, or that expects what no car brings about, is a mistake, too. Beside mistakes it tells
    of names that nothing uses, checks that are always or never true, clauses that exclude each other or have no case,
    rows of tables that no car finds, and texts that say other numbers than their checks. Only mistakes make it exit
    with 3; a warning is advice.
    """
    printing.refuse_overwriting(*paths)
    problems = [problem for path in paths for problem in _linted(path)]
    errors = sum(not problem.warning for problem in problems)
    shown = _SHOWN[printing.form](problems, errors)
    (printing.published if printing.form == "json" else printing.text)(shown)
    return exits.UNREADABLE if errors else exits.COMPLIES


def _linted(path: str) -> Sequence[Problem]:
    try:
        return lint_with_cases(path)
    except InputError as error:
        return error.problems


def _as_text(problems: Sequence[Problem], errors: int) -> str:
    lines = [render(problem) for problem in problems]
    warnings = len(problems) - errors
    lines.append(
        f"{_counted(errors, 'mistake')}, {_counted(warnings, 'warning')}" if problems else "nothing found"
    )
    return "\n".join(lines) + "\n"


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _as_json(problems: Sequence[Problem], errors: int) -> str:
    document = {
        "document": "lint",
        "version": 1,
        "checker": __version__,
        "errors": errors,
        "warnings": len(problems) - errors,
        "problems": [as_data(problem) for problem in problems],
    }
    return json_text(document, indent=2)


def _as_lines(problems: Sequence[Problem], errors: int) -> str:  # noqa: ARG001 (one signature for all)
    return "".join(f"{one_line(problem)}\n" for problem in problems)


_SHOWN = {"text": _as_text, "json": _as_json, "gnu": _as_lines}
