"""Kind `holds`: a formula is true.

Only for what no other kind says, and for what a human eye judges and an official states. It has no margin,
so a report can say that the clause fails but not by how much.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, Self

from checker.car.scene import Scene
from checker.kinds.comparing.changes import compare_formulas
from checker.kinds.comparing.comparison import Comparison
from checker.kinds.contract.check import Check, uses
from checker.kinds.contract.example import Example
from checker.kinds.contract.schema import KindSchema
from checker.kinds.contract.slips import Opposite, Slip, slips_in
from checker.kinds.contract.writing import Writing
from checker.kinds.judging.assessment import (
    FAIL,
    NOT_SHOWN,
    PASS,
    Assessment,
    DecisionRule,
    Working,
    not_shown,
)
from checker.kinds.judging.findings import NotSo
from checker.kinds.judging.working import as_statement
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import TRUTH, Kind, Unknown
from checker.reading.quick_dataclasses import dataclass
from checker.reading.values import Plain

KEY = "holds"
SCHEMA: KindSchema = {
    "required": ["holds"],
    "properties": {"holds": {"type": ["string", "boolean"], "description": "What must be true."}},
}
_FACTS = "{body.sound: {type: truth}, body.doors: {type: count}}"
EXAMPLES = (
    Example("true", check="{holds: body.sound}", facts=_FACTS, car={"body": {"sound": True}}, outcome=PASS),
    Example(
        "false",
        check="{holds: body.sound and body.doors == 2}",
        facts=_FACTS,
        car={"body": {"sound": True, "doors": 3}},
        outcome=FAIL,
    ),
    Example("nobody said so", check="{holds: body.sound}", facts=_FACTS, car={}, outcome=NOT_SHOWN),
)


@dataclass(frozen=True, slots=True)
class Holds(Check):
    kind: ClassVar[str] = KEY
    formula: Expression

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:  # noqa: ARG002 (a truth is never near)
        value = self.formula.evaluate(scene)
        workings = (Working("holds", self.formula, scene),)
        if isinstance(value, Unknown):
            return not_shown(value, workings=workings)
        if value:
            return Assessment(PASS, workings=workings)
        return Assessment(FAIL, finding=NotSo(as_statement(self.formula, scene)), workings=workings)

    def write_outcome(self, write: Writing) -> str:
        return write.exactly(self, uses(self))

    def margin_kinds(self) -> frozenset[Kind]:
        return frozenset()

    def sentence(self) -> str:
        return self.formula.text

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        yield "holds", self.formula

    def slips(self, key: str, written: Plain) -> Iterator[Slip]:
        yield from slips_in((key,), written)
        if isinstance(written, str):
            yield Opposite((key,))

    def compared_with(self, older: Self) -> Comparison:
        return compare_formulas("what must hold", older.formula, self.formula)


def compile(reader: CheckReader) -> Holds | None:
    formula = reader.formula("holds", expected=TRUTH)
    if formula is None:
        return None
    if formula.constant:
        says = "always" if formula.value is True else "never"
        reader.problem(507, f"`holds` is {says} true", "holds", warning=True)
    return Holds(formula)
