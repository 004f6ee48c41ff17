"""Outcomes and results in words, the same in every report."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from checker.kinds.judging.assessment import DISPENSATION, FAIL, NOT_APPLICABLE, NOT_SHOWN, PASS, TOO_CLOSE
from checker.pack.model import ADVISORY
from checker.report.amounts import Data
from checker.report.page import DIM, GREEN, RED, YELLOW, Page

_OUTCOME_WORDS: dict[str, str] = {
    FAIL: "FAILS",
    TOO_CLOSE: "too close",
    NOT_SHOWN: "not declared",
    DISPENSATION: "dispensation",
    PASS: "met",
    NOT_APPLICABLE: "does not apply",
}
OUTCOME_COLOURS: dict[str, str] = {
    FAIL: RED,
    TOO_CLOSE: YELLOW,
    NOT_SHOWN: YELLOW,
    DISPENSATION: YELLOW,
    PASS: GREEN,
}

CAUTION = (
    "The organising body's rules and its scrutineers decide. A pass here does not say that a car is safe. "
    "Let nobody get in, out or under a car on pads or on a jack; stands must be made for its weight. Handle fuel in "
    "the open, away from anything that sparks. Bolt ballast as the rules require: loose ballast can kill."
)

ONE_CAUTION = (
    "The organising body's scrutineers decide; a pass makes no car safe. Mind jacks, fuel and loose ballast: see"
    " `checker --help`."
)
"""In one line, where a report is read at a glance; all of it stands in the help, on slips and on pages."""


BENEFIT = "by less than measuring error: benefit of the doubt"
"""Of a clause that is met though the reading is beyond its limit."""


def outcome_word(outcome: str, to: str) -> str:
    """What became of a clause, in the words of those it is told to: an "entrant" or an "official"."""
    if outcome == NOT_SHOWN and to == "official":
        return "not yet checked"
    return _OUTCOME_WORDS[outcome]


def caution_words(page: Page) -> str:
    """Who decides, and what to mind: all of it where there is room, in one line on a terminal."""
    return CAUTION if page.draws else ONE_CAUTION


def put_caution(page: Page) -> None:
    """The same, last on a page."""
    page.blank()
    page.put(caution_words(page), style=DIM)


def state_word(complies: bool | None) -> str:
    """What becomes of a car, the same everywhere."""
    return "undecided" if complies is None else "complies" if complies else "fails"


def verdict_words(document: Data) -> str:
    """What became of a car, with how many clauses stand in its way: "FAILS: 2"."""
    counts, word = document["counts"], state_word(document["complies"]).upper()
    if document["complies"]:
        return word
    many = counts[FAIL] or counts[TOO_CLOSE] + counts[NOT_SHOWN]
    return f"{word}: {many}" if many else word


def chance_words(probability: float) -> str:
    """A chance as people feel it: "73 chances in 100 that it is met"."""
    if probability < 0.001:
        return "less than 1 chance in 1000 that it is met"
    if probability > 0.999:
        return "less than 1 chance in 1000 that it is not met"
    many, of = (1000 * probability, 1000) if not 0.01 <= probability <= 0.99 else (100 * probability, 100)
    return f"{many:.0f} chance{'' if round(many) == 1 else 's'} in {of} that it is met"


def car_words(document: Data) -> str:
    """The car by number and name: "car 27 Redshank"."""
    car = document["car"]
    return " ".join(filter(None, ("car", car["number"] or "without a number", car["name"])))


def rules_words(document: Data) -> str:
    """The rules by title, edition and bulletins."""
    pack = document["pack"]
    bulletins = f" with {listed(pack['bulletins'])}" if pack["bulletins"] else ""
    return f"{pack['title'] or pack['pack']}, edition {pack['edition']}{bulletins}"


def result_colour(document: Data) -> str:
    complies = document["complies"]
    return YELLOW if complies is None else GREEN if complies else RED


def result_sentence(document: Data) -> str:
    words = car_words(document)
    car = f"With what was put in its place, {words}" if document["what_if"] else f"C{words[1:]}"
    rules = f"{document['pack']['pack']} {document['pack']['edition']} on {document['on']}"
    by_outcome = {
        outcome: [
            o["clause"] for o in document["outcomes"] if o["outcome"] == outcome and o["severity"] != ADVISORY
        ]
        for outcome in _OUTCOME_WORDS
    }
    if document["complies"]:
        return f"{car} complies with every clause of {rules}."
    if by_outcome[FAIL]:
        return f"{car} fails {rules}: {_clauses(by_outcome['fail'], 'is not met', 'are not met')}."
    told = [
        _clauses(by_outcome[outcome], f"is {words}", f"are {words}")
        for outcome, words in (
            (TOO_CLOSE, "too close to call"),
            (NOT_SHOWN, outcome_word(NOT_SHOWN, document["for"])),
        )
        if by_outcome[outcome]
    ]
    if not document["car"]["number"]:
        told.append("its number is not stated")
    if not told:
        return f"{car} is undecided by {rules}: no clause applies to it."
    return f"{car} is undecided by {rules}: nothing fails, but {' and '.join(told)}."


def counts_sentence(document: Data) -> str:
    """How many clauses came to what, leaving out what none came to."""
    counts: Counter[str] = Counter(document["counts"])
    total = counts.total()
    open_advice = Counter(
        outcome["outcome"]
        for outcome in document["outcomes"]
        if outcome["severity"] == ADVISORY and outcome["outcome"] in (TOO_CLOSE, NOT_SHOWN)
    )
    counts["advice"] -= open_advice.total()
    told = [
        f"{counts[key]} {outcome_word(key, document['for']) if key == NOT_SHOWN else one if counts[key] == 1 else many}"
        for key, one, many in _COUNTED
        if counts[key]
    ]
    told += [
        f"{many} only advised: {outcome_word(key, document['for'])}" for key, many in open_advice.items()
    ]
    return f"{total} clause{'' if total == 1 else 's'}: {', '.join(told)}."


_COUNTED = (
    (PASS, "met", "met"),
    (FAIL, "fails", "fail"),
    (TOO_CLOSE, "too close to call", "too close to call"),
    (NOT_SHOWN, "", ""),
    (DISPENSATION, "under a dispensation", "under a dispensation"),
    ("advice", "advised otherwise", "advised otherwise"),
    (NOT_APPLICABLE, "does not apply", "do not apply"),
)


def _clauses(numbers: Sequence[str], one: str, many: str) -> str:
    if len(numbers) == 1:
        return f"clause {numbers[0]} {one}"
    if len(numbers) > _MOST_NAMED:
        return f"{len(numbers)} clauses {many}"
    return f"clauses {listed(numbers)} {many}"


_MOST_NAMED = 8


def times_in(part: float) -> str:
    """How often an interval covers, as people say it: "9 times in 10", "19 times in 20"; else as a percentage."""
    near = Fraction(part).limit_denominator(100)
    if abs(float(near) - part) < 1e-6 and 0 < near < 1:
        return f"{near.numerator} times in {near.denominator}"
    return f"in {100 * part:.3g} % of all cases"


def listed(words: Sequence[str], joint: str = "and") -> str:
    """ "a", "a and b", "a, b and c"; nothing of none."""
    if not words:
        return ""
    *most, last = words
    return f"{', '.join(most)} {joint} {last}" if most else last


UNPLANNED = (
    "what to do is told of each clause by itself: a plan with the places and pieces under planning begins at what the "
    "car's own file says; write the change into a copy of it and ask `checker plan` about that"
)
"""Of a what-if whose car would be planned for."""
