"""A car as the written functions ask it: its numbers as floats, each with how far it may be out and how errors move it.

Everything is read through the exact engine's own readers and made when it is first asked for; None stands for what
floats do not tell.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable
from fractions import Fraction
from typing import Any, NamedTuple

from checker.car.car import Car
from checker.car.described.stated import Entry, Stated
from checker.car.described.vocabulary import Condition
from checker.car.errors.sources import variances
from checker.car.scene import Scene
from checker.kinds.clearing.error_variances import may_move, variances_by_place
from checker.kinds.clearing.floats import in_float
from checker.kinds.clearing.scatter_arithmetic import UP
from checker.kinds.clearing.weight_scatter import weight_scatter
from checker.kinds.clearing.weights_in_floats import weight_in_floats
from checker.kinds.frame.entries import Many
from checker.kinds.judging.assessment import DecisionRule
from checker.quantities.formula.families import is_one_of
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import Unknown

_MOST_KNOWN = 1000
"""Categories that are remembered for one check."""

Read = Callable[[Scene], Any]


class ToldNumber(NamedTuple):
    """A number as floats tell it, with bounds as those of `checker.kinds.contract.writing.WrittenNumber`."""

    value: float
    error: float
    deviation: float
    steepest: float


UNLIMITED = ToldNumber(0.0, 0.0, 0.0, 0.0)
"""Stands for `no limit`; known by being this very one."""


class CarInFloats:
    """One car under one decision rule."""

    def __init__(self, car: Car, rule: DecisionRule) -> None:
        self.car, self.scene = car, Scene(car)
        self._rule, self._exact = rule, rule.exact
        self.factor = 0.0 if rule.exact else float(rule.factor(None)) * UP
        """Not less than the coverage factor of any margin made of what was asked for so far."""
        self.swept = (0.0, 0.0)
        """A bound that is varied, and what its float is out by."""
        self._kept: dict[Hashable, Any] = {}
        self._moving: dict[frozenset[str], bool] = {}

    # --- numbers ---------------------------------------------------------------------------------------------

    def fact(self, name: str, read: Read) -> ToldNumber | None:
        """A fact of one value."""
        if name not in self._kept:
            self._kept[name] = self._told(read(self.scene), self.car.stated(name))
        found: ToldNumber | None = self._kept[name]
        return found

    def field(self, entry: Entry, name: str) -> ToldNumber | None:
        """The field of an entry."""
        key = (entry, name)
        if key not in self._kept:
            stated = entry.stated(name)
            self._kept[key] = None if stated is None else self._told(stated.value, stated)
        found: ToldNumber | None = self._kept[key]
        return found

    def facts(self, name: str, read: Read) -> tuple[ToldNumber, ...] | None:
        """A fact of several values."""
        if name not in self._kept:
            self._kept[name] = self._several(read(self.scene), self.car.stated(name))
        found: tuple[ToldNumber, ...] | None = self._kept[name]
        return found

    def fields(
        self, entry: Entry, name: str, read: Callable[[Scene, Entry], Any]
    ) -> tuple[ToldNumber, ...] | None:
        """The field of an entry, of several values."""
        key = (entry, name)
        if key not in self._kept:
            self._kept[key] = self._several(read(self.scene, entry), entry.stated(name))
        found: tuple[ToldNumber, ...] | None = self._kept[key]
        return found

    def weight(self, name: str, scene: Scene) -> ToldNumber | None:
        """A weight or percentage in the state of a scene."""
        key = (name, scene.state, scene.weighing)
        if key not in self._kept:
            self._kept[key] = self._weight(name, scene)
        found: ToldNumber | None = self._kept[key]
        return found

    def untouched(self, read: Read, uses: frozenset[str], scene: Scene) -> ToldNumber | None:
        """What a formula comes to that no error can move."""
        if self.moves_any(uses):
            return None
        value = read(scene)
        if isinstance(value, NoLimit):
            return UNLIMITED
        told = in_float(value) if isinstance(value, Fraction) else None
        return None if told is None else ToldNumber(*told, 0.0, 0.0)

    def truth(self, read: Read, uses: frozenset[str], scene: Scene) -> bool | None:
        """Whether a formula is true that no error can move."""
        if self.moves_any(uses):
            return None
        value = read(scene)
        return value if isinstance(value, bool) else None

    def _told(self, value: object, stated: Stated | None) -> ToldNumber | None:
        told = in_float(value) if isinstance(value, Fraction) else None
        if told is None or stated is None or stated.value != value:
            return None
        variance = 0.0 if self._exact else self._variance(stated)
        return ToldNumber(*told, math.sqrt(variance) * UP, 1.0 if variance else 0.0)

    def _variance(self, stated: Stated) -> float:
        """Of one value; most instruments are out by the same whatever they measure."""
        gear = self.car.instrument(stated.instrument) if stated.instrument else None
        key = None
        if gear is not None and not gear.permissible_error.share and gear.permissible_error.accuracy is None:
            key = (stated.instrument, stated.uncertainty, stated.origin)
            if key in self._kept:
                found: float = self._kept[key]
                return found
        found = sum(float(one) for _, one in variances(self.car, stated))
        if key is not None:
            self._kept[key] = found
        return found

    def _several(self, values: object, stated: Stated | None) -> tuple[ToldNumber, ...] | None:
        if not isinstance(values, tuple) or not values or stated is None or stated.value != values:
            return None
        by_place = {} if self._exact else variances_by_place(self.car, stated)
        found: list[ToldNumber] = []
        for place, value in enumerate(values):
            told = in_float(value) if isinstance(value, Fraction) else None
            if told is None:
                return None
            deviation = math.sqrt(by_place.get(None, 0.0) + by_place.get(place, 0.0)) * UP
            found.append(ToldNumber(*told, deviation, 1.0 if deviation else 0.0))
        return tuple(found)

    def _weight(self, name: str, scene: Scene) -> ToldNumber | None:
        what, _, which = name.partition(".")
        told = None if self._exact else weight_in_floats(name, scene)
        if told is None:
            value = scene.weight(which) if what == "weight" else scene.percentage(which)
            told = in_float(value) if isinstance(value, Fraction) else None
        if told is None or self._exact:
            return None if told is None else ToldNumber(*told, 0.0, 0.0)
        scatter = weight_scatter(name, scene)
        if scatter is None:
            return None
        if scatter.degrees is not None:
            self.factor = max(self.factor, float(self._rule.factor(scatter.degrees)) * UP)
        return ToldNumber(*told, scatter.deviation * UP, scatter.steepest * UP)

    # --- what errors move --------------------------------------------------------------------------------------

    def moves_any(self, uses: frozenset[str]) -> bool:
        """Whether any error may move anything of these names."""
        found = self._moving.get(uses)
        if found is None:
            found = self._moving[uses] = not self._exact and may_move(self.car, uses)
        return found

    # --- where a check is judged --------------------------------------------------------------------------------

    def corners(self, conditions: tuple[Condition, ...], scene: Scene) -> list[Scene]:
        """The scene in every corner of these conditions."""
        return [scene.in_state(state) for condition in conditions for state in self.car.states(condition)]

    def entries(self, list_name: str, *, parts: bool) -> tuple[Entry, ...] | None:
        """The entries of a list, where it is declared."""
        found = self.car.entries(list_name, parts)
        return None if isinstance(found, Unknown) else found

    def members(self, many: Many, known: dict[str, bool | None]) -> list[tuple[Entry, ...]] | None:
        """What a check goes through, before `where`; None where that is not told of every entry.

        Args:
            known: Whether a category is the one that the check is for, as far as it was asked; None: it may be.
        """
        entries = self.entries(many.list_name, parts=True)
        if entries is None:
            return None
        if many.mode == "pairs":
            each = [entry for entry in entries for _ in range(min(2, entry.standing))]
            return [(one, other) for place, one in enumerate(each) for other in each[place + 1 :]]
        if many.mode == "each":
            return [(entry,) for entry in entries]
        found: list[tuple[Entry, ...]] = []
        for entry in entries:
            category = entry.value("category")
            is_one = _belongs(many, category, known) if isinstance(category, str) else None
            if is_one is None:
                return None
            if is_one:
                found.append((entry,))
        return found


def _belongs(many: Many, category: str, known: dict[str, bool | None]) -> bool | None:
    if category not in known:
        if len(known) > _MOST_KNOWN:
            known.clear()
        found = is_one_of(many.tree, category, (many.category,))
        known[category] = None if isinstance(found, Unknown) else found
    return known[category]
