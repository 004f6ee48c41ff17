"""What a car's file lacks, as data and as one list that fits a screen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from checker.car.car import Car
from checker.car.described.standard import WHEELS
from checker.kinds.judging.assessment import NOT_SHOWN
from checker.kinds.judging.findings import AsFarAsKnown
from checker.report.amounts import KG, PERCENT, Data, known_data
from checker.report.page import BOLD, YELLOW, Page
from checker.report.wording import listed, outcome_word
from checker.report.words.findings import found_words
from checker.studies.one_car.missing import missing, steps
from checker.verdict.inspection import Inspection

STEPS = 3
"""How many of the clauses that can be settled next are told."""

_COLUMN, _NARROW = 14, 11
_SHARES = ("inside", "front", "rear", "cross")


def missing_data(inspection: Inspection) -> Data:
    """All that is not stated, weights first, and which clause is nearest to being settled."""
    order = [
        {"clause": step.outcome.clause.number, "missing": list(step.missing)} for step in steps(inspection)
    ]
    return {
        "missing": [
            {"name": one.name, "clauses": list(one.clauses), "weights": one.is_of_weights}
            for one in missing(inspection)
        ],
        "next": order[0] if order else None,
        "steps": order,
        "as_far_as_known": list(_known_in_part(inspection)),
        "as_weighed": as_weighed_data(inspection.car),
    }


def _known_in_part(inspection: Inspection) -> Iterator[Data]:
    """What clauses come to in the states that are known, where others are not."""
    for outcome in inspection.outcomes:
        found = outcome.assessment.finding
        if outcome.outcome == NOT_SHOWN and outcome.counts and isinstance(found, AsFarAsKnown):
            yield {"clause": outcome.clause.number, "text": found_words(found.finding), "state": found.state}


def as_weighed_data(car: Car) -> Data:
    """The total and the shares as the car was weighed; null where the weighing does not tell them."""
    weights = car.weights(None)
    shares = {name: known_data(weights.percentage(name), PERCENT) for name in _SHARES}
    return {"total": known_data(weights.weight("total"), KG), **shares}


def sketch_text(document: Data, page: Page) -> None:
    """Print what is known of a car of which little is, what is not, and what to measure next."""
    page.heading("Known")
    page.labelled("weighed", _weighed(document, ("total", "inside", "rear", "cross")), _NARROW, 2)
    for known in document["as_far_as_known"]:
        page.labelled(known["clause"], known["text"], _NARROW, 2)
    page.heading("Not known", YELLOW)
    groups = (
        ", ".join(by_section(one["name"] for one in document["missing"] if one["weights"] == weights))
        for weights in (True, False)
    )
    page.put(f"{'; then '.join(filter(None, groups))}. With --all each is told.", 2)
    page.heading("Measure next", BOLD)
    titles = {outcome["clause"]: outcome["title"] for outcome in document["outcomes"]}
    for step in document["steps"][:STEPS]:
        what = "; ".join(
            f"{section} {_brief(its)}".strip() for section, its in by_section(step["missing"]).items()
        )
        page.labelled(step["clause"], f"{titles[step['clause']]}: {what}", _NARROW, 2)


def by_section(names: Iterable[str]) -> dict[str, list[str]]:
    """Names of facts without their sections, under these."""
    found: dict[str, list[str]] = {}
    for name in names:
        section, _, rest = name.partition(".")
        found.setdefault(section, []).append(rest)
    return found


def _brief(names: Sequence[str]) -> str:
    if set(names) == set(WHEELS):
        return "of each wheel"
    return ", ".join(dict.fromkeys("place" if name.startswith("at.") else name for name in names if name))


def _weighed(document: Data, names: Iterable[str]) -> str:
    amounts = document["as_weighed"]
    known = {name: amounts[name] for name in names if amounts[name] is not None}
    return (
        ", ".join(f"{name} {amount['value']} {amount['unit']}" for name, amount in known.items()) or "nothing"
    )


def missing_text(document: Data, not_shown: Sequence[Data], page: Page) -> None:
    """Print many clauses for which something is missing: which, what is known, and one list of what is lacking."""
    page.heading(outcome_word(NOT_SHOWN, document["for"]), YELLOW)
    page.put(f"{len(not_shown)} clauses; --all tells of each.", 2)
    page.heading("Known")
    page.labelled("weighed", _weighed(document, document["as_weighed"]), _COLUMN, 2)
    for outcome in not_shown:
        if outcome["text"] and outcome["condition"] is not None:
            page.labelled(outcome["clause"], outcome["text"], _COLUMN, 2)
    missing_list(document, page)
    if document["next"] is not None:
        clause, lacking = document["next"]["clause"], document["next"]["missing"]
        title = next(outcome["title"] for outcome in not_shown if outcome["clause"] == clause)
        page.labelled(
            "next", f"{listed(lacking)} settle{'s' * (len(lacking) == 1)} {clause}, {title}", _COLUMN, 2, BOLD
        )


def missing_list(document: Data, page: Page) -> None:
    """Print all that is not stated, each thing once."""
    page.heading("Not stated, weights first")
    groups, others = (
        by_section(one["name"] for one in document["missing"] if one["weights"] == weights)
        for weights in (True, False)
    )
    for section, names in groups.items():
        page.labelled(section, _named(names), _COLUMN, 2)
    if others:
        told = (f"{section}: {_named(names)}" if any(names) else section for section, names in others.items())
        page.labelled("then", "; ".join(told), _COLUMN, 2)


def _named(names: Sequence[str]) -> str:
    """Names with their common beginning once: "at: behind_front_axle, left_of_centre"."""
    groups: dict[str, list[str]] = {}
    for name in names:
        first, _, rest = name.partition(".")
        groups.setdefault(first, []).append(rest)
    return ", ".join(
        f"{first} ({', '.join(rests)})" if any(rests) else first for first, rests in groups.items() if first
    )
