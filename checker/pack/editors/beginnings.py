"""What a new pack may begin with beside the five clauses: facts, clauses and cases of one sort of formula."""

from __future__ import annotations

from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Beginning:
    """What is added to the pack that every author begins with. `put_for` is done first, in every text."""

    about: str
    facts: str
    """Lines under `facts`."""
    clauses: str
    cases: str
    car: str
    """Sections of the car."""
    put_for: tuple[tuple[str, str], ...] = ()
    """Words of the common texts, and what stands in their place."""


def _case(name: str, sets: str, expect: str) -> str:
    return f"\n- name: {name}\n  from: car.yaml\n  set: {{{sets}}}\n  expect: {{{expect}}}\n"


_ELECTRIC = Beginning(
    "an electric formula: voltage, isolation, what one charge holds",
    """\
  battery.energy: {unit: kWh, about: What the battery holds when full}
  isolation.resistance: {unit: ohm, about: "Between either pole and the chassis, the battery's switch off"}
""",
    """\
  "6":
    title: Energy on board
    text: The battery holds at most 20 kWh.
    check: {limit: battery.energy, at_most: 20 kWh}
  "7":
    title: Isolation
    text: Between either pole of the battery and the chassis there are at least 500 ohm for each volt.
    check: {limit: isolation.resistance, at_least: 500 ohm/V * battery.voltage}
    act: Keep everybody off the car and have a competent person find the fault; the organising body decides
""",
    _case("energy on its limit", "battery.energy: 20 kWh", '"6": {outcome: pass, margin: 0 kWh}')
    + _case("energy beyond it", "battery.energy: 20.5 kWh", '"6": {outcome: fail, margin: -0.5 kWh}')
    + _case(
        "isolation on its limit", "isolation.resistance: 48000 ohm", '"7": {outcome: pass, margin: 0 ohm}'
    )
    + _case("isolation below it", "isolation.resistance: 47999 ohm", '"7": {outcome: fail, margin: -1 ohm}'),
    "isolation: {resistance: 60000 ohm}\n",
    (
        (
            "engine.capacity: {unit: cc, range: [100 cc, 8000 cc], about: Swept volume of all cylinders}",
            "battery.voltage: {unit: V, range: [12 V, 1000 V], about: Nominal voltage of the battery}",
        ),
        ("engine.capacity", "battery.voltage"),
        ("by: [capacity]", "by: [voltage]"),
        ("capacity: up to 1300 cc", "voltage: up to 60 V"),
        ("1300 cc itself", "60 V itself"),
        ("capacity: above 1300 cc", "voltage: above 60 V"),
        ("above 1300 cc", "above 60 V"),
        ("engine: {capacity: 1428 cc}", "battery: {voltage: 96 V, energy: 18 kWh}"),
    ),
)

_KART = Beginning(
    "karts: width at the rear, the axle, tyres of one maker",
    """\
  axle.diameter: {unit: mm, measured_with: caliper, about: Outside of the rear axle}
  axle.wall: {unit: mm, about: Thinnest place of the rear axle's wall}
  tyres.maker: {type: text, about: As moulded on the tyres}
""",
    """\
  "6":
    title: Rear axle
    text: The rear axle is at most 50 mm in diameter, with a wall of at least 1.9 mm.
    check: {all_of: [{limit: axle.diameter, at_most: 50 mm}, {limit: axle.wall, at_least: 1.9 mm}]}
  "7":
    title: Tyres
    text: Tyres are made by Alder.
    check: {allowed: [Alder], of: tyres.maker}
""",
    _case(
        "axle on its limit", "axle.diameter: 50 mm, axle.wall: 1.9 mm", '"6": {outcome: pass, margin: 0 mm}'
    )
    + _case("axle a millimetre thicker", "axle.diameter: 51 mm", '"6": {outcome: fail, margin: -1 mm}')
    + _case("tyres by Alder", "tyres.maker: alder", '"7": {outcome: pass, margin: 0}')
    + _case("tyres by another", "tyres.maker: Brock", '"7": {outcome: fail, margin: -1}'),
    "axle: {diameter: 49.8 mm, wall: 2.0 mm}\n",
    (
        ("\nclauses:", "\ninstruments: {caliper: {permissible_error: 0.03 mm}}\n\nclauses:"),
        ("  dry: {", "  maker: Alder\n  dry: {"),
    ),
)

_OVAL = Beginning(
    "short ovals: cross weight, wheelbases left and right",
    "",
    """\
  "6":
    title: Wheelbases
    text: The wheelbases on the left and on the right differ by at most 25 mm.
    check: {limit: abs(dimensions.wheelbase_left - dimensions.wheelbase_right), at_most: 25 mm}
  "7":
    title: Cross weight
    text: As weighed, the cross weight is at most 52 % of the total.
    check: {limit: percentage.cross, at_most: 52 %, condition: as_weighed}
""",
    _case(
        "wheelbases on the limit", "dimensions.wheelbase_right: 2185 mm", '"6": {outcome: pass, margin: 0 mm}'
    )
    + _case(
        "wheelbases beyond it", "dimensions.wheelbase_right: 2184 mm", '"6": {outcome: fail, margin: -1 mm}'
    )
    + _case(
        "cross weight on the limit",
        "weighing.readings: [{front_left: 150 kg, front_right: 156 kg, rear_left: 156 kg, rear_right: 138 kg}]",
        '"7": {outcome: pass, margin: 0 %}',
    )
    + _case(
        "cross weight beyond it",
        "weighing.readings: [{front_left: 150 kg, front_right: 162 kg, rear_left: 156 kg, rear_right: 132 kg}]",
        '"7": {outcome: fail, margin: -1 %}',
    ),
    "",
)

_HILLCLIMB = Beginning(
    "hill climbs: a timing strut, the tread of road tyres",
    """\
  strut.height: {unit: mm, about: "Top edge of the timing strut above the ground, driver aboard"}
  tyres.tread: {unit: mm, readings: 4, about: "Tread at its thinnest, one reading for each tyre"}
""",
    """\
  "6":
    title: Timing strut
    text: The top edge of the timing strut lies 254 mm above the ground, 25 mm more or less.
    check: {limit: strut.height, nominal: 254 mm, plus_minus: 25 mm}
  "7":
    title: Tread
    text: The tread of each tyre is at least 1.6 mm deep.
    check: {limit: tyres.tread, at_least: 1.6 mm, of_several: worst}
""",
    _case("strut at its highest", "strut.height: 279 mm", '"6": {outcome: pass, margin: 0 mm}')
    + _case("strut too high", "strut.height: 280 mm", '"6": {outcome: fail, margin: -1 mm}')
    + _case(
        "tread on its limit", "tyres.tread: [1.6 mm, 2 mm, 3 mm, 3 mm]", '"7": {outcome: pass, margin: 0 mm}'
    )
    + _case(
        "tread below it", "tyres.tread: [1.5 mm, 2 mm, 3 mm, 3 mm]", '"7": {outcome: fail, margin: -0.1 mm}'
    )
    + _case("one tyre not measured", "tyres.tread: [2 mm, 2 mm, 2 mm]", '"7": not_shown'),
    "strut: {height: 250 mm}\n",
    (("  dry: {", "  tread: [3 mm, 3.2 mm, 4 mm, 4 mm]\n  dry: {"),),
)

BEGINNINGS = {"electric": _ELECTRIC, "kart": _KART, "oval": _OVAL, "hillclimb": _HILLCLIMB}
