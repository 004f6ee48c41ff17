"""Kind `sequence_of_readings`: readings do not fall from the first to the last.

Written by the contract alone, to prove that nothing else needs an entry. The margin is the least rise less the one
asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import ClassVar

from checker.car.scene import Scene
from checker.kinds.contract.check import Check
from checker.kinds.contract.example import Example
from checker.kinds.contract.schema import KindSchema
from checker.kinds.judging.assessment import FAIL, PASS, Amount, Assessment, DecisionRule, not_shown
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Unknown
from checker.quantities.reason import Why
from checker.quantities.units import base_unit

KEY = "sequence_of_readings"
SCHEMA: KindSchema = {
    "required": [KEY],
    "properties": {
        KEY: {"type": "string", "description": "The readings, the first one first."},
        "rising_by": {"type": "string", "description": "By how much each must be above the one before."},
    },
}
_CHECK, _FACTS = (
    "{sequence_of_readings: body.heights, rising_by: 2 mm}",
    "{body.heights: {unit: mm, several: true}}",
)
EXAMPLES = (
    Example(
        "rising just enough",
        check=_CHECK,
        facts=_FACTS,
        car={"body": {"heights": ["40 mm", "42 mm"]}},
        outcome=PASS,
        margin="0 m",
    ),
    Example(
        "falling",
        check=_CHECK,
        facts=_FACTS,
        car={"body": {"heights": ["40 mm", "39 mm"]}},
        outcome=FAIL,
        margin="-0.003 m",
    ),
)


class NotInOrder(Why):
    """What else may be wrong with readings in a row."""

    ALONE = "{} alone is in no order"


@dataclass(frozen=True, slots=True)
class Sequence(Check):
    """Compiled readings in a row."""

    kind: ClassVar[str] = KEY
    readings: Expression
    rising_by: Expression | None

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        readings = self.readings.evaluate(scene)
        rise = Fraction(0) if self.rising_by is None else self.rising_by.evaluate(scene)
        for value in (readings, rise):
            if isinstance(value, Unknown):
                return not_shown(value)
        kind = self.readings.kind.element
        assert kind is not None
        unit = base_unit(kind, None)
        if len(readings) == 1:
            return not_shown(Unknown.because(NotInOrder.ALONE, Amount(readings[0], kind, unit)))
        margin = min((b - a - rise for a, b in pairwise(readings)), default=Fraction(0))
        return Assessment(rule.decide(margin, Fraction(0), True), margin=Amount(margin, kind, unit))

    def sentence(self) -> str:
        rise = "" if self.rising_by is None else f", each {self.rising_by.text} above the one before"
        return f"{self.readings.text} in rising order{rise}"

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        yield KEY, self.readings
        if self.rising_by is not None:
            yield "rising_by", self.rising_by


def compile(reader: CheckReader) -> Sequence | None:
    """Read what must rise; None when it cannot be used (the problems are noted)."""
    readings = reader.formula(KEY)
    if readings is None or readings.kind.element is None:
        if readings is not None:
            reader.problem(302, f"'{readings.text}' is {readings.kind}, not a row of readings", KEY)
        return None
    rising_by = reader.optional("rising_by", readings.kind.element)
    return None if reader.has("rising_by") and rising_by is None else Sequence(readings, rising_by)
