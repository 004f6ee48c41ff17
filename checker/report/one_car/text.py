"""One inspection as text: identity, what fails, what is not settled, the tightest margins, and the result.

What presses stands first and says what to do; the result and the caution stand last, where a terminal stops
scrolling.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.kinds.judging.assessment import DISPENSATION, FAIL, NOT_SHOWN, PASS, TOO_CLOSE
from checker.pack.model import ADVISORY
from checker.quantities.sense import Sense
from checker.report.amounts import Data, estimate_text, shown
from checker.report.interpretations import interpretation_lines
from checker.report.one_car.missing import MANY, is_sketch, missing_list, missing_text, sketch_text
from checker.report.page import DIM, Page
from checker.report.wording import (
    CAUTION,
    OUTCOME_COLOURS,
    OUTCOME_WORDS,
    car_words,
    counts_sentence,
    listed,
    result_colour,
    result_sentence,
    rules_words,
    times_in,
)
from checker.report.words.error_free import error_free_words

TIGHTEST = 5
"""How many of the tightest margins are listed."""

_SECTIONS = (
    (FAIL, "Fails"),
    (TOO_CLOSE, "Too close to call"),
    (NOT_SHOWN, "Not shown"),
)


def inspection_text(document: Data, page: Page, *, every_clause: bool = False) -> None:
    """Print an inspection's document on a page.

    Args:
        every_clause: List every clause of the pack too.
    """
    outcomes = document["outcomes"]
    sketch = is_sketch(document) and not every_clause
    identity(document, page, why=not sketch)
    for outcome, title in _SECTIONS:
        found = [o for o in outcomes if o["outcome"] == outcome and not _is_advice(o)]
        if outcome == NOT_SHOWN and sketch:
            sketch_text(document, page)
        elif outcome == NOT_SHOWN and len(found) > MANY and not every_clause:
            missing_text(document, found, page)
        else:
            _blocks(found, title, page)
    _blocks([o for o in outcomes if _by_approval(o)], "By an approval", page)
    advice = [o for o in outcomes if _is_advice(o) and not (sketch and o["outcome"] == NOT_SHOWN)]
    _blocks(advice, "Advice, which does not count", page)
    _together(document, page)
    if every_clause:
        _every_clause(outcomes, page)
        if sum(o["outcome"] == NOT_SHOWN for o in outcomes) > MANY:
            missing_list(document, page)
    elif not sketch:
        _tightest(document, page)
    if document["assumed"] and not sketch:
        page.heading("Taken as given")
        for sentence in _taken_in_one(document):
            page.put(f"{sentence}.", 2, 4, DIM)
    page.heading("Result", result_colour(document))
    if not sketch:
        page.put(counts_sentence(document), indent=2)
    page.put(result_sentence(document), indent=2, style=result_colour(document))
    page.blank()
    page.put(CAUTION, style=DIM)


def _taken_in_one(document: Data) -> list[str]:
    """The sentences on what the verdict rests on, all that stands where nothing is stated in one."""
    taken = document["taken_as"]
    apart = {one["text"] for one in taken}
    told = [sentence for sentence in document["assumed"] if sentence not in apart]
    in_one = ", ".join(f"{one['what']} {one['value']}" for one in taken)
    return [*told, f"not stated, so taken as: {in_one}"] if taken else told


def identity(document: Data, page: Page, *, why: bool = True) -> None:
    """Who was judged, by what, for which day, and the digests that tell the files.

    Args:
        why: Tell why that edition counts.
    """
    pack = document["pack"]
    page.heading(car_words(document))
    page.labelled("rules", rules_words(document), _FIRST_COLUMN, 2)
    if why and pack["because"]:
        page.put(pack["because"], _FIRST_COLUMN)
    viewed = "an entrant checks at home" if document["for"] == "entrant" else "an official checks"
    page.labelled("judged", f"for {document['on']}, as {viewed}", _FIRST_COLUMN, 2)
    digests = f"pack {pack['sha256'][:12]}, car {document['car']['sha256'][:12]}"
    if document["readings"] is not None:
        digests += f", readings {document['readings']['sha256'][:12]}"
    if document["gear"] is not None:
        digests += f", gear {document['gear']['sha256'][:12]}"
    page.labelled("sha256", digests, _FIRST_COLUMN, 2)
    for change in document["what_if"]:
        page.labelled("what if", change, _FIRST_COLUMN, 2, OUTCOME_COLOURS[NOT_SHOWN])


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


def _by_approval(outcome: Data) -> bool:
    """Met only because the organising body has permitted it."""
    return outcome["approval"] is not None and outcome["outcome"] in (DISPENSATION, PASS)


def _is_advice(outcome: Data) -> bool:
    return outcome["severity"] == ADVISORY and outcome["outcome"] in (FAIL, TOO_CLOSE, NOT_SHOWN)


def _column(outcomes: Sequence[Data]) -> int:
    """Where text begins to the right of clause numbers."""
    return min(12, 4 + max(len(o["clause"]) for o in outcomes))


def _blocks(outcomes: Sequence[Data], title: str, page: Page) -> None:
    """A section with all that there is to say of each clause."""
    if not outcomes:
        return
    page.heading(title, OUTCOME_COLOURS[outcomes[0]["outcome"]])
    column = _column(outcomes)
    for place, outcome in enumerate(outcomes):
        if place:
            page.blank()
        clause_block(outcome, page, column)


def clause_block(outcome: Data, page: Page, column: int) -> None:
    """One clause that is not simply met: its margin, what was found, in which state, and what to do."""
    colour = OUTCOME_COLOURS.get(outcome["outcome"], "")
    page.row(outcome["title"], figure(outcome), 2, column, colour, label=outcome["clause"])
    if outcome["items"]:
        for item in outcome["items"]:
            _item(item, page, column)
    elif outcome["text"]:
        page.put(outcome["text"], column)
    if not outcome["items"]:
        for reason in outcome["not_shown"]:
            page.put(reason, column, column + 2)
    if outcome["uncertainty"] is not None or outcome["taken_as_exact"]:
        page.labelled("gear", gear_words(outcome), column + 6, column)
    if outcome["condition"] is not None:
        page.labelled("when", outcome["condition"]["state"], column + 6, column)
    if outcome["fuel_text"]:
        page.put(outcome["fuel_text"], column + 6)
    for label, words in (
        ("do", outcome["act"]),
        ("then", outcome["penalty"]),
        ("then", outcome["consequence"]),
        ("note", outcome["interpretation"]),
        *interpretation_lines(outcome["interpretations"]),
        ("by", _approval_words(outcome)),
    ):
        if words:
            page.labelled(label, words, column + 6, column)


def _approval_words(outcome: Data) -> str:
    """The approval that an outcome rests on, and what it would have been without."""
    if outcome["approval"] is None:
        return ""
    without = outcome["without"]
    if without is None:
        return f"approval {outcome['approval']}"
    told = without["text"] or "; ".join(without["not_shown"])
    word = OUTCOME_WORDS[without["outcome"]]
    return f"approval {outcome['approval']}; without it: {word}" + (f", {told}" if told else "")


def figure(outcome: Data) -> str:
    """The margin, where it is a distance; what is met exactly, and how many words offend, is told in the text."""
    margin, bound = outcome["margin"], outcome["bound"]
    if margin is None or (margin["unit"] is None and (bound is None or bound["exact"] is None)):
        return ""
    if bound is not None and bound["kind"] == Sense.EXACTLY and margin["exact"] == "0/1":
        return ""
    return shown(margin, signed=True)


def gear_words(outcome: Data) -> str:
    """How well a margin is known.

    "margin known to ±0.66 kg, 9 times in 10 (k = 1.64); met with a probability of 73.0 %", or, where some reading has
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
    return told if probability is None else f"{told}; met with a probability {_percent(probability)}"


