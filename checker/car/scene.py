"""What a formula is evaluated in: one car, in one state, with the names that a check has made.

Compiled formulas are functions of a `Scene`. A scene never changes: binding a name or choosing a
state gives a new one.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from checker.car.car import Car
from checker.car.described.stated import Entry
from checker.car.errors.sources import Perturbation, moved
from checker.car.weights.geometry import MaybeFraction
from checker.car.weights.weights import State
from checker.quantities.formula.edges import noted_in
from checker.reading.quick_dataclasses import dataclass, field

ITEM = ""
"""The name under which the entry that a check is made for is bound."""


@dataclass(frozen=True, slots=True)
class Scene:
    car: Car
    state: State | None = None
    """The state of the car for `weight.*` and `percentage.*`; None: as weighed."""
    weighing: int | None = None
    """Which repeat reading counts (from 0); None: the mean of all."""
    names: Mapping[str, Any] = field(default_factory=dict)
    """Names made by the check: the item under `ITEM`, `a`, `b`, `run`, `let`s, generator names."""
    _worked_out: dict[Any, Any] = field(init=False, default_factory=dict, repr=False, compare=False)

    def once(self, evaluate: Callable[[Scene], object]) -> object:
        """What a formula that has a name comes to here; one that is used often is worked out once."""
        key = (evaluate, noted_in())
        if key not in self._worked_out:
            self._worked_out[key] = evaluate(self)
        return self._worked_out[key]

    def bind(self, name: str, value: object) -> Scene:
        if self.names.get(name) is value and value is not None:
            return self
        if not isinstance(value, Entry):
            return Scene(self.car, self.state, self.weighing, {**self.names, name: value})
        bound = self._worked_out.get((name, value))
        if bound is None:  # every check of a pack goes through the same entries
            bound = Scene(self.car, self.state, self.weighing, {**self.names, name: value})
            self._worked_out[name, value] = bound
        return bound

    def in_state(self, state: State | None) -> Scene:
        return Scene(self.car, state, self.weighing, self.names)

    def at_weighing(self, weighing: int | None) -> Scene:
        return Scene(self.car, self.state, weighing, self.names)

    def weight(self, name: str) -> MaybeFraction:
        """`weight.NAME` in kg or Unknown."""
        return self.car.weights(self.state, self.weighing).weight(name)

    def percentage(self, name: str) -> MaybeFraction:
        """`percentage.NAME` as a ratio or Unknown."""
        return self.car.weights(self.state, self.weighing).percentage(name)

    def moved(self, lever: Perturbation, step: Fraction) -> Scene:
        """The same scene with one lever moved by `step` base units."""
        car = moved(self.car, lever, step)
        names = self.names
        if lever.entry and names:
            names = {name: _again(car, lever.entry, value) for name, value in names.items()}
        return Scene(car, self.state, self.weighing, names)


def _again(car: Car, path: str, value: object) -> object:
    """An entry, or a run of entries, as a car has it of which the entry at `path` was moved."""
    if isinstance(value, Entry):
        if value.path != path:
            return value
        at = car.places(value.list_name).get(path)
        return value if at is None else car.every_entry(value.list_name)[at]
    if isinstance(value, tuple):
        return tuple(_again(car, path, one) for one in value)
    return value


def entries_bound(names: Mapping[str, object]) -> frozenset[str]:
    """Paths of all entries that stand behind these names."""
    found: set[str] = set()
    for value in names.values():
        for one in value if isinstance(value, tuple) else (value,):
            if isinstance(one, Entry):
                found.add(one.path)
    return frozenset(found)
