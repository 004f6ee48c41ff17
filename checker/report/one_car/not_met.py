"""What is not simply met, as text: what to put right, what is undecided, what rests on an approval."""

from __future__ import annotations

from collections.abc import Sequence

from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, TOO_CLOSE
from checker.report.amounts import Data, estimate_text
from checker.report.interpretations import interpretation_lines
from checker.report.one_car.columns import Columns, figure, text_column
from checker.report.one_car.missing import missing_text, sketch_text
from checker.report.one_car.sections import MANY, is_by_approval, is_told_as_advice
from checker.report.page import Page
from checker.report.wording import OUTCOME_COLOURS, chance_words, listed, outcome_word, times_in
from checker.report.words.error_free import error_free_words

_SECTIONS = ((FAIL, "Put right"), (TOO_CLOSE, "Too close to call"))


def not_met_text(document: Data, page: Page, *, sketch: bool, every_clause: bool) -> None:
    """Print what is not met, by what became of it.

    Args:
        sketch: More is not shown than is, so that is told in brief.
        every_clause: Each clause that is not shown is told, however many there are.
    """
    outcomes = document["outcomes"]
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


def _blocks(outcomes: Sequence[Data], title: str, page: Page, to: str) -> None:
    """A section with all that there is to say of each clause."""
    if not outcomes:
        return
    columns = Columns(outcomes)
    columns.heading(page, title, OUTCOME_COLOURS[outcomes[0]["outcome"]])
    column = text_column(outcomes)
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
