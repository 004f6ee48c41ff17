"""Whom a change affects, and how many cars fail at each value of a limit, as tables."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from fractions import Fraction

from checker.report.amounts import Data
from checker.report.tables.table import Cell, Table, clause, decimal, margin_cells, table_of
from checker.report.wording import outcome_word
from checker.studies.change.affected import NO_CLAUSE

AFFECTED, SWEEP = ("clauses", "cars"), ("steps", "cars", "round")
"""The names of the tables."""


def affected_tables(document: Data, cars: Sequence[Data]) -> Mapping[str, Table]:
    """A row for each clause whose change matters, and a row for each clause that matters to a car.

    Args:
        document: `affected_document`.
        cars: `car_data` of every car.
    """
    return {
        "clauses": table_of(
            {
                "clause": lambda one: clause(one["clause"]),
                "formerly": lambda one: clause(one["formerly"]),
                "title": lambda one: one["title"],
                "change": lambda one: "; ".join(one["change"]),
                "binds from": lambda one: _day(one["binds"], "from"),
                "failing before": lambda one: one["failing"]["before"],
                "failing after": lambda one: one["failing"]["after"],
                "newly failing": lambda one: one["newly_failing"],
                "no longer failing": lambda one: one["no_longer_failing"],
                "now in doubt": lambda one: one["now_in_doubt"],
                "failing later": lambda one: one["failing_later"],
                "in doubt later": lambda one: one["in_doubt_later"],
            },
            document["clauses"],
        ),
        "cars": Table(_EFFECT, (row for car in cars for row in _rows(car))),
    }


_EFFECT = (
    *(
        "car",
        "name",
        "file",
        "clause",
        "title",
        "before",
        "after",
        "newly fails",
        "no longer fails",
        "now in doubt",
    ),
    *(
        "margin before",
        "unit before",
        "exact margin before",
        "margin after",
        "unit after",
        "exact margin after",
    ),
    *("binds from", "good until", "found", "to do"),
)


def _rows(car: Data) -> Iterator[list[Cell]]:
    """A row for each clause that matters to a car, and one where a later text cannot judge it."""
    for one in car["effects"]:
        yield _effect(car, one, car)
    if (unread := car["unread"]) is not None:
        told = {
            "title": "cannot be judged",
            "good until": date.fromisoformat(unread["from"]) - timedelta(days=1),
            "found": "; ".join(unread["because"]),
        }
        whose = {"car": car["car"]["number"], "name": car["car"]["name"], "file": car["place"]}
        yield [{**whose, **told}.get(column) for column in _EFFECT]


def _effect(car: Data, one: Data, document: Data) -> list[Cell]:
    later = one["later"] or one["later_doubt"]
    return [
        car["car"]["number"],
        car["car"]["name"],
        car["place"],
        clause(one["clause"]),
        one["title"],
        *(_outcome(one[side], document) for side in ("before", "after")),
        *(one[key] for key in ("newly_fails", "no_longer_fails", "now_in_doubt")),
        *margin_cells(one["margin_before"]),
        *margin_cells(later["margin"] if later else one["margin_after"]),
        _day(one["binds"], "from"),
        _day(later, "until"),
        (later or one)["text"] or None,
        (later or one)["act"] or None,
    ]


def _outcome(outcome: str, document: Data) -> str:
    return "no clause" if outcome == NO_CLAUSE else outcome_word(outcome, document["for"]).lower()


def _day(of: Data | None, key: str) -> date | None:
    return date.fromisoformat(of[key]) if of is not None else None


def sweep_tables(document: Data) -> Mapping[str, Table]:
    """A row for each value at which the number of failing cars changes, for each car there, and for round values."""
    steps: Iterable[Data] = document["steps"]
    unit = document["unit"]
    value = ("value", "unit", "exact value")
    return {
        "steps": Table(
            (*value, "is exact", "fail below", "fail at it", "fail above"),
            ([*_value(s, unit), s["is_exact"], *(s["failing"][side] for side in _SIDES)] for s in steps),
        ),
        "cars": Table(
            (*value, "car", "name", "file", "below", "at it", "above"),
            (
                [*_value(s, unit), car["number"], car["name"], car["place"],
                 *(outcome_word(car[side], document["for"]).lower() for side in _SIDES)]
                for s in steps for car in s["cars"]
            ),
        ),
        "round": Table((*value, "fail"), ([*_value(one, unit), one["failing"]] for one in document["round"])),
    }  # fmt: skip


_SIDES = ("below", "at", "above")


def _value(value: Data, unit: str | None) -> tuple[Cell, Cell, Cell]:
    """A value of the number that is varied; a day has neither a unit nor anything more exact."""
    if value["exact"] is None:
        return date.fromisoformat(value["value"]), None, None
    exact = Fraction(value["exact"])
    return decimal(exact), unit, f"{exact} {unit or ''}".strip()
