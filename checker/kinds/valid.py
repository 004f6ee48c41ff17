"""Kind `valid`: the day is not after the last day.

For clauses on expiry, age and service intervals. The day is the event's, or the one under `on`. On the last
day itself it is still valid. The margin is the days in hand.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from functools import partial
from typing import ClassVar, Self

from checker.car.scene import Scene
from checker.kinds.comparing.changes import compare_formulas, compare_moving
from checker.kinds.comparing.comparison import Comparison, together
from checker.kinds.comparing.monotonic import Way, difference
from checker.kinds.contract.check import Check, Depends, uses
from checker.kinds.contract.example import Example
from checker.kinds.contract.schema import KindSchema
from checker.kinds.contract.writing import Writing
from checker.kinds.judging.acts import Act, Do
from checker.kinds.judging.assessment import (
    FAIL,
    NO_LIMIT,
    NOT_SHOWN,
    PASS,
    Amount,
    Assessment,
    Bound,
    DecisionRule,
    Working,
    not_shown,
)
from checker.kinds.judging.breach import target_named
from checker.kinds.judging.findings import ValidUntil
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit
from checker.quantities.kind import DATE, DAYS, Kind, Unknown, unite
from checker.quantities.sense import Sense
from checker.quantities.units import parse_unit
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass, replace

KEY = "valid"
SCHEMA: KindSchema = {
    "required": ["valid"],
    "properties": {
        "valid": {"type": "string", "description": "The last day: a fact, a field or a formula."},
        "on": {"type": "string", "description": "The day it is asked for; without it: the day of the event."},
    },
}
_FACTS = "{seat.made: {type: date, to: [day, month]}}"
_example = partial(Example, check="{valid: seat.made + 5 years}", facts=_FACTS)
EXAMPLES = (
    _example(
        "on the last day",
        car={"seat": {"made": "2021-05-03"}, "event": {"date": "2026-05-03"}},
        outcome=PASS,
        margin="0 days",
    ),
    _example(
        "a day late",
        car={"seat": {"made": "2021-05-02"}, "event": {"date": "2026-05-03"}},
        outcome=FAIL,
        margin="-1 day",
    ),
    _example(
        "a month stands for its last day",
        car={"seat": {"made": "2021-05"}, "event": {"date": "2026-05-24"}},
        outcome=PASS,
        margin="+7 days",
    ),
    _example("no label", car={}, outcome=NOT_SHOWN),
)


_NAME = pattern(r"[A-Za-z_][\w.]*")


def _is_day(target: tuple[str, ...], scene: Scene) -> bool:
    if len(target) == 1:
        return isinstance(scene.car.value(target[0]), date)
    list_name, path, field = target
    return any(e.path == path and isinstance(e.value(field), date) for e in scene.car.every_entry(list_name))


@dataclass(frozen=True, slots=True)
class Valid(Check):
    kind: ClassVar[str] = KEY
    last: Expression
    on: Expression

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        last, day = self.last.evaluate(scene), self.on.evaluate(scene)
        workings = tuple(Working(role, expression, scene) for role, expression in self.expressions())
        if isinstance(last, NoLimit):
            return replace(NO_LIMIT, workings=workings)
        absent = [v for v in (last, day) if isinstance(v, Unknown)]
        if absent:
            return not_shown(unite(absent), workings=workings)
        margin = Fraction((last - day).days)
        outcome = rule.decide(margin, Fraction(0), True)
        return Assessment(
            outcome,
            Amount(day, DATE),
            (Bound(Sense.VALID_UNTIL, Amount(last, DATE)),),
            Amount(margin, DAYS, parse_unit("days", None)),
            size=Fraction(365),
            act=None
            if outcome == PASS
            else Act(Do.RENEW, wanted=(Amount(day, DATE),), sets=self._days(scene)),
            finding=ValidUntil(last, day),
            workings=workings,
        )

    def _days(self, scene: Scene) -> tuple[tuple[str, ...], ...]:
        """The days that the last day is worked out from, which are new once the thing is."""
        found = (target_named(name, scene) for name in dict.fromkeys(_NAME.findall(self.last.text)))
        return tuple(
            target for target in found if target and target != ("event.date",) and _is_day(target, scene)
        )

    def margin_kinds(self) -> frozenset[Kind]:
        return frozenset({DAYS})

    def write_outcome(self, write: Writing) -> str:
        return write.exactly(self, uses(self))

    def sentence(self) -> str:
        when = "" if self.on.text == "event.date" else f" on {self.on.text}"
        return f"valid until {self.last.text}{when}"

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        yield "valid", self.last
        yield "on", self.on

    def moves_with(self, depends: Depends) -> Way | None:
        return difference(depends(self.last), depends(self.on))

    def compared_with(self, older: Self) -> Comparison:
        words = f"valid until {older.last.text} becomes {self.last.text}"
        last = compare_moving(words, older.last, self.last, rising_is_tighter=False)
        return together([last, compare_formulas("on", older.on, self.on)])


def compile(reader: CheckReader) -> Valid | None:
    last = reader.formula("valid", expected=DATE)
    on = reader.optional("on", DATE) if reader.has("on") else compile_formula("event.date", reader.scope)
    return None if last is None or on is None else Valid(last, on)
