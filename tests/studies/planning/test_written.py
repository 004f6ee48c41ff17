"""A plan written into the car's file: what is done stands there once, and the rest stays as it was."""

from __future__ import annotations

from fractions import Fraction

from checker.car.declaration.loading import load_car
from checker.reading.strict_yaml import parse_document
from checker.studies.planning.looking import Asked
from checker.studies.planning.planner import plan
from checker.studies.planning.written import written
from tests.building import DAY
from tests.studies.planning.cars import rules

PACK = rules("{limit: weight.total, at_least: 641 kg, condition: as_weighed}")
TEXT = """\
# the car of the weekend
formula: test
car: {number: "7"}
event: {date: 2026-05-03}
weighing:
  fuel: 10 L         # as we came in
  driver: out
  readings: [{front_left: 150 kg, front_right: 148 kg, rear_left: 172 kg, rear_right: 170 kg}]
dimensions: {wheelbase_left: 2400 mm, wheelbase_right: 2400 mm, front_width_over_tyres: 1700 mm,
  rear_width_over_tyres: 1700 mm}
tyres: {dry: {front: {section: 200 mm}, rear: {section: 200 mm}}}
ballast:
  - {label: B1, mass: 4 kg, at: {behind_front_axle: 2000 mm, left_of_centre: 0 mm}}   # in the boot
  - {label: B2, mass: 2 kg, at: {behind_front_axle: 300 mm, left_of_centre: 100 mm}}
planning:
  places:
    - {name: nose, at: {behind_front_axle: 200 mm, right_of_centre: 50 mm}, fixings: 2}
  shelf:
    - {label: S, mass: 1 kg, count: 3}
    - {label: sheet, step: 0.5 kg, most: 2 kg}
  movable:
    - {what: B1, to: [nose]}
  may_come_off: [B2]
"""


def test_only_what_is_done_is_written() -> None:
    document = parse_document(TEXT.encode(), "car.yaml", "CD")
    car = load_car(document, PACK.vocabulary)
    options = plan(PACK, document, car, car.planning, DAY, Asked()).model.options
    by_name = {(o.doing.value, o.what): o for o in options}
    chosen = {
        by_name["take_off", "B2"]: Fraction(1),
        by_name["move", "B1"]: Fraction(1),
        by_name["add", "S"]: Fraction(3),
        by_name["add", "sheet"]: Fraction(3),
    }
    text = written(document, car, chosen)
    kept, new = TEXT.splitlines(), text.splitlines()
    assert [line for line in kept if line not in new] == [
        "  - {label: B1, mass: 4 kg, at: {behind_front_axle: 2000 mm, left_of_centre: 0 mm}}   # in the boot",
        "  - {label: B2, mass: 2 kg, at: {behind_front_axle: 300 mm, left_of_centre: 100 mm}}",
        "    - {label: S, mass: 1 kg, count: 3}",
        "    - {label: sheet, step: 0.5 kg, most: 2 kg}",
        "  may_come_off: [B2]",
    ]
    nose = "at: {behind_front_axle: 200 mm, right_of_centre: 50 mm}"
    for line in (
        f"  - {{label: B1, mass: 4 kg, {nose}, fixings: 2}}   # in the boot",
        f"  - {{label: S, mass: 1 kg, count: 3, {nose}, fixings: 2}}",
        f"  - {{label: sheet, mass: 1.5 kg, {nose}, fixings: 2}}",
        "    - {label: sheet, step: 0.5 kg, most: 0.5 kg}",
        "  may_come_off: []",
    ):
        assert line in new
    (since,) = [line for line in new if line.startswith("  since: ")]
    assert since.count("{added: ") == 2
    again = load_car(parse_document(text.encode(), "car.yaml", "CD"), PACK.vocabulary)
    assert again.weights().weight("total") == 640 + 3 + Fraction(3, 2) - 2
    moved = Fraction(4 * 200 - 4 * 2000 + 4 * 200 + 200 // 2 - 2 * 300, 2400)
    assert again.weights().weight("rear") == 342 + moved
