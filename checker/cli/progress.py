"""A bar on the terminal while many cars are judged."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from checker.cli.output import stderr_is_terminal

T = TypeVar("T")

_CELLS = 24
_CLEAR = "\r\x1b[K"


def each(things: Sequence[T]) -> Iterator[T]:
    """The things one by one; with a bar where there are several and stderr is a terminal."""
    return each_of(things, lambda: len(things))


def each_of(things: Iterable[T], count: Callable[[], int]) -> Iterator[T]:
    """The same of things that cannot all be held at once.

    Args:
        count: How many there will be; asked only where a bar is shown.
    """
    total = count() if stderr_is_terminal() else 0
    shown = total > 1
    try:
        for place, thing in enumerate(things):
            if shown:
                full = min(_CELLS, _CELLS * place // total)
                bar = "#" * full + "." * (_CELLS - full)
                print(f"{_CLEAR}judging [{bar}] {place} of {total}", end="", file=sys.stderr, flush=True)
            yield thing
    finally:
        if shown:
            print(_CLEAR, end="", file=sys.stderr, flush=True)
