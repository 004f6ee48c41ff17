"""How and where a command's result is printed: the options that say so, and the result put there."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import wraps
from typing import TYPE_CHECKING, TypeVar

import click

from checker.cli import output
from checker.cli.endings import written_there, wrong_ending
from checker.reading.quick_dataclasses import dataclass
from checker.report.json_text import json_text
from checker.report.page import NARROWEST, WIDEST, Page

if TYPE_CHECKING:
    from checker.report.amounts import Data
    from checker.report.figure import Figure

T = TypeVar("T")

_PAGES = ("html", "pdf")

_FORMS = {
    "json": "json prints documents, one a line, and nothing else.",
    "markdown": "markdown is for publishing.",
    "html": "html is one page for a browser and for paper, which asks for nothing else.",
    "pdf": "pdf is the same page on paper.",
    "svg": "svg is one picture of it.",
    "gnu": "gnu prints a line for each, as editors and build tools read it.",
}
_OUTPUT = click.option(
    "--output", "file", metavar="FILE", help="Write the result to a file, all at once or not at all."
)
_WIDTH = click.option(
    "--width", type=click.IntRange(NARROWEST, WIDEST), metavar="COLUMNS",
    help=f"Columns of text, {NARROWEST} to {WIDEST}. Without it: those of the terminal, else 80.",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Printing:
    """How and where to print; without options as text on stdout."""

    form: str = "text"
    file: str | None = None
    width: int | None = None
    picture: str | None = None
    """Which picture is asked for, by its name; the first that there is where none is."""
    option: str = "--output"
    """The option that gave the file's name."""

    def refuse_overwriting(self, *inputs: str | None) -> None:
        """Refuse a file to write to that is a folder, one that is being read, or YAML that is there already: a report
        can be made again, what somebody filled in cannot.

        Raises:
            click.UsageError: It is one of them.
        """
        if self.file is None:
            return
        if os.path.isdir(self.file):
            raise click.UsageError(f"{self.option} {self.file} is a folder; give the name of a file")
        for name in inputs:
            if name is not None and _is_same_file(self.file, name):
                raise click.UsageError(
                    f"{self.option} {self.file} would overwrite what is read; give another name"
                )
        if self.form == "yaml" and os.path.isfile(self.file):
            raise click.UsageError(
                f"{self.option} {self.file} is there already; give another name, or take that file away"
            )

    def page(self) -> Page:
        """A page as wide as asked for or as the terminal; in colour only on a terminal."""
        if self.is_page or self.form == "svg":
            from checker.report.html.sheet import Sheet

            return Sheet()
        if self.file is not None:
            return Page(self.width or 80)
        return Page(self.width or output.width_of_terminal(), colour=output.in_colour())

    @contextmanager
    def paged(self) -> Iterator[Page]:
        """A page to write on, which is printed when it is done."""
        page = self.page()
        yield page
        self._finished([page])

    def text(self, text: str) -> None:
        output.deliver(text, self.file)

    def pages(self, things: Iterable[T], write: Callable[[T, Page], None]) -> None:
        """Print each thing on a page of its own."""
        written = []
        for thing in things:
            page = self.page()
            write(thing, page)
            written.append(page)
        self._finished(written)

    def _finished(self, pages: list[Page]) -> None:
        if not self.is_page and self.form != "svg":
            self.text("\f".join(page.text() for page in pages))
            return
        from checker.report.html.sheet import Sheet, sheets_page

        sheets = [page for page in pages if isinstance(page, Sheet)]
        if self.is_page:
            self.laid_out(sheets_page(sheets))
        else:
            self.drawn([figure for sheet in sheets for figure in sheet.figures])

    @property
    def is_page(self) -> bool:
        """Whether a page of HTML is wanted, as it is or as PDF."""
        return self.form in _PAGES

    def laid_out(self, page: str) -> None:
        """Print a page of HTML, or as PDF where that is wanted.

        Raises:
            NotWrittenError: What makes PDF is not installed, or it cannot be written.
        """
        if self.form != "pdf":
            self.published(page)
            return
        from checker.report.html.pdf import NoPdfError, as_pdf

        try:
            made = as_pdf(page)
        except NoPdfError as error:
            raise output.NotWrittenError(str(error)) from None
        output.write_bytes(str(self.file), made)

    def drawn(self, figures: Sequence[Figure]) -> None:
        """Print the picture that is asked for.

        Raises:
            click.UsageError: There is none such, as what it shows is not known.
        """
        chosen = next((one for one in figures if self.picture in (None, one.name)), None)
        if chosen is None:
            there = f": there is {', '.join(one.name for one in figures)}" if figures else ""
            raise click.UsageError(
                f"what the picture {self.picture or ''} shows is not known{there}".replace("  ", " ")
            )
        from checker.report.figures.drawing import as_file

        self.published(as_file(chosen))

    def published(self, text: str | Iterable[str]) -> None:
        """Print what is for other programs, and so in UTF-8 whatever the terminal shows; parts of it as they come."""
        output.deliver(text, self.file, utf8=True)

    def json(self, documents: Iterable[Data]) -> None:
        """Print documents, a line for each."""
        self.published("".join(json_text(one) for one in documents))

    def document(self, document: Data, write: Callable[[Data, Page], None]) -> None:
        """Print a document as JSON, or as the text that `write` makes of it."""
        if self.form == "json":
            self.json([document])
        else:
            with self.paged() as page:
                write(document, page)


