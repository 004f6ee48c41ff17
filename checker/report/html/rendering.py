"""HTML of our own: one self-contained page from a template and plain values.

Whatever is put in is text (autoescape), made harmless and with letters from right to left isolated, in every template
alike. A page asks for nothing: its one style sheet stands in it, named by its hash in a Content-Security-Policy that
allows nothing else. There is no script. A server of pages renders with the same environment, and sends style, script
and policy beside the page (`checker.pages.serving`).
"""

from __future__ import annotations

import base64
import hashlib
from functools import cache
from importlib.resources import files
from typing import Any

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape

from checker.reading.plain_text import printable
from checker.report.bidi import isolated
from checker.report.figure import Figure
from checker.report.figures.drawing import style_of


def render(template: str, **values: Any) -> str:
    """A page.

    Args:
        template: Its name, without `.html`.
        values: What it tells.
    """
    style = page_style()
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    page = environment().get_template(f"{template}.html")
    return page.render(style=Markup(style), policy=policy, **values) + "\n"


@cache
def page_style() -> str:
    """The style sheet of every page."""
    own = files(__package__ or "").joinpath("templates", "page.css").read_text("utf-8")
    return f"\n{style_of('colours')}{own}{style_of('figure')}"


@cache
def environment(*rooms: str) -> Environment:
    """What fills the templates of these packages; behind theirs stand those of the reports.

    A template of a report takes the frame of its page from `layout`, where that is handed in.
    """
    made = Environment(
        loader=ChoiceLoader([PackageLoader(room) for room in (*rooms, __package__ or "")]),
        autoescape=True,
        finalize=text,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["bare"] = bare
    made.filters["drawn"] = drawn
    return made


def text(value: object) -> Markup:
    """A value as text in a page."""
    if isinstance(value, Markup):
        return value
    told = escape(printable("" if value is None else str(value)))
    return Markup(isolated(told, lambda run: f"<bdi>{run}</bdi>"))


def bare(value: object) -> Markup:
    """A value as text where no element may stand: in a title or an attribute."""
    return escape(isolated(printable(str(value))))


def drawn(figure: Figure) -> Markup:
    """A picture in a page; its own maker escapes what stands in it."""
    return Markup(figure.svg)
