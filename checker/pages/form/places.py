"""From a place in a file back to the path of what stands there."""

from __future__ import annotations

from checker.reading.document import Document
from checker.reading.problems import Path, Span


def path_at(document: Document, span: Span) -> Path:
    """The path of the innermost value, or of its key, in which a place begins."""
    at = (span.line, span.column)
    path: Path = ()
    while True:
        inner = next((one for one in _inside(document, path) if _holds(document, one, at)), None)
        if inner is None:
            return path
        path = inner


def _inside(document: Document, path: Path) -> list[Path]:
    data = document.get(path)
    keys: list[str | int] = (
        list(data) if isinstance(data, dict) else list(range(len(data))) if isinstance(data, list) else []
    )
    return [(*path, key) for key in keys]


def _holds(document: Document, path: Path, at: tuple[int, int]) -> bool:
    key, value = document.key_span(path), document.span(path)
    return (key.line, key.column) <= at and at < max(
        (value.end_line, value.end_column), (key.end_line, key.end_column), (value.line, value.column + 1)
    )
