"""A screen that is drawn again in place; the library that draws it is loaded only where one is shown."""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import TracebackType
from typing import TYPE_CHECKING

from checker.cli import output
from checker.report.page import Page

if TYPE_CHECKING:
    from rich.live import Live


class Screen:
    """The whole terminal, given back as it was when the screen is left."""

    _live: Live

    def __enter__(self) -> Screen:
        output.make_way(for_good=True)
        from rich.console import Console
        from rich.live import Live

        self._console = Console(file=sys.stdout, no_color=not output.in_colour(), highlight=False)
        self._live = Live(console=self._console, screen=True, auto_refresh=False)
        self._live.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._live.stop()

    @property
    def lines(self) -> int:
        """How many lines there are now."""
        return self._console.size.height

    def show(self, draw: Callable[[Page], None]) -> None:
        """Draw a page in the place of the one before, as wide as the terminal is now.

        Raises:
            NotWrittenError: It could not be written.
        """
        from rich.text import Text

        page = Page(self._console.size.width, colour=output.in_colour())
        draw(page)
        with output.told_in_words("the screen"):
            self._live.update(Text.from_ansi(page.text(), no_wrap=True), refresh=True)
