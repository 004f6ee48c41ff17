"""Short ways to read a text and to name what is wrong with it."""

from __future__ import annotations

from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.strict_yaml import parse_document


def read(text: str | bytes, name: str = "car.yaml") -> Document:
    data = text.encode() if isinstance(text, str) else text
    return parse_document(data, name, "XX")


def problems(text: str | bytes) -> tuple[Problem, ...]:
    """What is wrong with `text`; fails the test if nothing is."""
    try:
        document = read(text)
    except InputError as error:
        return error.problems
    raise AssertionError(f"read without a problem as {document.data!r}")


def places(text: str | bytes) -> list[str]:
    """The problems as "code line:column"."""
    return [f"{p.code} {p.span.line}:{p.span.column}" for p in problems(text) if p.span is not None]
