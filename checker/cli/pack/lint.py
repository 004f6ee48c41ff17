"""`checker pack lint`: every mistake and every warning about packs, without a car."""

from __future__ import annotations

import json
from collections.abc import Sequence

import click

from checker import __version__
from checker.cli import exits, output
from checker.cli.options import refuse_overwriting
from checker.reading.excerpt import as_data, one_line, render
from checker.reading.problems import InputError, Problem
from checker.studies.cases.sound import lint_with_cases


@click.command(
    "lint",
    short_help="Find every mistake in a pack, with line and column, before a car is seen.",
    epilog="""\b
    Examples:
      checker pack lint rulepacks/dunlin
      checker pack lint rulepacks/*/ --format gnu""",
)
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "gnu"]),
    default="text",
    show_default=True,
    help="gnu prints a line for each, as editors and build tools read it; json one document and nothing else.",
)
@click.option("--output", "output_file", metavar="FILE", help="Write to a file, all at once or not at all.")
def command(paths: tuple[str, ...], form: str, output_file: str | None) -> int:
    """Find every mistake in the packs at PATH, a folder or a file of one.

    A case that cannot be judged, or that expects what no car brings about, is a mistake, too. Beside mistakes it tells
    of names that nothing uses, checks that are always or never true, clauses that exclude each other or have no case,
    rows of tables that no car finds, and texts that say other numbers than their checks. Only mistakes make it exit
    with 3; a warning is advice.
    """
    refuse_overwriting(output_file, paths)
    problems = [problem for path in paths for problem in _linted(path)]
    errors = sum(not problem.warning for problem in problems)
    output.deliver(_SHOWN[form](problems, errors), output_file, utf8=form == "json")
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
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


def _as_lines(problems: Sequence[Problem], errors: int) -> str:  # noqa: ARG001 (one signature for all)
    return "".join(f"{one_line(problem)}\n" for problem in problems)


_SHOWN = {"text": _as_text, "json": _as_json, "gnu": _as_lines}