def printing_as(
    *forms: str,
    width: bool = True,
    plain: str = "text",
    otherwise: Mapping[str, str] | None = None,
    pictures: Sequence[str] = (),
) -> Callable[[Callable[..., int]], Callable[..., int]]:
    """Have a command take how to print, as `printing`: in which form, where, how wide.

    Args:
        forms: What may be asked for beside the plain form.
        width: Whether it may be told how wide.
        plain: What it writes where no form is asked for.
        otherwise: By the name of an option: what is written in its place where that is given.
        pictures: Names of the pictures of which one may be asked for.
    """

    def add(function: Callable[..., int]) -> Callable[..., int]:
        @wraps(function)
        def command(
            *args: object,
            file: str | None,
            form: str = plain,
            width: int | None = None,
            picture: str | None = None,
            **more: object,
        ) -> int:
            if form == "pdf" and file is None:
                raise click.UsageError("--format pdf writes a file: give its name, such as --output car.pdf")
            if picture is not None and form != "svg":
                raise click.UsageError("--picture is for --format svg")
            written = written_there(plain, form, more, otherwise or {})
            if file and written and (wrong := wrong_ending(file, written)):
                raise click.UsageError(f"--output {wrong}")
            return function(*args, printing=Printing(form, file, width, picture), **more)

        every = (*forms, *["pdf"] * ("html" in forms), *["svg"] * bool(pictures))
        options = [_form_option(every, plain)] * bool(forms) + [_OUTPUT] + [_WIDTH] * width
        if len(pictures) > 1:
            options.append(_picture_option(pictures))
        for option in reversed(options):
            command = option(command)
        return command

    return add


def _picture_option(names: Sequence[str]) -> Callable[[Callable[..., int]], Callable[..., int]]:
    about = "Which picture, with --format svg. Without it: the first that there is."
    return click.option("--picture", type=click.Choice(names), help=about)


def _form_option(forms: tuple[str, ...], plain: str) -> Callable[[Callable[..., int]], Callable[..., int]]:
    about = " ".join(_FORMS[form] for form in forms)
    choice = click.Choice([plain, *forms])
    return click.option(
        "--format", "form", type=choice, default=plain, show_default=True, is_eager=True, help=about
    )


printing = printing_as("json", "html")
"""For commands that make a document."""
text_printing = printing_as()


def writing(form: str) -> Callable[[Callable[..., int]], Callable[..., int]]:
    """For commands whose result has one form, whatever the screen is like."""
    return printing_as(width=False, plain=form)


def _is_same_file(one: str, other: str) -> bool:
    return os.path.isfile(one) and os.path.exists(other) and os.path.samefile(one, other)
