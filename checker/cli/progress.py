"""A bar on the terminal while many cars are judged; the library that draws it is loaded only where one is shown."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from checker.cli.output import stderr_is_terminal

T = TypeVar("T")


def each(things: Sequence[T]) -> Iterator[T]:
    """The things one by one; with a bar where there are several and stderr is a terminal."""
    return each_of(things, lambda: len(things))


def each_of(things: Iterable[T], count: Callable[[], int]) -> Iterator[T]:
    """The same of things that cannot all be held at once.

    Args:
        count: How many there will be; asked only where a bar is shown.
    """
    total = count() if stderr_is_terminal() else 0
    return _with_bar(things, total) if total > 1 else iter(things)


def _with_bar(things: Iterable[T], total: int) -> Iterator[T]:
    """The things one by one, under a bar that is gone when they are through."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("judging"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(file=sys.stderr), transient=True, redirect_stdout=False) as bar:
        task = bar.add_task("judging", total=total)
        for thing in things:
            yield thing
            bar.advance(task)
