"""What a car's file lacks, as data and as one list that fits a screen."""

from __future__ import annotations

from collections.abc import Sequence

from checker.car.car import Car
from checker.quantities.amount import Amount
from checker.quantities.kind import PERCENT, Unknown
from checker.quantities.units import parse_unit
from checker.report.amounts import Data, amount_data
from checker.report.page import BOLD, YELLOW, Page
from checker.report.wording import listed
from checker.studies.one_car.missing import missing, nearest
from checker.verdict.inspection import Inspection

MANY = 8
"""Of more clauses that are not shown, what each lacks is told in one list."""

_KG, _PERCENT = parse_unit("kg", None), parse_unit("%", None)
_COLUMN = 14
_SHARES = ("inside", "front", "rear", "cross")


def missing_data(inspection: Inspection) -> Data:
    """All that is not stated, weights first, and which clause is nearest to being settled."""
    next_ = nearest(inspection)
    return {
        "missing": [
            {"name": one.name, "clauses": list(one.clauses), "weights": one.is_of_weights}
            for one in missing(inspection)
        ],
        "next": None
        if next_ is None
        else {"clause": next_.clause.number, "missing": list(next_.assessment.unknown.absent)},
        "as_weighed": as_weighed_data(inspection.car),
    }


def as_weighed_data(car: Car) -> Data:
    """The total and the shares as the car was weighed; null where the weighing does not tell them."""
    weights = car.weights(None)
    total = weights.weight("total")
    shares = {name: weights.percentage(name) for name in _SHARES}
    return {
        "total": None if isinstance(total, Unknown) else amount_data(Amount(total, _KG.kind, _KG)),
        **{
            name: None if isinstance(share, Unknown) else amount_data(Amount(share, PERCENT, _PERCENT))
            for name, share in shares.items()
        },
    }


def missing_text(document: Data, not_shown: Sequence[Data], page: Page) -> None:
    """Print many clauses that are not shown: which, what is known, and one list of what is lacking."""
    page.heading("Not shown", YELLOW)
    page.put(f"{len(not_shown)} clauses; --all tells of each.", 2)
    page.heading("Known")
    known = {name: amount for name, amount in document["as_weighed"].items() if amount is not None}
    weighed = [f"{name} {amount['value']} {amount['unit']}" for name, amount in known.items()]
    page.labelled("weighed", ", ".join(weighed) or "nothing", _COLUMN, 2)
    for outcome in not_shown:
        if outcome["text"] and outcome["condition"] is not None:
            page.labelled(outcome["clause"], outcome["text"], _COLUMN, 2)
    page.heading("Not stated, weights first")
    groups: dict[str, list[str]] = {}
    others: dict[str, list[str]] = {}
    for one in document["missing"]:
        section, _, rest = one["name"].partition(".")
        (groups if one["weights"] else others).setdefault(section, []).append(rest)
    for section, names in groups.items():
        page.labelled(section, _named(names), _COLUMN, 2)
    if others:
        told = (f"{section}: {_named(names)}" if any(names) else section for section, names in others.items())
        page.labelled("then", "; ".join(told), _COLUMN, 2)
    if document["next"] is not None:
        clause, lacking = document["next"]["clause"], document["next"]["missing"]
        title = next(outcome["title"] for outcome in not_shown if outcome["clause"] == clause)
        page.labelled(
            "next", f"{listed(lacking)} settle{'s' * (len(lacking) == 1)} {clause}, {title}", _COLUMN, 2, BOLD
        )


def _named(names: Sequence[str]) -> str:
    """Names with their common beginning once: "at: behind_front_axle, left_of_centre"."""
    groups: dict[str, list[str]] = {}
    for name in names:
        first, _, rest = name.partition(".")
        groups.setdefault(first, []).append(rest)
    return ", ".join(
        f"{first} ({', '.join(rests)})" if any(rests) else first for first, rests in groups.items() if first
    )
