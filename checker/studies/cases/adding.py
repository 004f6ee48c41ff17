"""Cases added to a file that has some: those that stand there keep their order, their comments and their form."""

from __future__ import annotations

import os
from collections.abc import Sequence

from checker.reading.document import Document, Plain
from checker.reading.patterns import pattern
from checker.reading.printer import to_yaml
from checker.reading.problems import InputError, Path, Problem
from checker.reading.strict_yaml import parse_document

HEADING = "# Made from the rules themselves: look whether each says what is meant."

_DASH = pattern(r"[ ]*(?=-(?:[ ]|\Z))")


def as_new_file(made: Sequence[Plain]) -> str:
    """The text of a file of cases."""
    return f"{HEADING}\n{to_yaml(list(made))}"


def added_to(document: Document, made: Sequence[Plain]) -> str:
    """The text of a file of cases with more of them behind its own; the same text where it has them all.

    Raises:
        InputError: The file holds no list of cases that begin with a dash each (108).
    """
    at: Path = ("cases",) if isinstance(document.data, dict) else ()
    listed = document.get(at)
    indent = _indent(document, at, listed)
    if not isinstance(listed, list) or (listed and indent is None):
        message = "this file holds no list of cases that begin with a dash each, so none is added to it"
        hint = "give another file, or write its cases as - name: ..."
        raise InputError([Problem("PK108", message, document.span(at), hint=hint)])
    new = [case for case in made if case not in listed]
    if not new:
        return document.text
    if not listed:
        return as_new_file(new)
    lines = document.text.splitlines()
    last = document.span((*at, len(listed) - 1)).end_line
    told = [f"{indent}{line}".rstrip() for line in (HEADING, *to_yaml(new).splitlines())]
    text = "\n".join([*lines[:last], *told, *lines[last:]]) + "\n"
    found = parse_document(text.encode(), document.name, "PK").get(at)
    assert found == [*listed, *new], "nothing that stood there was lost"
    return text


def _indent(document: Document, at: Path, listed: Plain) -> str | None:
    """The blanks before the dashes of a list; None where its entries have none."""
    if not isinstance(listed, list) or not listed:
        return None
    lines = document.text.splitlines()
    found = [_DASH.match(lines[document.span((*at, place)).line - 1]) for place in range(len(listed))]
    return found[-1][0] if found[-1] is not None and None not in found else None


def base_path(car: str, cases_file: str) -> str:
    """How cases in a file name a car's file."""
    return os.path.relpath(car, os.path.dirname(cases_file) or ".").replace(os.sep, "/")