def _percent(probability: float) -> str:
    """A probability in words: never "100 %" of what is not certain."""
    if probability < 0.001:
        return "below 0.1 %"
    return "above 99.9 %" if probability > 0.999 else f"of {100 * probability:.1f} %"


def _item(item: Data, page: Page, column: int) -> None:
    """One of several things that are not met."""
    told = item["text"] or "; ".join(item["not_shown"]) or OUTCOME_WORDS[item["outcome"]]
    name = f"{item['item']}: " if item["item"] and item["item"] not in told else ""
    times = f" ({item['count']} of these)" if item["count"] > 1 else ""
    page.put(f"- {name}{told}{times}", column, column + 2)


def _tightest(document: Data, page: Page) -> None:
    """The clauses that are met with the least in hand."""
    by_number = {o["clause"]: o for o in document["outcomes"]}
    met = [by_number[n] for n in document["most_pressing"] if by_number[n]["outcome"] == PASS][:TIGHTEST]
    if not met:
        return
    page.heading("Tightest margins")
    column = _column(met)
    for outcome in met:
        page.row(outcome["title"], figure(outcome), 2, column, label=outcome["clause"])
        if outcome["condition"] is not None:
            page.put(outcome["condition"]["state"], column, style=DIM)


def _every_clause(outcomes: Sequence[Data], page: Page) -> None:
    """Every clause in the rulebook's order, each with its outcome in a word, margin and what was found."""
    page.heading("Every clause")
    column = _column(outcomes)
    for outcome in outcomes:
        word = "advice" if _is_advice(outcome) else OUTCOME_WORDS[outcome["outcome"]]
        told = f"{word} {figure(outcome)}".rstrip()
        style = OUTCOME_COLOURS.get(outcome["outcome"], DIM)
        page.row(outcome["title"], told, 2, column, style, label=outcome["clause"])
        reason = outcome["text"] or "; ".join(outcome["not_shown"])
        if reason:
            page.put(reason, column, style=DIM)
