"""A bar on the terminal while many cars are judged."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

from checker.cli.output import stderr_is_terminal

T = TypeVar("T")


def each(things: Sequence[T]) -> Iterable[T]:
    """The things one by one; with a bar where there are several and stderr is a terminal."""
    if len(things) < 2 or not stderr_is_terminal():
        return things
    from rich.console import Console
    from rich.progress import track

    return track(things, "judging", console=Console(stderr=True), transient=True)
