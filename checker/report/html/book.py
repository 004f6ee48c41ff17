"""A Markdown document of our own as a page: the rulebook.

markdown-it-py, which rich brings along, makes the HTML; HTML within the Markdown stays text. A heading gets the name
that the document's own links give it (`checker.report.rulebook.markdown`).
"""

from __future__ import annotations

from itertools import pairwise

from markdown_it import MarkdownIt
from markupsafe import Markup

from checker.report.html.rendering import render
from checker.report.rulebook.markdown import heading_name


def markdown_page(markdown: str) -> str:
    """The page; its title is the first heading."""
    reader = MarkdownIt("commonmark", {"html": False}).enable("table")
    tokens = reader.parse(markdown)
    told: dict[str, int] = {}
    title = ""
    for opening, inside in pairwise(tokens):
        if opening.type == "heading_open":
            words = "".join(
                one.content for one in inside.children or [] if one.type in ("text", "code_inline")
            )
            title = title or words
            opening.attrSet("id", heading_name(words, told))
        elif opening.type in ("th_open", "td_open"):
            opening.attrs.pop("style", None)  # the page allows its own style sheet alone
    made = reader.renderer.render(tokens, reader.options, {})
    made = made.replace(
        "<table>", '<div class="across" tabindex="0" role="region" aria-label="Table"><table>'
    )
    return render("book", title=title or "Rulebook", body=Markup(made.replace("</table>", "</table></div>")))
