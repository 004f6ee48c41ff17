"""In words, what a plan could not reckon with: clauses that lack something or cannot be followed, things left out."""

from __future__ import annotations

from checker.report.amounts import Data
from checker.report.one_car.fuel import missing_words
from checker.report.page import Page
from checker.report.wording import listed


def clauses_named(numbers: list[str]) -> str:
    """ "clause 3.1", "clauses 3.1 and 3.2"."""
    return f"clause{'s' * (len(numbers) > 1)} {listed(numbers)}"


def put_lacking(document: Data, page: Page) -> None:
    """Clauses that cannot be planned for, and what is not stated for them."""
    by_words: dict[str, list[str]] = {}
    for one in document["declined"]:
        if one["not_shown"]:
            by_words.setdefault(missing_words(one["why"]), []).append(one["clause"])
    for words, clauses in by_words.items():
        named = clauses_named(clauses)
        page.put(f"{named[:1].upper()}{named[1:]} cannot be planned for: {words}.", 2, 4)


def may_be_done(document: Data) -> str:
    """What was tried, in words: not all that may be done where some of it could not be reckoned with."""
    return "could be reckoned with" if document["left_out"] else "may be done"


def not_reckoned_words(document: Data) -> list[str]:
    """Clauses that no plan can follow, though nothing is lacking; and things that were left out."""
    clauses = [
        f"clause {one['clause']} was not planned by: {missing_words(one['why'])}"
        for one in document["declined"]
        if not one["not_shown"]
    ]
    return clauses + [
        f"{one['what']} is left out: {missing_words(one['why'])}" for one in document["left_out"]
    ]
