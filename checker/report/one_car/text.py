"""One inspection as text: the car and its verdict, what to put right, what is undecided, what is closest to its limit.

What presses stands first and says what to do; the counts and the caution stand last, where a terminal stops
scrolling.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.kinds.judging.assessment import DISPENSATION, FAIL, NOT_SHOWN, PASS, TOO_CLOSE
from checker.pack.model import ADVISORY
from checker.report.amounts import Data, estimate_text
from checker.report.interpretations import interpretation_lines
from checker.report.one_car.columns import Columns, figure
from checker.report.one_car.missing import MANY, is_sketch, missing_list, missing_text, sketch_text
from checker.report.page import BOLD, DIM, Page
from checker.report.wording import (
    OUTCOME_COLOURS,
    car_words,
    caution_words,
    chance_words,
    counts_sentence,
    listed,
    outcome_word,
    result_colour,
    result_sentence,
    rules_words,
    times_in,
    verdict_words,
)
from checker.report.words.error_free import error_free_words

TIGHTEST = 5
"""How many of the clauses that are closest to their limits are listed."""

_SECTIONS = ((FAIL, "Put right"), (TOO_CLOSE, "Too close to call"))


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
    unchecked = (NOT_SHOWN, outcome_word(NOT_SHOWN, document["for"]))
    for outcome, title in (*_SECTIONS, unchecked):
        found = [o for o in outcomes if o["outcome"] == outcome and not is_told_as_advice(o)]
        if outcome == NOT_SHOWN and sketch:
            sketch_text(document, page)
        elif outcome == NOT_SHOWN and len(found) > MANY and not every_clause:
            missing_text(document, found, page)
        else:
            _blocks(found, title, page, document["for"])
    _blocks([o for o in outcomes if is_by_approval(o)], "By an approval", page, document["for"])
    advice = [o for o in outcomes if is_told_as_advice(o) and not (sketch and o["outcome"] == NOT_SHOWN)]
    _blocks(advice, "Advisory only", page, document["for"])
    _together(document, page)
    if every_clause:
        _every_clause(document, page)
        if sum(o["outcome"] == NOT_SHOWN for o in outcomes) > MANY:
            missing_list(document, page)
    elif not sketch:
        _tightest(document, page)
    if document["assumed"] and not sketch:
        _assumed(document, page, whole=all_assumed or every_clause)
    page.blank()
    if not sketch:
        page.put(counts_sentence(document))
    page.put(result_sentence(document), style=result_colour(document))
    page.put(caution_words(page), style=DIM)


_COUNTED = {
    "entrants_word": "{} on {}",
    "not_stated": "{} not stated and taken as usual",
    "scales": "{} about the scales",
    "no_error_stated": "readings without a stated error as exact",
}


def _assumed(document: Data, page: Page, *, whole: bool) -> None:
    """What the verdict rests on beside what is stated: how much, or all of it; what cannot be counted, always."""
    sorts = document["assumed_sorts"]
    listed = [
        sentence
        for sentence, sort in zip(document["assumed"], sorts, strict=True)
        if whole or sort not in _COUNTED
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
        words.format(sorts.count(sort), word) for sort, words in _COUNTED.items() if sort in sorts
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


def _together(document: Data, page: Page) -> None:
    """What makes every clause on weights pass at once, where no act alone says it."""
    together = document["together"]
    if together is None:
        return
    page.heading("Together", OUTCOME_COLOURS[FAIL])
    if together["enough"]:
        still = listed(together["not_shown"])
        but = (
            f" that is shown, while {still} {'is' if len(together['not_shown']) == 1 else 'are'} not"
            if still
            else ""
        )
        page.put(f"{together['text']}: then every clause on weights is met{but}.", 2)
    else:
        page.put(
            "Nothing that was tried, adding, removing or moving weight, makes every clause on weights pass.",
            2,
        )


def is_by_approval(outcome: Data) -> bool:
    """Met only because the organising body has permitted it."""
    return outcome["approval"] is not None and outcome["outcome"] in (DISPENSATION, PASS)


def is_told_as_advice(outcome: Data) -> bool:
    return outcome["severity"] == ADVISORY and outcome["outcome"] in (FAIL, TOO_CLOSE, NOT_SHOWN)


def _column(outcomes: Sequence[Data]) -> int:
    """Where text begins to the right of clause numbers."""
    return min(12, 4 + max(len(o["clause"]) for o in outcomes))


def _blocks(outcomes: Sequence[Data], title: str, page: Page, to: str) -> None:
    """A section with all that there is to say of each clause."""
    if not outcomes:
        return
    columns = Columns(outcomes)
    columns.heading(page, title, OUTCOME_COLOURS[outcomes[0]["outcome"]])
    column = _column(outcomes)
    for place, outcome in enumerate(outcomes):
        if place:
            page.blank()
        clause_block(outcome, page, column, to, columns)


def clause_block(outcome: Data, page: Page, column: int, to: str, columns: Columns | None = None) -> None:
    """One clause that is not simply met: its figures, what was found, in which state, and what to do."""
    colour = OUTCOME_COLOURS.get(outcome["outcome"], "")
    told = figure(outcome) if columns is None else columns.figures(outcome, page)
    page.row(outcome["title"], told, 2, column, colour, label=outcome["clause"])
    if outcome["items"]:
        for item in outcome["items"]:
            page.put(f"- {item_words(item, to)}", column, column + 2)
    elif outcome["text"] and not (columns is not None and outcome["figures_tell"]):
        page.put(outcome["text"], column)
    if not outcome["items"]:
        for reason in outcome["not_shown"]:
            page.put(reason, column, column + 2)
    if outcome["uncertainty"] is not None or outcome["taken_as_exact"]:
        page.labelled("error", error_words(outcome), column + 7, column)
    if outcome["condition"] is not None:
        page.labelled("when", outcome["condition"]["state"], column + 7, column)
    if outcome["fuel_text"]:
        page.put(outcome["fuel_text"], column + 7)
    for label, words in (
        ("do", outcome["act"]),
        ("then", outcome["penalty"]),
        ("then", outcome["consequence"]),
        ("note", outcome["interpretation"]),
        *interpretation_lines(outcome["interpretations"]),
        ("by", _approval_words(outcome, to)),
    ):
        if words:
            page.labelled(label, words, column + 7, column)


def _approval_words(outcome: Data, to: str) -> str:
    """The approval that an outcome rests on, and what it would have been without."""
    if outcome["approval"] is None:
        return ""
    without = outcome["without"]
    if without is None:
        return f"approval {outcome['approval']}"
    told = without["text"] or "; ".join(without["not_shown"])
    word = outcome_word(without["outcome"], to)
    return f"approval {outcome['approval']}; without it: {word}" + (f", {told}" if told else "")


def error_words(outcome: Data) -> str:
    """How well a margin is known.

    "margin known to ±0.66 kg, 9 times in 10 (k = 1.64); 73 chances in 100 that it is met", or, where some reading has
    no stated error, what is open by the others alone, without a ± and a probability.
    """
    uncertainty, probability = outcome["uncertainty"], outcome["probability"]
    exact = error_free_words(outcome["taken_as_exact"])
    which = "it" if len(exact) == 1 else "them"
    unknown = f"taken as exact, as no error of {which} is stated: {', '.join(exact)}"
    if uncertainty is None:
        return unknown
    unit = f" {uncertainty['unit']}" if uncertainty["unit"] else ""
    open_by, k = f"{estimate_text(uncertainty['expanded'])}{unit}", f"(k = {uncertainty['k']:.3g})"
    if exact:
        return f"{open_by} left open by what is stated {k}; {unknown}"
    told = f"margin known to ±{open_by}, {times_in(uncertainty['covers'])} {k}"
    return told if probability is None else f"{told}; {chance_words(probability)}"


def item_words(item: Data, to: str) -> str:
    """One of several things that are not met."""
    told = item["text"] or "; ".join(item["not_shown"]) or outcome_word(item["outcome"], to)
    name = f"{item['item']}: " if item["item"] and item["item"] not in told else ""
    return name + told + (f" ({item['count']} of these)" if item["count"] > 1 else "")


def _tightest(document: Data, page: Page) -> None:
    """The clauses that are met with the least in hand, as a share of their limits."""
    by_number = {o["clause"]: o for o in document["outcomes"]}
    met = [by_number[n] for n in document["most_pressing"] if by_number[n]["outcome"] == PASS][:TIGHTEST]
    if not met:
        return
    columns, column = Columns(met), _column(met)
    columns.heading(page, "Closest to the limit")
    for outcome in met:
        page.row(outcome["title"], columns.figures(outcome, page), 2, column, label=outcome["clause"])
        if outcome["condition"] is not None:
            page.put(outcome["condition"]["state"], column, style=DIM)


def _every_clause(document: Data, page: Page) -> None:
    """Every clause in the rulebook's order, each with its outcome in a word, margin and what was found."""
    page.heading("Every clause")
    outcomes = document["outcomes"]
    column = _column(outcomes)
    for outcome in outcomes:
        word = "advice" if is_told_as_advice(outcome) else outcome_word(outcome["outcome"], document["for"])
        told = f"{word} {figure(outcome)}".rstrip()
        style = OUTCOME_COLOURS.get(outcome["outcome"], DIM)
        page.row(outcome["title"], told, 2, column, style, label=outcome["clause"])
        reason = outcome["text"] or "; ".join(outcome["not_shown"])
        if reason:
            page.put(reason, column, style=DIM)
