"""Amounts in what cannot be told stand in the units asked for, wherever the reason was found."""

from __future__ import annotations

from checker.report.one_car.document import inspection_document
from checker.report.words.units import showing
from tests.car.cars import varied
from tests.examples import each_row
from tests.kinds.workbench import inspect, pack_of

FACTS = "{x.mass: {unit: kg}, x.wall: {unit: mm}}"
MORE = """{conditions: {without: {driver: out}}, tables: {
  fee: {by: over, rows: [{over: up to 1 kg, value: 9 GBP}]},
  step: {by: wall, rows: [{wall: up to 1 in, value: 1 mm}]},
  most: {by: [mass, wall], rows: [{mass: up to 1 kg, wall: up to 9 mm, value: 1 kg}]}
}}"""
LIGHT = {
    "weighing.driver": "aboard",
    "driver.mass": "250 kg",
    "weighing.readings": [{"front": "124 kg", "rear": "125 kg"}],
}
CAR = {key: value for key, value in varied(LIGHT).items() if key not in ("formula", "car")}


@each_row(
    ("check", "penalty", "key", "of_rules", "us"),
    [
        (
            "{limit: x.mass, at_most: 'most(x.mass, x.wall)'}",
            "",
            "not_shown",
            "table most has no row for mass 10 kg, wall 50.8 mm",
            "table most has no row for mass 22.0462 lb, wall 2 in",
        ),
        (
            "{limit: x.wall, at_most: 9 mm, rounded: {to: step(x.wall), mode: up}}",
            "",
            "not_shown",
            "table step has no row for wall 2 in",
            "table step has no row for wall 2 in",
        ),
        (
            "{limit: x.mass, at_most: 5 kg}",
            "penalty: {amount: fee(excess)}",
            "penalty",
            "cannot be worked out: table fee has no row for over 5 kg",
            "cannot be worked out: table fee has no row for over 11.0231 lb",
        ),
        (
            "{limit: percentage.front, at_least: 1 %, condition: without}",
            "",
            "not_shown",
            "the total comes out at 0 kg or less",
            "the total comes out at 0 lb or less",
        ),
    ],
)
def test_amounts_follow_the_units_asked_for(
    check: str, penalty: str, key: str, of_rules: str, us: str
) -> None:
    judged = inspect(pack_of(check, FACTS, MORE, penalty), {**CAR, "x": {"mass": "10 kg", "wall": "50.8 mm"}})
    for units, told in ((None, of_rules), ("us", us)):
        with showing(units):
            (outcome,) = inspection_document(judged)["outcomes"]
        assert outcome[key] in (told, [told])
