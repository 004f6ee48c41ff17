"""Kind `limit`: a quantity may not pass a stated value.

For clauses worded "not less than", "at most", "between". Standing exactly on `at_least` and `at_most` passes,
on `above` and `below` it fails. `exactly` also holds words, truths and lists to a value; `nominal` with
`plus_minus` is a band round a value. The margin is the distance to the nearest bound, positive when legal.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from checker.car.scene import ITEM, Scene
from checker.kinds.comparing.changes import (
    compare_bounds,
    compare_formulas,
    compare_moving,
    compare_text,
)
from checker.kinds.comparing.meaning import same_meaning
from checker.kinds.judging.acts import act_on, act_words, called, further
from checker.kinds.judging.assessment import (
    FAIL,
    NO_LIMIT,
    NOT_SHOWN,
    PASS,
    Amount,
    Assessment,
    Bound,
    DecisionRule,
    Spread,
    Working,
    not_shown,
)
from checker.kinds.judging.bounds import LOWER, BoundExpression, Side, no_limit, sides
from checker.kinds.judging.check import SAME, Check, Comparison, together
from checker.kinds.judging.examples import Example
from checker.kinds.judging.ranking import all_hold
from checker.kinds.judging.shown_units import margin_unit
from checker.kinds.judging.spread import guard_band, relevant, sensitivities, settling, spread_of
from checker.kinds.judging.wording import distance, phrase, show_amount
from checker.kinds.reading.bounds import read_bounds, read_rounding, read_several, read_tolerance
from checker.kinds.reading.reader import CheckReader
from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import DAYS, NUMBER, Kind, Unknown, unite
from checker.quantities.rounding import round_to
from checker.quantities.units import Unit

KEY = "limit"
_FORMULA = {"type": ["string", "number", "boolean"]}
SCHEMA: dict[str, Any] = {
    "required": ["limit"],
    "properties": {
        "limit": {"type": ["string"], "description": "The quantity held to the limit: a name or a formula."},
        "at_least": {**_FORMULA, "description": "The lowest value that passes."},
        "at_most": {**_FORMULA, "description": "The highest value that passes."},
        "above": {**_FORMULA, "description": "The value itself fails; anything above it passes."},
        "below": {**_FORMULA, "description": "The value itself fails; anything below it passes."},
        "exactly": {
            "type": [*_FORMULA["type"], "array"],
            "description": "The only value, or list, that passes.",
        },
        "nominal": {**_FORMULA, "description": "The middle of a band; with plus_minus, or plus and minus."},
        "plus_minus": {**_FORMULA, "description": "How far the value may lie to either side of nominal."},
        "plus": {**_FORMULA, "description": "How far the value may lie above nominal."},
        "minus": {**_FORMULA, "description": "How far the value may lie below nominal."},
        "tolerance": {**_FORMULA, "description": "Widens every bound; the margin is to the widened bound."},
        "rounded": {
            "type": "object",
            "description": "Rounds the value before it is compared.",
            "required": ["to", "mode"],
            "additionalProperties": False,
            "properties": {
                "to": {**_FORMULA, "description": "The step."},
                "mode": {"enum": ["half_up", "half_even", "up", "down"]},
            },
        },
    },
}
EXAMPLES = (
    Example(
        "exactly on the limit",
        check="{limit: frame.mass, at_least: 620 kg}",
        facts="{frame.mass: {unit: kg}}",
        car={"frame": {"mass": "620 kg"}},
        outcome=PASS,
        margin="0 kg",
    ),
    Example(
        "half a kilogram light",
        check="{limit: frame.mass, at_least: 620 kg}",
        facts="{frame.mass: {unit: kg}}",
        car={"frame": {"mass": "619.5 kg"}},
        outcome=FAIL,
        margin="-0.5 kg",
    ),
    Example(
        "on a strict limit",
        check="{limit: frame.width, below: 1800 mm}",
        facts="{frame.width: {unit: mm}}",
        car={"frame": {"width": "180 cm"}},
        outcome=FAIL,
        margin="0 mm",
    ),
    Example(
        "inside the band",
        check="{limit: frame.base, nominal: 2205 mm, plus_minus: 15 mm}",
        facts="{frame.base: {unit: mm}}",
        car={"frame": {"base": "2213 mm"}},
        outcome=PASS,
        margin="+7 mm",
    ),
    Example(
        "not stated",
        check="{limit: frame.base, nominal: 2205 mm, plus_minus: 15 mm}",
        facts="{frame.base: {unit: mm}}",
        car={},
        outcome=NOT_SHOWN,
        margin=None,
    ),
)


@dataclass(frozen=True, slots=True)
class Limit:
    """A compiled limit."""

    limit: Expression
    bounds: tuple[BoundExpression, ...]
    tolerance: Expression | None
    rounding: tuple[Expression, str] | None
    of_several: str
    """"", "worst" or "mean"."""
    label: str = ""
    kind: str = KEY

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        """Judge the value, or each of several values where the worst counts."""
        if self.of_several == "worst" and self.limit.kind.name != "list":
            times = scene.car.weighings
            if times > 1:
                return all_hold([self._assess(scene.at_weighing(n), rule, None) for n in range(times)])
            return self._assess(scene, rule, None)
        if self.of_several:
            values = self.limit.evaluate(scene)
            if isinstance(values, Unknown):
                return not_shown(values, workings=self._workings(scene))
            if not values:
                empty = Unknown(reasons=(f"{called(self.limit)} is stated as an empty list",))
                return not_shown(empty, workings=self._workings(scene))
            if self.of_several == "mean":
                return self._assess(scene, rule, None)
            return replace(
                all_hold([self._assess(scene, rule, at) for at in range(len(values))]), branches=()
            )
        return self._assess(scene, rule, None)

    def _value(self, scene: Scene, given: int | None) -> Any:
        """The value held to the bounds: of several, the one at `given`, or their mean."""
        value = self.limit.evaluate(scene)
        if isinstance(value, Unknown) or not self.of_several or self.limit.kind.name != "list":
            return value
        return sum(value, Fraction(0)) / len(value) if given is None else value[given]

    def _assess(self, scene: Scene, rule: DecisionRule, given: int | None) -> Assessment:
        value = self._value(scene, given)
        workings = self._workings(scene)
        if isinstance(value, Unknown):
            if no_limit(self.bounds, scene):
                return replace(NO_LIMIT, workings=workings)
            return not_shown(value, workings=workings)
        kind = self._value_kind
        if not (kind.is_measure or kind.name in ("date", "grade")):
            return self._assess_equal(value, kind, scene, workings)
        if self.rounding is not None:
            step = self.rounding[0].evaluate(scene)
            if isinstance(step, Fraction) and step <= 0:
                step = Unknown(reasons=("the step of a rounding is not above 0",))
            if isinstance(step, Unknown):
                return not_shown(step, workings=workings)
            value = round_to(value, step, self.rounding[1])
        tolerance = Fraction(0) if self.tolerance is None else self.tolerance.evaluate(scene)
        if isinstance(tolerance, Unknown):
            return not_shown(tolerance, workings=workings)
        measured = sides(self.bounds, value, kind, tolerance, scene)
        return self._judge(value, kind, measured, scene, rule, workings, given)

    @property
    def _value_kind(self) -> Kind:
        kind = self.limit.kind
        return kind.element if self.of_several and kind.name == "list" and kind.element else kind

    def _judge(
        self,
        value: Any,
        kind: Kind,
        measured: list[Side],
        scene: Scene,
        rule: DecisionRule,
        workings: tuple[Working, ...],
        given: int | None,
    ) -> Assessment:
        held: list[Assessment] = []
        spreads = {} if rule.exact else self._spreads(measured, scene, rule, given)
        for side in measured:
            unit = margin_unit(kind, self.limit, self.bounds, side.sense, scene)
            shown = Amount(value, kind, unit if kind.is_measure else None)
            if side.unknown is not None:
                held.append(not_shown(side.unknown, value=shown, workings=workings))
                continue
            bound = Bound(side.sense, None if side.bound is None else Amount(side.bound, kind, shown.unit))
            if side.margin is None:
                held.append(
                    Assessment(
                        PASS, shown, (bound,), text=f"{called(self.limit)}: no limit", workings=workings
                    )
                )
                continue
            margin = self._settled(side.margin, value)
            if isinstance(spreads, Unknown):
                held.append(not_shown(spreads, value=shown, workings=workings))
                continue
            spread = spreads.get(side.direction)
            guard_squared = spread.factor**2 * spread.variance if spread else Fraction(0)
            outcome = rule.decide(margin, guard_squared, side.inclusive)
            amount = Amount(margin, _margin_kind(kind), unit)
            held.append(
                Assessment(
                    outcome,
                    shown,
                    (bound,),
                    amount,
                    size=side.size if side.size else (unit.factor if unit else Fraction(1)),
                    met_by_nature=not side.tells,
                    spread=spread,
                    act="" if outcome == PASS else self._act(side, margin, kind, unit, scene, spread),
                    text=self._text(shown, bound, amount, side) + _in_doubt(outcome, margin),
                    workings=workings,
                )
            )
        whole = all_hold(held)
        ordered = sorted((b for a in held for b in a.bounds), key=lambda b: b not in whole.bounds)
        return replace(whole, branches=(), bounds=tuple(ordered))

    def _spreads(
        self, measured: list[Side], scene: Scene, rule: DecisionRule, given: int | None
    ) -> dict[str, Spread] | Unknown:
        """How well the margin to each bound is known, by its direction; the value is taken before rounding."""
        known = [place for place, side in enumerate(measured) if side.margin is not None]

        def margins(where: Scene) -> tuple[Fraction, ...] | Unknown:
            value = self._value(where, given)
            tolerance = Fraction(0) if self.tolerance is None else self.tolerance.evaluate(where)
            if isinstance(value, Unknown) or isinstance(tolerance, Unknown):
                return unite(v for v in (value, tolerance) if isinstance(v, Unknown))
            there = sides(self.bounds, value, self._value_kind, tolerance, where)
            found = [there[place] for place in known]
            unknown = [side.unknown or Unknown() for side in found if side.margin is None]
            return (
                unite(unknown) if unknown else tuple(side.margin for side in found if side.margin is not None)
            )

        here = margins(scene) if self.rounding else tuple(s.margin for s in measured if s.margin is not None)
        if isinstance(here, Unknown):
            return here
        uses = frozenset().union(*(e.uses for _, e in self.expressions()))
        sources = relevant(scene, uses)
        if given is not None:
            others = frozenset().union(*(e.uses for _, e in self.expressions() if e is not self.limit))
            sources = tuple(s for s in sources if s.lever.place in (None, given) or s.moves in others)
        found = sensitivities(margins, scene, sources, uses, here)
        if isinstance(found, Unknown):
            return found
        spreads = (spread_of(one, here, rule) for one in found)
        return {
            measured[place].direction: s for place, s in zip(known, spreads, strict=True) if s is not None
        }

    def _settled(self, margin: Fraction, value: Any) -> Fraction:
        """Differences below 10^-25 of a value made with roots or angles count as none."""
        if not self._irrational or not isinstance(value, Fraction):
            return margin
        return Fraction(0) if abs(margin) < abs(value) / 10**25 else margin

    @property
    def _irrational(self) -> bool:
        return self.limit.irrational or any(b.expression.irrational for b in self.bounds)

    def _assess_equal(
        self, value: Any, kind: Kind, scene: Scene, workings: tuple[Working, ...]
    ) -> Assessment:
        """Words, truths and lists: equal or not."""
        expression = self.bounds[0].expression
        wanted = expression.evaluate(scene)
        if isinstance(wanted, NoLimit):
            return replace(NO_LIMIT, value=Amount(value, kind), workings=workings)
        if isinstance(wanted, Unknown):
            return not_shown(wanted, workings=workings)
        met = _form(value) == _form(wanted)
        shown, bound = Amount(value, kind), Bound("exactly", Amount(wanted, kind))
        what = called(self.limit)
        return Assessment(
            PASS if met else FAIL,
            shown,
            (bound,),
            Amount(Fraction(0 if met else -1), NUMBER),
            met_by_nature=True,
            act="" if met else f"{what}: {act_words(kind, show_amount(bound.amount))}",
            text=f"{what} is {show_amount(shown)}" + ("" if met else f", not {show_amount(bound.amount)}"),
            workings=workings,
        )

    def _act(
        self, side: Side, margin: Fraction, kind: Kind, unit: Unit | None, scene: Scene, spread: Spread | None
    ) -> str:
        raise_it = side.direction == LOWER
        entry = scene.names.get(ITEM)
        each = getattr(entry, "standing", 1) > 1
        if kind.name in ("date", "grade"):
            wanted = show_amount(Amount(side.bound, kind))
            return f"{called(self.limit)}: {wanted} or {further(kind, raise_it)}"
        short = -margin + (guard_band(spread) if spread else 0)
        if short == 0:
            return f"{'raise' if raise_it else 'lower'} {called(self.limit)}: on the limit is not enough"
        act = act_on(self.limit, short, raise_it, scene, unit, each)
        return (
            act
            if spread is None
            else f"{act} to be clear of what the gear resolves{settling(spread, margin)}"
        )

    def _text(self, value: Amount, bound: Bound, margin: Amount, side: Side) -> str:
        what = called(self.limit)
        if bound.amount is None:
            return f"{what} {show_amount(value)}, no limit"
        return f"{what} {show_amount(value)} {distance(margin, bound, side.direction)}"

    def _workings(self, scene: Scene) -> tuple[Working, ...]:
        return tuple(Working(role, expression, scene) for role, expression in self.expressions())

    def sentence(self) -> str:
        """The limit in words."""
        bounds = " and ".join(
            phrase(b.sense, b.expression.text) for b in self.bounds if b.sense not in ("plus", "minus")
        )
        band = {b.sense: b.expression.text for b in self.bounds}
        if "plus" in band or "minus" in band:
            plus, minus = band.get("plus", "0"), band.get("minus", "0")
            bounds += f" plus or minus {plus}" if plus == minus else f" plus {plus} minus {minus}"
        widened = self.tolerance is not None and not (self.tolerance.constant and self.tolerance.value == 0)
        extra = f", tolerance {self.tolerance.text}" if self.tolerance is not None and widened else ""
        if self.rounding is not None:
            extra += f", rounded {self.rounding[1].replace('_', ' ')} to {self.rounding[0].text}"
        several = f" (the {self.of_several} of several)" if self.of_several else ""
        return f"{self.limit.text}{several} {bounds}{extra}"

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        yield "limit", self.limit
        for bound in self.bounds:
            yield bound.sense, bound.expression
        if self.tolerance is not None:
            yield "tolerance", self.tolerance
        if self.rounding is not None:
            yield "rounded", self.rounding[0]

    def branches(self) -> tuple[Check, ...]:
        return ()

    def compared_with(self, older: Check) -> Comparison:
        if not isinstance(older, Limit):
            return Comparison("changed", (f"{older.sentence()} becomes {self.sentence()}",))
        rounded = same_meaning(_step(older), _step(self)) and _mode(older) == _mode(self)
        return together(
            [
                compare_formulas("what is limited", older.limit, self.limit),
                *compare_bounds(older.bounds, self.bounds),
                _tolerances(older.tolerance, self.tolerance),
                SAME if rounded else compare_text("rounding", _rounding_text(older), _rounding_text(self)),
                compare_text("of several", older.of_several, self.of_several),
            ]
        )


def _in_doubt(outcome: str, margin: Fraction) -> str:
    """Why an outcome is not what the margin alone would make it."""
    if outcome == PASS and margin < 0:
        return ", but by less than the gear resolves: the entrant has the benefit of the doubt"
    if outcome == FAIL and margin > 0:
        return ", but by less than the gear resolves: the rules ask for a proven pass"
    return ""


def _margin_kind(kind: Kind) -> Kind:
    if kind.name == "date":
        return DAYS
    return NUMBER if kind.name == "grade" else kind


def _form(value: Any) -> Any:
    """The form in which two values are equal: words folded."""
    if isinstance(value, str):
        return fold(value)
    if isinstance(value, tuple):
        return tuple(_form(v) for v in value)
    return value


def _tolerances(older: Expression | None, newer: Expression | None) -> Comparison:
    """A tolerance that grew relaxes; none is as one of nothing."""
    given = [one for one in (older, newer) if one is not None]
    if all(one.constant and one.value == 0 for one in given):
        return SAME
    if older is None or newer is None:
        gone = newer is None
        words = f"tolerance {given[0].text} is {'gone' if gone else 'new'}"
        return Comparison("tightened" if gone else "relaxed", (words,))
    return compare_moving(
        f"tolerance {older.text} becomes {newer.text}", older, newer, rising_is_tighter=False
    )


def _step(check: Limit) -> Expression | None:
    return None if check.rounding is None else check.rounding[0]


def _mode(check: Limit) -> str:
    return "" if check.rounding is None else check.rounding[1]


def _rounding_text(check: Limit) -> str:
    return "" if check.rounding is None else f"{check.rounding[1]} to {check.rounding[0].text}"


def compile(reader: CheckReader) -> Limit | None:
    """Read a limit; None when it cannot be used (the problems are noted)."""
    limit = reader.formula("limit")
    if limit is None:
        return None
    settled = read_several(reader, limit)
    if settled is None:
        return None
    kind, several = settled
    bounds = read_bounds(reader, kind)
    widened = read_tolerance(reader, kind)
    rounded = read_rounding(reader, kind)
    if bounds is None or widened is None or rounded is None:
        return None
    return Limit(limit, bounds, widened[0], rounded[0], several)
