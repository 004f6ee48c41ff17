"""A picture with its words and its numbers."""

from __future__ import annotations

from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture as SVG, made by `checker.report.figures`."""

    name: str
    """Of letters: the start of every id in it."""
    title: str
    about: str
    """What is to be seen, for those who do not see it."""
    svg: str
    """To stand in a page; everything in it is escaped."""
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    """The numbers that are drawn."""
