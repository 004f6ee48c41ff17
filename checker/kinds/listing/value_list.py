"""Closed lists of values: counts, sizes, days or truths that alone may be, may not be, or must all be found.

Values are equal when they are the same amount, whatever unit each is written in. The margin is the distance to the
nearest one of the list, so that a size is too close to call where its gear cannot tell it from a listed one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Self

from checker.car.scene import Scene
from checker.kinds.comparing.changes import compare_formulas, compare_sources, compare_words
from checker.kinds.comparing.comparison import Comparison, together
from checker.kinds.contract.check import Check
from checker.kinds.contract.slips import LeftOut, Misread, Slip, slips_in
from checker.kinds.contract.values import Occurring, ValueInterval, own_unit, place_of
from checker.kinds.judging.acts import Act, Do
from checker.kinds.judging.assessment import FAIL, NO_LIMIT, PASS, Assessment, DecisionRule, not_shown
from checker.kinds.judging.bounds import BoundExpression
from checker.kinds.judging.findings import NotFound
from checker.kinds.judging.ranking import ANY_ORDER, all_hold, first_of, ranked
from checker.kinds.limiting.judging import judged_against, margin_kind
from checker.kinds.limiting.limited import Limited
from checker.quantities.amount import Amount
from checker.quantities.display import show_value
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import NUMBER, Kind, Unknown
from checker.quantities.sense import Sense
from checker.reading.quick_dataclasses import dataclass, replace
from checker.reading.values import Plain


@dataclass(frozen=True, slots=True)
class Values:
    """A list of values: fixed, or given by a formula for each car."""

    fixed: tuple[Expression, ...]
    formula: Expression | None
    kind: Kind
    """Of one value."""

    def of(self, scene: Scene) -> tuple[Expression, ...] | Unknown:
        """The values, or Unknown (`NoLimit` where a table says so)."""
        if self.formula is None:
            return self.fixed
        found = self.formula.evaluate(scene)
        if isinstance(found, Unknown):
            return found
        kind, marks = self.kind, self.formula.marks

        def constant(one: object) -> Expression:
            text = show_value(one, kind, None)
            return Expression(kind, lambda _: one, text=text, constant=True, marks=marks)

        return tuple(map(constant, found if isinstance(found, tuple) else (found,)))

    @property
    def text(self) -> str:
        return ", ".join(one.text for one in self.fixed) if self.formula is None else self.formula.text


@dataclass(frozen=True, slots=True)
class ValueList(Check):
    """Values that are looked at, and a list that they may not, or may alone, be of."""

    key: str
    """Of the kind that the list is written for."""
    bans: bool
    """What equals one of the list offends; else what equals none."""
    looked_at: Expression
    """One value, or several."""
    values: Values
    tolerance: Expression | None = None
    """The pack's, for values of this dimension."""

    @property
    def kind(self) -> str:
        return self.key

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        found = self._looked_at(scene)
        if not isinstance(found, tuple):
            return found
        given, wanted = found
        if not given:
            return self._of_nothing(wanted)
        judged = [self._one(place, wanted, scene, rule) for place in given]
        return replace(all_hold(judged), branches=())

    def _looked_at(self, scene: Scene) -> tuple[tuple[int | None, ...], tuple[Expression, ...]] | Assessment:
        """The places of what is looked at, and the list; or why there is nothing to judge."""
        wanted, value = self.values.of(scene), self.looked_at.evaluate(scene)
        if isinstance(wanted, NoLimit):
            return NO_LIMIT
        for one in (wanted, value):
            if isinstance(one, Unknown):
                return not_shown(one)
        assert isinstance(wanted, tuple)
        return (tuple(range(len(value))) if self._several else (None,)), wanted

    @property
    def _several(self) -> bool:
        return self.looked_at.kind.name == "list"

    def _of_nothing(self, wanted: tuple[Expression, ...]) -> Assessment:  # noqa: ARG002 (whatever is listed)
        """Several values that are stated to be none: a statement, in which nothing offends."""
        return Assessment(PASS, met_by_nature=True)

    def _one(
        self, place: int | None, wanted: Sequence[Expression], scene: Scene, rule: DecisionRule
    ) -> Assessment:
        """One value against the whole list."""
        sense = Sense.OTHER_THAN if self.bans else Sense.EXACTLY
        held = [self._against(one, sense, place, scene, rule) for one in wanted]
        return replace(all_hold(held), branches=()) if self.bans else best_of(held)

    def _against(
        self, one: Expression, sense: Sense, place: int | None, scene: Scene, rule: DecisionRule
    ) -> Assessment:
        several = "worst" if self._several else ""
        bound = BoundExpression(sense, one)
        limited = Limited(self.looked_at, (bound,), self.tolerance, None, several, role="of")
        return judged_against(limited, scene, rule, place)

    def margin_kinds(self) -> frozenset[Kind]:
        return frozenset({margin_kind(self.values.kind)})

    def sentence(self) -> str:
        return f"{self.looked_at.text}: {'none of' if self.bans else 'only'} {self.values.text}"

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        yield "of", self.looked_at
        if self.values.formula is not None:
            yield self.kind, self.values.formula
        if self.tolerance is not None:
            yield "tolerance", self.tolerance

    @property
    def longer_list_tightens(self) -> bool:
        return self.bans

    def compared_with(self, older: Self) -> Comparison:
        return together([self._lists(older), compare_sources(older.subject(), self.subject())])

    def _lists(self, older: Self) -> Comparison:
        """What came to the list and what went: the same amount in another unit is the same."""
        text = {one.value: one.text for one in (*self.values.fixed, *older.values.fixed)}
        before, after = ([text[one.value] for one in check.values.fixed] for check in (older, self))
        words = compare_words(self.kind, before, after, more_is_tighter=self.longer_list_tightens)
        return together([words, compare_formulas(self.kind, older.values.formula, self.values.formula)])

    def slips(self, key: str, written: Plain) -> Iterator[Slip]:
        if key != self.kind or not isinstance(written, list):
            yield from slips_in((key,), written)
            return
        for place, one in enumerate(written):
            yield Misread((key, place))
            if len(written) > 1:
                yield LeftOut((key, place), str(one))

    def always_or_never(self, occurring: Occurring) -> tuple[str, str] | None:
        occurs, kind = occurring(self.looked_at), self.values.kind
        if occurs is None or self.values.formula is not None or self.tolerance is not None:
            return None
        places = [place_of(one.value, kind) for one in self.values.fixed]
        if any(place is None or occurs.holds(ValueInterval(place, place)) for place in places):
            return None
        says = "always" if self.bans else "never"
        can_be = occurs.words(kind, own_unit(self.looked_at))
        return f"{says} true: {self.looked_at.text} can only be {can_be}", self.kind


