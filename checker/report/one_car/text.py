"""One inspection as text: the car and its verdict, what to put right, what is undecided, what is closest to its limit.

What presses stands first and says what to do; the counts and the caution stand last, where a terminal stops
scrolling.
"""

from __future__ import annotations

from checker.kinds.judging.assessment import NOT_SHOWN, PASS
from checker.report.amounts import Data
from checker.report.one_car.columns import Columns, figure, put_doubt, text_column
from checker.report.one_car.sections import COUNTED, MANY, TIGHTEST, is_sketch, is_told_as_advice, is_told_of
from checker.report.page import BOLD, DIM, Page
from checker.report.wording import (
    OUTCOME_COLOURS,
    car_words,
    caution_words,
    counts_sentence,
    outcome_word,
    result_colour,
    result_sentence,
    rules_words,
    verdict_words,
)


def inspection_text(
    document: Data, page: Page, *, every_clause: bool = False, all_assumed: bool = False
) -> None:
    """Print an inspection's document on a page.

    Args:
        every_clause: List every clause of the pack too.
        all_assumed: List all that is assumed, not only how much.
    """
    outcomes = document["outcomes"]
    sketch = is_sketch(document) and not every_clause
    identity(document, page, verdict_words(document), result_colour(document), why=not sketch)
    if any(is_told_of(outcome) for outcome in outcomes):
        from checker.report.one_car.not_met import not_met_text

        not_met_text(document, page, sketch=sketch, every_clause=every_clause)
    if every_clause:
        _every_clause(document, page)
        if sum(o["outcome"] == NOT_SHOWN for o in outcomes) > MANY:
            from checker.report.one_car.missing import missing_list

            missing_list(document, page)
    else:
        _tightest(document, page)
    if document["assumed"] and not sketch:
        _assumed(document, page, whole=all_assumed or every_clause)
    page.blank()
    if not sketch:
        page.put(counts_sentence(document))
    page.put(result_sentence(document), style=result_colour(document))
    page.put(caution_words(page), style=DIM)


def _assumed(document: Data, page: Page, *, whole: bool) -> None:
    """What the verdict rests on beside what is stated: how much, or all of it; what cannot be counted, always."""
    sorts = document["assumed_sorts"]
    listed = [
        sentence
        for sentence, sort in zip(document["assumed"], sorts, strict=True)
        if whole or sort not in COUNTED
    ]
    if not whole:
        if told := assumed_words(document):
            page.blank()
            page.labelled("ASSUMED", f"{told}; --assumed lists all", 9, 0, BOLD)
    else:
        page.heading("Assumed")
    for sentence in listed:
        page.put(f"{sentence}.", 2, 4, DIM)


def assumed_words(document: Data) -> str:
    """How much of each sort is assumed."""
    sorts = document["assumed_sorts"]
    word = "your word" if document["for"] == "entrant" else "the entrant's word"
    return ", ".join(
        words.format(sorts.count(sort), word) for sort, words in COUNTED.items() if sort in sorts
    )


def identity(document: Data, page: Page, verdict: str, colour: str, *, why: bool = True) -> None:
    """Who was judged, by what, for which day, and the digests that tell the files.

    Args:
        verdict: Stands at the right of the car, in `colour`.
        why: Tell why that edition counts.
    """
    pack = document["pack"]
    page.heading(car_words(document), colour, figure=verdict)
    page.labelled("rules", rules_words(document), _FIRST_COLUMN, 2)
    if why and pack["because"]:
        page.put(pack["because"], _FIRST_COLUMN)
    viewed = "entrant" if document["for"] == "entrant" else "official"
    page.labelled("judged", f"for {document['on']}, {viewed}'s check", _FIRST_COLUMN, 2)
    digests = f"pack {pack['sha256'][:12]}, car {document['car']['sha256'][:12]}"
    if document["readings"] is not None:
        digests += f", readings {document['readings']['sha256'][:12]}"
    if document["gear"] is not None:
        digests += f", gear {document['gear']['sha256'][:12]}"
    page.labelled("sha256", digests, _FIRST_COLUMN, 2)
    for change in document["what_if"]:
        page.labelled("what if", change, _FIRST_COLUMN, 2, OUTCOME_COLOURS[NOT_SHOWN])
    if document.get("unplanned"):
        page.put(document["unplanned"], _FIRST_COLUMN)


_FIRST_COLUMN = 11


def _tightest(document: Data, page: Page) -> None:
    """The clauses that are met with the least in hand, as a share of their limits."""
    by_number = {o["clause"]: o for o in document["outcomes"]}
    met = [by_number[n] for n in document["most_pressing"] if by_number[n]["outcome"] == PASS][:TIGHTEST]
    if not met:
        return
    columns, column = Columns(met), text_column(met)
    columns.heading(page, "Closest to the limit")
    for outcome in met:
        page.row(outcome["title"], columns.figures(outcome, page), 2, column, label=outcome["clause"])
        put_doubt(outcome, page, column)
        if outcome["condition"] is not None:
            page.put(outcome["condition"]["state"], column, style=DIM)


def _every_clause(document: Data, page: Page) -> None:
    """Every clause in the rulebook's order, each with its outcome in a word, margin and what was found."""
    page.heading("Every clause")
    outcomes = document["outcomes"]
    column = text_column(outcomes)
    for outcome in outcomes:
        word = "advice" if is_told_as_advice(outcome) else outcome_word(outcome["outcome"], document["for"])
        told = f"{word} {figure(outcome)}".rstrip()
        style = OUTCOME_COLOURS.get(outcome["outcome"], DIM)
        page.row(outcome["title"], told, 2, column, style, label=outcome["clause"])
        reason = outcome["text"] or "; ".join(outcome["not_shown"])
        if reason:
            page.put(reason, column, style=DIM)
