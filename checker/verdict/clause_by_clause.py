"""Clauses of a car, each by floats where these tell enough, else by the exact engine; no more than is asked for."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from checker.car.car import Car
from checker.kinds.judging.assessment import Assessment, Verdict
from checker.pack.model import Pack
from checker.verdict.filtered import told_by_floats
from checker.verdict.inspection import Inspection, inspect_car
from checker.verdict.outcome import Outcome


class ClauseByClause:
    """What becomes of clauses of a car: the same as by `inspect_car`.

    Args:
        pack, car, on, audience, exact: As for `inspect_car`.
        only: Numbers of the clauses that may be asked for; None: all.
    """

    def __init__(
        self,
        pack: Pack,
        car: Car,
        on: date,
        audience: str,
        *,
        exact: bool = False,
        only: Collection[str] | None = None,
    ) -> None:
        self._pack, self._car, self._on, self._audience, self._exact = pack, car, on, audience, exact
        self.numbers = [number for number in pack.clauses if only is None or number in only]
        self._told = told_by_floats(pack, car, on, audience, exact=exact, only=only)
        self._judged: dict[str, Outcome] = {}
        self._measured: dict[str, Assessment] = {}

    def outcome(self, number: str) -> Verdict:
        """What becomes of a clause."""
        return self._told[number].outcome if number in self._told else self.whole(number).outcome

    def measured(self, number: str) -> Assessment:
        """Its outcome, value, bound and margin; what else the assessment holds does not count."""
        if number not in self._measured:
            found = self._told[number].measured() if number in self._told else None
            self._measured[number] = found or self.whole(number).assessment
        return self._measured[number]

    def whole(self, number: str) -> Outcome:
        """All of a clause, as the exact engine tells it."""
        if number not in self._judged:
            self.inspection({number, *(n for n in self.numbers if n not in self._told)})
        return self._judged[number]

    def inspection(self, numbers: Collection[str]) -> Inspection:
        """These clauses by the exact engine, in the order of the pack."""
        lacking = [number for number in self.numbers if number in numbers and number not in self._judged]
        if lacking:
            judged = inspect_car(
                self._pack, self._car, self._on, self._audience, exact=self._exact, only=lacking
            )
            self._judged |= {outcome.clause.number: outcome for outcome in judged.outcomes}
        outcomes = tuple(self._judged[number] for number in self.numbers if number in numbers)
        return Inspection(self._pack, self._car, self._audience, self._on, outcomes=outcomes)
