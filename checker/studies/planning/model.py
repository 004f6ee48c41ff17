"""The program of a car: a column for each option, and for each clause, place and piece what must hold."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.planning import BallastPlace, Planning, ShelfPiece
from checker.car.weights.places import spot_of, spot_told
from checker.car.weights.race_run import RaceRun
from checker.car.weights.weights import State
from checker.quantities.kind import Unknown
from checker.reading.paths import format_path
from checker.reading.quick_dataclasses import dataclass, field
from checker.studies.planning.lists import Barred, Cap
from checker.studies.planning.options import DRIVER, TANK, Option
from checker.studies.planning.program import Constraint, Decided, Program
from checker.studies.planning.race import Start
from checker.studies.planning.rows import Row

BEYOND = 1e-7
"""How far beyond a limit on which nothing may stand."""


@dataclass(eq=False)
class Model:
    """All that a plan is chosen by.

    Columns: how often each option is done, whether stock is used at a place, and the fuel to start with in steps.
    """

    car: Car
    planning: Planning
    options: tuple[Option, ...]
    rows: list[Row]
    caps: tuple[Cap, ...]
    barred: tuple[Barred, ...]
    start: Start | None = None
    """The race that it is held to alone, where it is."""
    program: Program = field(init=False)

    def __post_init__(self) -> None:
        self._most = {option: option.most for option in self.options}
        for bar in self.barred:
            self._most[bar.option] = min(self._most[bar.option], bar.most)
        self.stock = [at for at, option in enumerate(self.options) if option.is_stock]
        self.used = {at: len(self.options) + place for place, at in enumerate(self.stock)}
        columns = [Decided(o.what, 0, self._most[o], not o.slides) for o in self.options]
        columns += [Decided(f"{self.options[at].what} used", 0, 1) for at in self.stock]
        self.fuel_at = len(columns)
        if self.start is not None:
            columns.append(Decided("fuel at the start", 0, self.start.steps))
        columns = columns or [Decided("nothing that may be done", 0, 0)]  # that may be enough, or not
        self._highest = [column.high for column in columns]
        self._known_loads: dict[tuple[Option, State | None], tuple[float, float, float]] = {}
        self._fixed = tuple(self._of_things())
        self.program = Program(tuple(columns), (*self._of_clauses(), *self._of_caps(), *self._fixed))

    def tighten(self, rows: list[Row]) -> None:
        """Take other rows of clauses, with wider guards."""
        self.rows = rows
        constraints = (*self._of_clauses(), *self._of_caps(), *self._fixed)
        self.program = Program(self.program.columns, constraints)

    # --- what must hold --------------------------------------------------------------------------------------

    def _loads(self, option: Option, row: Row) -> tuple[float, float, float]:
        """What an option adds in total, on the rear and on the left, in a row's state; the same in most states."""
        varies = option.path in (DRIVER, TANK)
        key = option, row.state if varies else None
        if key not in self._known_loads:
            found = option.loads(key[1])
            known = (0.0, 0.0, 0.0)
            if not isinstance(found, Unknown):
                known = (float(found.total), float(found.rear), float(found.left))
            self._known_loads[key] = known
        return self._known_loads[key]

    def _of_clauses(self) -> Iterator[Constraint]:
        by_distance: dict[tuple[str, int], list[Constraint]] = {}
        for number, row in enumerate(self.rows):
            needed = row.needed
            total, rear, left = float(needed.total), float(needed.rear), float(needed.left)
            terms = {}
            low = -float(needed.now) + (0.0 if row.inclusive else BEYOND)
            for at, option in enumerate(self.options):
                by_total, by_rear, by_left = self._loads(option, row)
                terms[at] = total * by_total + rear * by_rear + left * by_left
            if self.start is not None and self._is_on_the_run(row.state):
                fuel = self.start.loads
                by_fuel = total * float(fuel.total) + rear * float(fuel.rear) + left * float(fuel.left)
                terms[self.fuel_at] = by_fuel
                low += by_fuel * self.start.reckoned_at
            one = Constraint(f"clause {row.clause}", terms, low, number=number)
            by_distance.setdefault((row.clause, row.place % self._sides(row.clause)), []).append(one)
        for alike in by_distance.values():
            yield from self._not_implied(alike)

    def _is_on_the_run(self, state: State | None) -> bool:
        run = self.car.run
        return run is not None and state is not None and state.fuel in (run.start, run.flag)

    def _sides(self, clause: str) -> int:
        """How many distances a clause has in each state."""
        states = {row.state for row in self.rows if row.clause == clause}
        return max(1, sum(1 for row in self.rows if row.clause == clause) // len(states))

    def _not_implied(self, alike: list[Constraint]) -> Iterator[Constraint]:
        """Rows of one limit in many states, without those that others imply whatever is done."""
        kept: list[Constraint] = []
        for one in sorted(alike, key=lambda row: -row.low):
            for other in kept:
                least = sum(
                    min(0.0, (one.terms.get(at, 0.0) - other.terms.get(at, 0.0)) * self._highest[at])
                    for at in {*one.terms, *other.terms}
                )
                if least >= one.low - other.low:
                    break
            else:
                kept.append(one)
        yield from kept

    def _of_caps(self) -> Iterator[Constraint]:
        for cap in self.caps:
            gains = {at: float(cap.gains[o]) for at, o in enumerate(self.options) if cap.gains[o]}
            yield Constraint(f"clause {cap.clause}", gains, -float(cap.now))

    def _of_things(self) -> Iterator[Constraint]:
        """What is on the shelf is used once, a thing sits at one place, and no place carries more than it may."""
        by_thing: dict[object, dict[int, float]] = {}
        for at, option in enumerate(self.options):
            by_thing.setdefault(option.path or option.what, {})[at] = 1.0
        for terms in by_thing.values():
            first = self.options[next(iter(terms))]
            most = first.of.count if isinstance(first.of, ShelfPiece) else 1
            group = f"thing {first.what}" if first.path else f"shelf {first.what}"
            yield Constraint(group, terms, high=most)
        for at, used in self.used.items():
            yield Constraint("stock", {at: 1.0, used: -float(self._most[self.options[at]])}, high=0.0)
        for place in self.planning.places:
            yield from self.at_place(place, place.most_kg, place.pieces)

    def at_place(
        self, place: BallastPlace, most_kg: Fraction | None, pieces: int | None
    ) -> Iterator[Constraint]:
        """That a place carries no more than that."""
        there = [(at, o) for at, o in enumerate(self.options) if o.place is place]
        leaving = self.standing_at(place)
        off = {path for path, _, _ in leaving}
        gone = [
            (at, o)
            for at, o in enumerate(self.options)
            if o.path and format_path(o.path) in off and o.place is not place
        ]
        if most_kg is not None:
            standing = sum((kg for _, kg, _ in leaving), Fraction(0))
            terms = {at: float(o.kg) for at, o in there} | {at: -float(o.kg) for at, o in gone}
            yield Constraint(f"place {place.name}", terms, high=float(most_kg - standing))
        if pieces is not None:
            standing = sum((Fraction(n) for _, _, n in leaving), Fraction(0))
            terms = {self.used.get(at, at): 1.0 for at, _ in there} | {at: -1.0 for at, _ in gone}
            yield Constraint(f"place {place.name}", terms, high=float(pieces - standing))

    def standing_at(self, place: BallastPlace) -> list[tuple[str, Fraction, int]]:
        """What is at a place already: path, mass in all, and how many pieces."""
        spot = spot_told(place.fields)
        found: list[tuple[str, Fraction, int]] = []
        for name in self.car.lists_with_mass:
            for entry in self.car.every_entry(name):
                mass = self.car.field(entry, "mass")
                if not isinstance(mass, Unknown) and spot_of(self.car, entry) == spot:
                    found.append((entry.path, mass * entry.standing, entry.standing))
        return found

    # --- what a choice comes to ------------------------------------------------------------------------------

    def chosen(self, values: Sequence[float]) -> dict[Option, Fraction]:
        """What is done, and how often; of what slides which part, to a thousandth."""
        found: dict[Option, Fraction] = {}
        for at, option in enumerate(self.options):
            times = Fraction(round(values[at] * 1000), 1000) if option.slides else Fraction(round(values[at]))
            if times:
                found[option] = times
        return found

    def run(self, values: Sequence[float]) -> RaceRun | None:
        """From how much fuel at the start to how much at the flag; None where it is held to no race."""
        return None if self.start is None else self.start.run(round(values[self.fuel_at]))

    def without(self, *groups: str) -> Program:
        """The program without what these groups ask."""
        kept = tuple(one for one in self.program.constraints if one.group not in groups)
        return Program(self.program.columns, kept)

    @property
    def groups(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(one.group for one in self.program.constraints))
