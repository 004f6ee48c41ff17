"""Reads a report that was kept: an inspection as JSON, as `checker inspect --format json` prints it.

A file may hold several, one a line, as of an inspection of several cars; the one of the car in question is taken.
"""

from __future__ import annotations

import json

from checker.quantities.folding import fold
from checker.reading.file_bytes import decode, read_bytes
from checker.reading.plain_text import shortened
from checker.reading.problems import InputError, Problem, Span
from checker.report.amounts import Data

CODES = {
    201: "not JSON",
    202: "not an inspection of version 1, as `inspect --format json` prints it",
    203: "no report of that car",
    204: "a report by another formula",
}
"""What each problem is, by the number after RP; 110, 111 and 117 are those of any file that is read."""

_HINT = "keep a report with: checker inspect CAR --format json --output report.json"


def is_report(file: str, data: bytes | None = None) -> bool:
    """Whether a file is meant to be a report; else it describes a car, which may be JSON too.

    Args:
        file: Its path, or with `data`, what is in it, its name alone.

    Raises:
        InputError: It cannot be read (RP110 to RP117).
    """
    text = _text(file, data).lstrip()
    if file.lower().endswith((".yaml", ".yml")) or (text and text[0] not in "{["):
        return False
    try:
        document = json.loads(text)
    except (ValueError, RecursionError):
        return True
    return not (isinstance(document, dict) and "formula" in document)


def other_formula(file: str, its: str, wanted: str) -> InputError:
    """What is by the pack of another formula cannot be compared."""
    message = f"the report is by the pack of {its!r}, not of {wanted!r}"
    return InputError([Problem("RP204", message, Span(file, 1, 1, 1, 1))])


def read_report(file: str, number: str, pack: str, data: bytes | None = None) -> Data:
    """The inspection of one car in a file of reports.

    Args:
        file: Path of the file.
        number: The car's racing number.
        pack: The name of the formula.
        data: What is in the file; None where it is to be read.

    Raises:
        InputError: It cannot be read (RP110 to RP117), or is not what it should be (RP201 to RP204).
    """
    text = _text(file, data)
    documents = [_checked(document, file, line) for line, document in _documents(text, file)]
    mine = [d for d in documents if fold(d["car"]["number"]) == fold(number)]
    whole = Span(file, 1, 1, 1, 1)
    if not mine:
        found = ", ".join(repr(d["car"]["number"]) for d in documents[:8])
        raise InputError(
            [Problem("RP203", f"there is no report of car {number!r}", whole, hint=f"cars in it: {found}")]
        )
    report = mine[-1]
    if fold(report["pack"]["pack"]) != fold(pack):
        raise other_formula(file, report["pack"]["pack"], pack)
    return report


def _text(file: str, data: bytes | None) -> str:
    return decode(read_bytes(file, "RP") if data is None else data, file, "RP").text


def _documents(text: str, file: str) -> list[tuple[int, object]]:
    """Each document with the line it begins on: one for the whole file, or one a line."""
    lines = [(place, line) for place, line in enumerate(text.splitlines(), 1) if line.strip()]
    pieces = lines if all(line.strip()[:1] + line.strip()[-1:] == "{}" for _, line in lines) else [(1, text)]
    return [(place, _parsed(piece, file, place)) for place, piece in pieces or [(1, text)]]


def _parsed(text: str, file: str, line: int) -> object:
    try:
        return json.loads(text)
    except json.JSONDecodeError as error:
        at = Span(file, line + error.lineno - 1, error.colno, line + error.lineno - 1, error.colno + 1)
        raise InputError([Problem("RP201", f"this is not JSON: {error.msg}", at, hint=_HINT)]) from None
    except (RecursionError, ValueError) as error:
        why = "it is nested too deeply" if isinstance(error, RecursionError) else "it holds an endless number"
        at = Span(file, line, 1, line, 1)
        raise InputError([Problem("RP201", f"this cannot be read: {why}", at, hint=_HINT)]) from None


def _checked(document: object, file: str, line: int) -> Data:
    from jsonschema import Draft202012Validator
    from jsonschema.exceptions import best_match

    from checker.report.schemas import schema

    at = Span(file, line, 1, line, 1)
    kind = document.get("document") if isinstance(document, dict) else None
    if not isinstance(document, dict) or kind != "inspection" or document.get("version") != 1:
        told = f"a document of the kind {shortened(str(kind))!r}" if kind else "something else"
        message = f"this is no inspection of version 1, but {told}"
        raise InputError([Problem("RP202", message, at, hint=_HINT)])
    wrong = best_match(Draft202012Validator(schema("inspection")).iter_errors(document))
    if wrong is not None:
        message = f"this is no sound inspection: at {wrong.json_path}, {shortened(wrong.message, 120)}"
        raise InputError([Problem("RP202", message, at, hint=_HINT)])
    return document
