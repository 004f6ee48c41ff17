"""Reading, limit and margin of clauses in columns, as they stand at the right of a report."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.kinds.judging.assessment import PASS
from checker.quantities.display import decimal_text
from checker.quantities.rounding import round_to
from checker.quantities.sense import Sense
from checker.report.amounts import Data, shown
from checker.report.page import Page
from checker.report.wording import BENEFIT

HEADS = ("reading", "limit", "margin")

_LIMITS: dict[str, str] = {
    Sense.AT_LEAST: "min",
    Sense.AT_MOST: "max",
    Sense.ABOVE: "over",
    Sense.BELOW: "under",
    Sense.EXACTLY: "exactly",
    Sense.NOMINAL: "nom",
}


def figure(outcome: Data) -> str:
    """The margin, where it is a distance; what is met exactly, and how many words offend, is told in the text."""
    margin, bound = outcome["margin"], outcome["bound"]
    if margin is None or (margin["unit"] is None and (bound is None or bound["exact"] is None)):
        return ""
    if bound is not None and bound["kind"] == Sense.EXACTLY and margin["exact"] == "0/1":
        return ""
    return shown(margin, signed=True)


def doubt_words(outcome: Data) -> str:
    """Why a clause is met with a margin below zero; "" where it is not."""
    margin = outcome["margin"]
    return BENEFIT if outcome["outcome"] == PASS and margin and margin["exact"].startswith("-") else ""


def put_doubt(outcome: Data, page: Page, column: int) -> None:
    """The same on a line of its own, below the margin."""
    if words := doubt_words(outcome):
        page.put(words, column)


def in_a_table(outcome: Data) -> tuple[str, ...]:
    """A clause with its figures as a table's row."""
    title, doubt = f"{outcome['clause']} {outcome['title']}", doubt_words(outcome)
    return (f"{title}, {doubt}" if doubt else title, *figures(outcome))


def figures(outcome: Data) -> tuple[str, str, str]:
    """Reading, limit and margin, each "" where it is no figure."""
    margin, bound = figure(outcome), outcome["bound"]
    if not margin or bound is None:
        return "", "", margin
    if bound["kind"] not in _LIMITS:
        return "", f"{bound['kind'].replace('_', ' ').removeprefix('valid ')} {shown(bound)}", margin
    return _reading(outcome), f"{_LIMITS[bound['kind']]} {shown(bound)}", margin


def _reading(outcome: Data) -> str:
    """The value with no more decimals than its margin has, rounded as that is, where the two then make up the limit.

    Elsewhere (the limit is rounded too, the margin is in sixteenths of an inch) as values are shown everywhere.
    """
    value, margin, bound = outcome["value"], outcome["margin"], outcome["bound"]
    if value is None or value["exact"] is None or value["unit"] != margin["unit"]:
        return shown(value)
    if bound["kind"] == Sense.NOMINAL:  # the margin is no distance to it
        return shown(value)
    places, own = (len(one["value"].partition(".")[2]) for one in (margin, value))
    if not 0 < places < own or not all(_is_decimal(one["value"]) for one in (value, margin, bound)):
        return shown(value)
    toward = "up" if bound["kind"] in (Sense.AT_MOST, Sense.BELOW) else "down"
    rounded = round_to(Fraction(value["exact"]), Fraction(1, 10**places), toward)
    if abs(Fraction(bound["value"]) - rounded) != abs(Fraction(margin["value"])):
        return shown(value)
    return shown({**value, "value": decimal_text(rounded, places)})


def _is_decimal(text: str) -> bool:
    return text.lstrip("-").replace(".", "").isdigit()


class Columns:
    """The columns of one section, as wide as their widest cell.

    Args:
        outcomes: Clauses, or parts of some, that stand in the section.
    """

    def __init__(self, outcomes: Sequence[Data]) -> None:
        cells = [figures(outcome) for outcome in outcomes]
        self._any = any(limit for _, limit, _ in cells)
        self._widths = [max(map(len, column)) for column in zip(HEADS, *cells, strict=True)]

    def heading(self, page: Page, title: str, colour: str = "") -> None:
        """The section's title, with the columns' heads where they fit."""
        heads = self._row(HEADS) if self._any and self._fit(page) else ""
        page.heading(title, colour, figure=heads if len(title) + len(heads) + 2 <= page.width else "")

    def figures(self, outcome: Data, page: Page) -> str:
        """The figures of a clause as they stand at the right, or in a sentence where the page is too narrow."""
        reading, limit, margin = figures(outcome)
        if not self._any or not (reading or limit):
            return margin
        if self._fit(page):
            return self._row((reading, limit, margin))
        return ", ".join(filter(None, (reading, limit, margin)))

    def _fit(self, page: Page) -> bool:
        return sum(self._widths) + 4 <= page.width // 2 + 4

    def _row(self, cells: Sequence[str]) -> str:
        reading, limit, margin = self._widths
        return f"{cells[0]:>{reading}}  {cells[1]:<{limit}}  {cells[2]:>{margin}}"


def text_column(outcomes: Sequence[Data]) -> int:
    """Where text begins to the right of clause numbers."""
    return min(12, 4 + max(len(o["clause"]) for o in outcomes))
