"""A page of ours as PDF: tagged, so that it is read aloud in order, and the same bytes for the same page.

WeasyPrint lays it out by the page's own rules for print; nothing is fetched, for a page stands alone.
"""

from __future__ import annotations

import logging
import re
from typing import NoReturn

from checker.report.figures.drawing import style_of


class NoPdfError(Exception):
    """What makes PDF cannot be used; the text is fit for a user."""


def as_pdf(page: str) -> bytes:
    """PDF/UA of a whole page of HTML.

    Raises:
        NoPdfError: WeasyPrint, or a library of the system that it needs, is not installed.
    """
    try:
        from weasyprint import CSS, HTML
    except ImportError:
        raise NoPdfError(f"what writes PDF is not installed: {_LIBRARY}; {_OTHERWISE}") from None
    except OSError:
        raise NoPdfError(
            f"what writes PDF lacks Pango, a library of the system: {_SYSTEM}; {_OTHERWISE}"
        ) from None
    logging.getLogger("weasyprint").setLevel(
        logging.CRITICAL
    )  # of rules for screens that paper has no use for
    made: bytes = HTML(string=_with_looks(page), url_fetcher=_nothing).write_pdf(
        stylesheets=[CSS(string=_PAPER, url_fetcher=_nothing)], pdf_variant="pdf/ua-1"
    )
    return made


_LIBRARY = "pip install 'scrutineering-checker[pdf]'"
_SYSTEM = "on Debian, apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
_OTHERWISE = "or write --format html and print it from a browser"
_PAPER = """
body { overflow-wrap: break-word }
details:not([open]) { display: none }
.verdict { flex-wrap: nowrap }
.clause h3 { display: block }
.clause .margin { float: right }
"""
"""What is closed a browser leaves out; the rest, WeasyPrint lays out otherwise than one."""


def _with_looks(page: str) -> str:
    """The page with the looks of its pictures within each, and their colours said: WeasyPrint takes them from there."""
    paper = style_of("colours").rpartition("@media print")[2]
    colours = dict(_COLOUR.findall(paper))
    drawn = _HALO.sub("", style_of("figure"))
    looks = _NAMED.sub(lambda found: colours[found[1]], drawn)
    short = _TEXT.sub(lambda found: _LONG.sub(r"\1<wbr>", found[0]), page)
    return _PICTURE.sub(lambda found: f"{found[0]}<style>{looks}</style>", short)


_COLOUR, _NAMED = re.compile(r"(--\w+): ([^;]+);"), re.compile(r"var\((--\w+)\)")
_HALO = re.compile(r"svg text\.halo {[^}]*}")
"""It would be painted over the letters."""
_LETTER = r"(?:[^\s<>&;]|&[#\w]+;)"
_TEXT = re.compile(r">[^<]{100,}<(?!/(?:title|desc|text|style))")
_LONG = re.compile(rf"({_LETTER}{{40}})(?={_LETTER}{{60}})")
"""A word of 10,000 letters would be laid out letter by letter, for minutes."""
_PICTURE = re.compile(r'<svg class="figure [^>]*>')


def _nothing(url: str, *_: object, **__: object) -> NoReturn:
    raise ValueError(f"a page asks for nothing, and so not for {url}")
