"""What a terminal shows while a command works: a bar for many cars, for anything else since when it has.

The library that draws it is loaded only where it is shown.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

from checker.cli import output
from checker.cli.output import stderr_is_terminal

if TYPE_CHECKING:
    from threading import Timer

    from rich.progress import Progress

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
    output.make_way(for_good=True)
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("judging"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(file=sys.stderr), transient=True, redirect_stdout=False) as bar:
        task = bar.add_task("judging", total=total)
        for thing in things:
            yield thing
            bar.advance(task)


PATIENCE_S = 1.0
"""How long nothing may be printed before a line says that the command works."""


@contextmanager
def working() -> Iterator[None]:
    """Say, where stderr is a terminal, that the command works and since when, until it prints or asks something."""
    if not stderr_is_terminal():
        yield
        return
    line = _Working()
    output.before_printing(line.hide)
    try:
        yield
    finally:
        line.hide(for_good=True)
        output.before_printing(None)


class _Working:
    """The line, shown by a thread of its own once nothing was printed for a while, and gone before anything is."""

    def __init__(self) -> None:
        from threading import Lock

        self._lock = Lock()
        self._timer: Timer | None = None
        self._shown: Progress | None = None
        self._wait()

    def _wait(self) -> None:
        from threading import Timer

        self._timer = Timer(PATIENCE_S, self._show)
        self._timer.daemon = True
        self._timer.start()

    def _show(self) -> None:
        from rich.console import Console
        from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

        columns = (SpinnerColumn("line"), TextColumn("working"), TimeElapsedColumn())
        console = Console(file=sys.stderr)
        shown = Progress(
            *columns, console=console, transient=True, redirect_stdout=False, redirect_stderr=False
        )
        shown.add_task("working", total=None)
        with self._lock:
            if self._timer is not None:
                self._shown = shown
                shown.start()

    def hide(self, *, for_good: bool) -> None:
        """Take the line away, for good or until nothing was printed for a while again."""
        with self._lock:
            timer, self._timer = self._timer, None
            shown, self._shown = self._shown, None
            if timer is not None:
                timer.cancel()
            if shown is not None:
                shown.stop()
        if timer is not None and not for_good:
            self._wait()
