"""Inspections as tables: a row for each car, and a row for each clause on each car."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from itertools import chain
from typing import Any

from checker.report.amounts import Data
from checker.report.one_car.columns import figure
from checker.report.tables.table import Cell, Clauses, Table, clause, margin_cells, value_cell
from checker.report.wording import outcome_word, state_word

MARGIN = ("margin", "unit", "exact margin")


def inspection_tables(
    documents: Iterable[Data], files: Iterable[str], unusable: Sequence[str]
) -> Mapping[str, Table]:
    """Both tables, by name; rows are made when they are asked for.

    Args:
        documents: In a list where both tables are wanted.
        files: The name of each one's file, known when the document is.
        unusable: Names of the files that could not be judged; each has a row, so that none is overlooked. They may be
            known only after the last document.
    """
    return {"cars": _cars(documents, files, unusable), "clauses": _clauses(documents)}


def _cars(documents: Iterable[Data], files: Iterable[str], unusable: Sequence[str]) -> Table:
    """A row for each car, with the clause that presses most."""
    heading = (
        "car",
        "name",
        "day",
        "rules",
        "result",
        "clause",
        "title",
        *MARGIN,
        "fails",
        "undecided",
        "file",
    )
    not_judged = ([*[None] * 4, "not judged", *[None] * 7, name] for name in unusable)
    return Table(heading, chain(map(_car_row, documents, files), not_judged))


def _car_row(document: Data, file: str) -> list[Cell]:
    outcomes = {one["clause"]: one for one in document["outcomes"]}
    worst = outcomes.get(next(iter(document["most_pressing"]), ""))

    def that(*came_to: str) -> Clauses:
        return Clauses([n for n in document["most_pressing"] if outcomes[n]["outcome"] in came_to])

    return [
        *_whose(document),
        state_word(document["complies"]),
        clause(worst["clause"] if worst else None),
        worst["title"] if worst else None,
        *_margin(worst),
        that("fail"),
        that("too_close", "not_shown"),
        file,
    ]


def _clauses(documents: Iterable[Data]) -> Table:
    """A row for each clause on each car."""
    columns: Mapping[str, Callable[[Any], Cell]] = {
        "severity": lambda one: one["severity"],
        "value": lambda one: value_cell(one["value"]),
        "limit": lambda one: value_cell(one["bound"]),
    }
    last: Mapping[str, Callable[[Any], Cell]] = {
        "in which state": lambda one: one["condition"] and one["condition"]["state"],
        "found": lambda one: one["text"] or None,
        "to do": lambda one: one["act"] or None,
    }
    heading = ("car", "name", "day", "rules", "clause", "title", "outcome", *columns, *MARGIN, *last)
    rows = (
        [
            *_whose(document),
            clause(one["clause"]),
            one["title"],
            outcome_word(one["outcome"], document["for"]).lower(),
            *(cell(one) for cell in columns.values()),
            *_margin(one),
            *(cell(one) for cell in last.values()),
        ]
        for document in documents
        for one in document["outcomes"]
    )
    return Table(heading, rows)


def _margin(outcome: Data | None) -> tuple[Cell, Cell, Cell]:
    """The margin where it is a distance, as in the report."""
    return margin_cells(outcome["margin"] if outcome and figure(outcome) else None)


def _whose(document: Data) -> list[Cell]:
    """The car, the day and the rules."""
    car, pack = document["car"], document["pack"]
    what_if = " (what if)" if document["what_if"] else ""
    day = date.fromisoformat(document["on"])
    return [
        car["number"],
        f"{car['name'] or ''}{what_if}".strip() or None,
        day,
        f"{pack['pack']} {pack['edition']}",
    ]
