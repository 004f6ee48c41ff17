"""Kind `limit`: a quantity may not pass a stated value.

For clauses worded "not less than", "at most", "between". Standing exactly on `at_least` and `at_most` passes,
on `above` and `below` it fails; one lower and one upper bound may be given together. `exactly` also holds
words, truths and lists to a value; `nominal` with `plus_minus` is a band round a value. The margin is the
distance to the nearest bound, positive when legal.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import partial
from typing import ClassVar, Self

from checker.car.scene import Scene
from checker.kinds.comparing.comparison import Comparison
from checker.kinds.comparing.monotonic import Way
from checker.kinds.contract.check import Check, Depends
from checker.kinds.contract.example import Example
from checker.kinds.contract.schema import KindSchema
from checker.kinds.contract.slips import Slip
from checker.kinds.contract.values import Occurring, Passing
from checker.kinds.contract.writing import Writing
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, PASS, Assessment, DecisionRule
from checker.kinds.limiting import judging
from checker.kinds.limiting.limited import Limited
from checker.kinds.reading.reader import CheckReader
from checker.quantities.kind import Kind
from checker.quantities.sense import Sense
from checker.reading.quick_dataclasses import dataclass
from checker.reading.values import Plain

KEY = "limit"
_FORMULA = {"type": ["string", "number", "boolean"]}
SCHEMA: KindSchema = {
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
_example = partial(Example, facts="{frame.mass: {unit: kg}, frame.width: {unit: mm}, frame.base: {unit: mm}}")
_BAND = "{limit: frame.base, nominal: 2205 mm, plus_minus: 15 mm}"
EXAMPLES = (
    _example(
        "exactly on the limit",
        check="{limit: frame.mass, at_least: 620 kg}",
        car={"frame": {"mass": "620 kg"}},
        outcome=PASS,
        margin="0 kg",
    ),
    _example(
        "half a kilogram light",
        check="{limit: frame.mass, at_least: 620 kg}",
        car={"frame": {"mass": "619.5 kg"}},
        outcome=FAIL,
        margin="-0.5 kg",
    ),
    _example(
        "on a strict limit",
        check="{limit: frame.width, below: 1800 mm}",
        car={"frame": {"width": "180 cm"}},
        outcome=FAIL,
        margin="0 mm",
    ),
    _example(
        "inside the band", check=_BAND, car={"frame": {"base": "2213 mm"}}, outcome=PASS, margin="+7 mm"
    ),
    _example("not stated", check=_BAND, car={}, outcome=NOT_SHOWN),
)


@dataclass(frozen=True, slots=True)
class Limit(Limited, Check):
    kind: ClassVar[str] = KEY

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        return judging.assess(self, scene, rule)

    def clear_margin(self, scene: Scene, rule: DecisionRule) -> Fraction | None:
        return judging.clear_margin(self, scene, rule)

    def measured(self, scene: Scene) -> Assessment:
        return judging.measured(self, scene)

    def write_outcome(self, write: Writing) -> str:
        from checker.kinds.limiting import in_floats

        return in_floats.write_outcome(self, self, write)

    @property
    def met_by_one_value(self) -> bool:
        return self.tolerance is None and all(one.sense is Sense.EXACTLY for one in self.bounds)

    def margin_kinds(self) -> frozenset[Kind]:
        return frozenset({judging.margin_kind(self.value_kind)})

    def obstacle(self, turned: bool) -> str:
        from checker.kinds.limiting import condition_range

        return condition_range.obstacle(self, turned)

    def compared_with(self, older: Self) -> Comparison:
        from checker.kinds.limiting import comparing

        return comparing.compare_limits(older, self)

    def moves_with(self, depends: Depends) -> Way | None:
        from checker.kinds.limiting import comparing

        return comparing.moves_with(self, depends)

    def slips(self, key: str, written: Plain) -> Iterator[Slip]:
        from checker.kinds.limiting import slips

        return slips.slips(self, key, written)

    def one_sided(self, key: str) -> bool | None:
        from checker.kinds.limiting import slips

        return slips.NUMBERS.get(key)

    def always_or_never(self, occurring: Occurring) -> tuple[str, str] | None:
        from checker.kinds.limiting import passing

        return passing.always_or_never(self, occurring)

    def passing(self) -> Passing:
        from checker.kinds.limiting import passing

        return passing.passing(self)


def compile(reader: CheckReader) -> Limit | None:
    from checker.kinds.limiting.reading import read_limited

    limited = read_limited(reader, KEY)
    return None if limited is None else Limit(*limited)
