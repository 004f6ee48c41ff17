"""Edges: the comparisons and the bands of tables on which a result turns, noted while formulas are worked out.

A value that stands nearer such an edge than it was measured might as well stand on the other side. Whoever judges asks
for the edges that a check met, and judges both sides where it must.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from fractions import Fraction
from typing import Any

from checker.quantities.formula.typed import Run, Typed, of_known
from checker.quantities.units import Unit
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True, eq=False)
class MetEdge:
    distance: Run
    """From a scene to how far the value lies above the edge (below: negative), or Unknown."""
    scene: Any
    """Where it was met."""
    uses: frozenset[str]
    """Full names of all that the distance is made of."""
    text: str
    """As it is written: "engine.capacity > 1300 cc"."""
    unit: Unit | None
    """The unit that the distance is shown in."""
    site: Any
    """Where in the pack it stands: the same for every time that it is met there."""


@dataclass(frozen=True, slots=True, eq=False)
class _Notebook:
    wanted: Callable[[Any], bool]
    edges: list[MetEdge]


_open: ContextVar[_Notebook | None] = ContextVar("edges that are noted", default=None)


@contextmanager
def noting(wanted: Callable[[Any], bool]) -> Iterator[list[MetEdge]]:
    """Note every edge that is met in the block, in scenes that are wanted."""
    notebook = _Notebook(wanted, [])
    token = _open.set(notebook)
    try:
        yield notebook.edges
    finally:
        _open.reset(token)


def noted_in() -> object:
    """Stands for where edges are noted now: what is kept of a formula elsewhere has not noted its edges here."""
    return _open.get()


def is_noting(scene: Any) -> bool:
    """Whether edges met in that scene are to be noted."""
    notebook = _open.get()
    return notebook is not None and notebook.wanted(scene)


def above(part: Typed, edge: Fraction) -> Run:
    """How far a value lies above an edge."""
    return of_known(lambda value: value - edge, part.evaluate)


def note(scene: Any, distance: Run, parts: Sequence[Typed], text: str, site: object) -> None:
    """Note an edge that was met; only where `is_noting` says so.

    Args:
        parts: What the distance is made of; it is shown in the unit of the first of them that has one.
        site: As in `MetEdge`.
    """
    notebook = _open.get()
    if notebook is not None:
        marks = (mark for part in parts for mark in part.marks if mark.kind.same_measure(parts[0].kind))
        mark = next(marks, None)
        uses = frozenset[str]().union(*(part.uses for part in parts))
        unit = None if mark is None else mark.unit(scene)
        notebook.edges.append(MetEdge(distance, scene, uses, text, unit, site))