@dataclass(frozen=True, slots=True)
class RequiredValues(ValueList):
    """Values that must be found among those looked at."""

    at_least: Expression | None = None
    """How many of them; None: all."""

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        found = self._looked_at(scene)
        if not isinstance(found, tuple):
            return found
        given, wanted = found
        needed = len(wanted) if self.at_least is None else self.at_least.evaluate(scene)
        if isinstance(needed, Unknown):
            return not_shown(needed)
        if not given:
            return self._of_nothing(wanted)
        each = [
            best_of([self._against(w, Sense.EXACTLY, place, scene, rule) for place in given]) for w in wanted
        ]
        by_outcome = ([a for a in each if a.outcome == outcome] for outcome in ANY_ORDER)
        nearest = [one for alike in by_outcome for one in ranked(alike, best=True)]
        return replace(all_hold(nearest[: int(needed)]), branches=()) if needed > 0 else Assessment(PASS)

    def _of_nothing(self, wanted: tuple[Expression, ...]) -> Assessment:
        listed = tuple(Amount(one.value, self.values.kind, one.written_unit(None, (0,))) for one in wanted)
        act = Act(Do.PROVIDE, amount=Amount(Fraction(len(wanted)), NUMBER), wanted=listed)
        return Assessment(FAIL, finding=NotFound(tuple(one.text for one in wanted)), act=act)

    def sentence(self) -> str:
        count = f"at least {self.at_least.text} of " if self.at_least is not None else ""
        return f"{self.looked_at.text}: {count}{self.values.text} required"

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        yield from ValueList.expressions(self)
        if self.at_least is not None:
            yield "at_least", self.at_least

    @property
    def longer_list_tightens(self) -> bool:
        return True

    def compared_with(self, older: Self) -> Comparison:
        how_many = compare_formulas("at least", older.at_least, self.at_least)
        found = together([ValueList.compared_with(self, older), how_many])
        return replace(found, change="changed") if self.at_least is not None and found.words else found


def best_of(held: Sequence[Assessment]) -> Assessment:
    """Of several ways to be met the one that is met, else the nearest to being met."""
    outcome = first_of(held, ANY_ORDER)
    return ranked([one for one in held if one.outcome == outcome], best=True)[0]
