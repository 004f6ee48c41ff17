"""How well the margins of a limit are known, by the sources of error that bear on its value and bounds."""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property

from checker.car.described.stated import Entry
from checker.car.errors.sources import ErrorSource
from checker.car.scene import ITEM, Scene
from checker.car.weights.geometry import MaybeFraction
from checker.car.weights.places import rests_on
from checker.kinds.clearing.clear import STILL, Scatter, guard_at_most, is_beyond
from checker.kinds.clearing.formula_scatter import scatter_of
from checker.kinds.judging.assessment import DecisionRule, HowKnown, Later, Spread
from checker.kinds.judging.bounds import LOWER, Side, sides
from checker.kinds.judging.spread import (
    Sensitivity,
    is_weight,
    moved_weight,
    relevant,
    sensitivities,
    spread_of,
    taken_as_exact,
)
from checker.kinds.limiting.limited import TO_BOTH_SIDES, Limited
from checker.quantities.kind import Unknown, unite

Margins = tuple[Fraction, ...]


class Spreads:
    """How well the margins of one limit in one scene are known, worked out as far as anybody asks."""

    def __init__(
        self, limited: Limited, measured: list[Side], scene: Scene, rule: DecisionRule, given: int | None
    ) -> None:
        """Args:
        measured: The value, rounded where it is to be, held against each bound.
        given: Of several values the one that is held to the bounds; None: the only one, or their mean.
        """
        self._limited, self._scene, self._rule, self._given = limited, scene, rule, given
        self._known = [side for side in measured if side.margin is not None]
        self._places = [place for place, side in enumerate(measured) if side.margin is not None]

    def guard_squared(self, direction: str, margin: Fraction) -> Fraction | Unknown:
        """The square of the guard band of a margin; 0 where the margin lies beyond it, which decides the same."""
        if self.is_beyond_guard(margin):
            return Fraction(0)
        found = self._by_direction
        if isinstance(found, Unknown):
            return found
        spread = found.get(direction)
        return spread.factor**2 * spread.variance if spread else Fraction(0)

    def is_beyond_guard(self, margin: Fraction) -> bool:
        """Whether a margin lies plainly beyond its guard band, so that its sign settles the outcome; or has none."""
        if self._rule.exact or self._is_untouched:
            return True
        return self._guard_at_most is not None and is_beyond(margin, self._guard_at_most)

    def known(self, direction: str) -> HowKnown:
        """How well the margin to the bound that lies in that direction is known."""

        def spread() -> Spread | None:
            found = self._by_direction
            assert not isinstance(found, Unknown), "such a margin is not shown"
            return found.get(direction)

        return HowKnown(Later(spread), Later(lambda: self._taken_as_exact))

    @cached_property
    def _taken_as_exact(self) -> tuple[str, ...]:
        return () if self._rule.exact else taken_as_exact(self._scene, self._uses)

    @cached_property
    def _by_direction(self) -> dict[str, Spread] | Unknown:
        if self._rule.exact or self._is_untouched:
            return {}
        here = self._here
        if isinstance(here, Unknown):
            return here
        still, scene = self._limited.stands_still, self._scene
        found = (
            self._of_the_value()
            if still
            else sensitivities(self._margins, scene, self._sources, self._uses, here, self._moving)
        )
        if isinstance(found, Unknown):
            return found
        each = zip(self._known, found * len(self._known) if still else found, strict=True)
        spreads = ((side.direction, spread_of(one, here, self._rule)) for side, one in each)
        return {direction: spread for direction, spread in spreads if spread is not None}

    def _of_the_value(self) -> tuple[tuple[Sensitivity, ...], ...] | Unknown:
        """Where no bound moves, every margin is as uncertain as the value; a weight's is worked out once for a car."""
        scene, name = self._scene, self._limited.limit.text

        def value(where: Scene) -> tuple[Fraction] | Unknown:
            found = self._limited.value(where, self._given)
            return found if isinstance(found, Unknown) else (found,)

        def moving(source: ErrorSource, step: Fraction) -> tuple[Fraction] | Unknown:
            found = self._moved_value(source, step)
            return found if isinstance(found, Unknown) else (found,)

        def work_out() -> tuple[tuple[Sensitivity, ...], ...] | Unknown:
            now = value(scene)
            if isinstance(now, Unknown):
                return now
            return sensitivities(value, scene, self._sources, self._uses, now, moving)

        if not self._is_a_weight or scene.names:
            return work_out()
        found: tuple[tuple[Sensitivity, ...], ...] | Unknown = scene.car.once(
            (name, scene.state, scene.weighing), work_out
        )
        return found

    # --- the margins, here and with something moved ----------------------------------------------------------

    def _margins(self, where: Scene) -> Margins | Unknown:
        """The value is taken before rounding."""
        limited = self._limited
        value = limited.value(where, self._given)
        tolerance = Fraction(0) if limited.tolerance is None else limited.tolerance.evaluate(where)
        if isinstance(value, Unknown) or isinstance(tolerance, Unknown):
            return unite(v for v in (value, tolerance) if isinstance(v, Unknown))
        there = sides(limited.bounds, value, limited.value_kind, tolerance, where)
        found = [there[place] for place in self._places]
        unknown = [side.unknown or Unknown() for side in found if side.margin is None]
        return unite(unknown) if unknown else tuple(side.margin for side in found if side.margin is not None)

    @cached_property
    def _here(self) -> Margins | Unknown:
        if self._limited.rounding:
            return self._margins(self._scene)
        return tuple(side.margin for side in self._known if side.margin is not None)

    def _moving(self, source: ErrorSource, step: Fraction) -> Margins | Unknown:
        """The margins with what a source moves moved; where no bound follows it, by the value alone."""
        if isinstance(self._here, Unknown) or self._bounds_may_follow(source):
            return self._margins(self._scene.moved(source.lever, step))
        there = self._moved_value(source, step)
        if isinstance(there, Unknown):
            return there
        by = there - self._limited.value(self._scene, self._given)
        return tuple(
            margin + by if side.direction == LOWER else margin - by
            for side, margin in zip(self._known, self._here, strict=True)
        )

    def _bounds_may_follow(self, source: ErrorSource) -> bool:
        limited = self._limited
        if not limited.value_kind.is_measure or any(b.sense in TO_BOTH_SIDES for b in limited.bounds):
            return True
        return source.moves in self._behind_bounds or any(map(is_weight, self._behind_bounds))

    @cached_property
    def _behind_bounds(self) -> set[str]:
        return rests_on(self._scene.car, self._uses_of_others)

    def _moved_value(self, source: ErrorSource, step: Fraction) -> MaybeFraction:
        limited, scene, lever = self._limited, self._scene, source.lever
        if self._is_a_weight:
            return moved_weight(scene, source, step, limited.limit.text)
        if self._is_stated(source):
            value: Fraction = limited.value(scene, self._given)
            return value + step if lever.place in (None, self._given) else value
        found: MaybeFraction = limited.value(scene.moved(lever, step), self._given)
        return found

    @cached_property
    def _is_a_weight(self) -> bool:
        limit = self._limited.limit
        return limit.uses == {limit.text} and is_weight(limit.text)

    def _is_stated(self, source: ErrorSource) -> bool:
        """Whether the value is nothing but the very thing that a source moves: a fact, or a field of the entry."""
        limit, scene = self._limited.limit, self._scene
        if limit.uses != {source.moves} or (self._given is None and limit.kind.name == "list"):
            return False
        if limit.text == source.moves:
            return scene.car.stated(limit.text) is not None
        item = scene.names.get(ITEM)
        return (
            isinstance(item, Entry)
            and item.path == source.lever.entry
            and source.moves == f"{item.list_name}.{limit.text}"
        )

    # --- what bears on them --------------------------------------------------------------------------------

    @cached_property
    def _uses(self) -> frozenset[str]:
        return frozenset().union(*(e.uses for _, e in self._limited.expressions()))

    @cached_property
    def _uses_of_others(self) -> frozenset[str]:
        """Of bounds, tolerance and rounding."""
        limited = self._limited
        return frozenset().union(*(e.uses for _, e in limited.expressions() if e is not limited.limit))

    @cached_property
    def _sources(self) -> tuple[ErrorSource, ...]:
        sources = relevant(self._scene, self._uses)
        if self._given is None:
            return sources
        others = self._uses_of_others
        return tuple(s for s in sources if s.lever.place in (None, self._given) or s.moves in others)

    @cached_property
    def _is_untouched(self) -> bool:
        """Whether no error of measurement moves any margin."""
        return self._scatter is STILL

    @cached_property
    def _guard_at_most(self) -> float | None:
        """More than the square of the guard band of every margin; None where only exact numbers tell."""
        return None if self._scatter is None else guard_at_most(self._scatter, self._rule)

    @cached_property
    def _scatter(self) -> Scatter | None:
        """How errors may move any of the margins, at the most."""
        found = scatter_of(self._limited.limit, self._scene, self._given)
        for _, expression in self._limited.held_to():
            other = scatter_of(expression, self._scene)
            if found is None or other is None:
                return None
            found = other if found is STILL else found.and_with(other)
        return found
