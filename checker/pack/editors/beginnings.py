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


def _car(
    least_kg: tuple[str, str],
    readings_kg: tuple[str, str, str, str],
    on_limit_kg: tuple[str, str],
    at_53_kg: tuple[str, str],
    beyond_53_kg: tuple[str, str],
) -> tuple[tuple[str, str], ...]:
    """What stands in place of the common car's weights.

    Args:
        least_kg: The two minimum weights.
        readings_kg: Front left and right, rear left and right.
        on_limit_kg: Rear right with which the car stands on its minimum, and half a kilogram less.
        at_53_kg: A left and a right wheel of a car that has 53 % on the left.
        beyond_53_kg: The same with 53.1 %.
    """
    at, beyond = at_53_kg, beyond_53_kg
    return (
        ("560 kg", f"{least_kg[0]} kg"),
        ("585 kg", f"{least_kg[1]} kg"),
        ("front_left: 155.0 kg", f"front_left: {readings_kg[0]} kg"),
        ("front_right: 146.0 kg", f"front_right: {readings_kg[1]} kg"),
        ("rear_left: 154.0 kg", f"rear_left: {readings_kg[2]} kg"),
        ("rear_right: 147.0 kg", f"rear_right: {readings_kg[3]} kg"),
        ('rear_right": 130.0 kg', f'rear_right": {on_limit_kg[0]} kg'),
        ('rear_right": 129.5 kg', f'rear_right": {on_limit_kg[1]} kg'),
        *((f"{end}_left: 159 kg", f"{end}_left: {at[0]} kg") for end in ("front", "rear")),
        *((f"{end}_right: 141 kg", f"{end}_right: {at[1]} kg") for end in ("front", "rear")),
        *((f"{end}_left: 159.3 kg", f"{end}_left: {beyond[0]} kg") for end in ("front", "rear")),
        *((f"{end}_right: 140.7 kg", f"{end}_right: {beyond[1]} kg") for end in ("front", "rear")),
    )


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
        *_car(
            ("700", "740"),
            ("195.0", "186.0", "190.0", "181.0"),
            ("169.0", "168.5"),
            ("201.4", "178.6"),
            ("201.78", "178.22"),
        ),
        (
            "fuel: 6 L                       # on board when weighed",
            "fuel: 0 L                       # there is none",
        ),
        (
            "fuel: {capacity: 22 L, density: 0.745 kg/L, at: {behind_front_axle: 2050 mm, left_of_centre: 0 mm}}",
            "fuel: {capacity: 0 L}             # no tank",
        ),
        ("weighing.fuel: 0 L, fuel.capacity: 0 L, ", ""),
        ("    weighing.fuel: 0 L\n    fuel.capacity: 0 L\n", ""),
        (" with an empty tank", ""),
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
        *_car(
            ("70", "75"),
            ("20.5", "19.5", "22.0", "20.5"),
            ("13.0", "12.5"),
            ("21.2", "18.8"),
            ("21.24", "18.76"),
        ),
        ("[100 cc, 8000 cc]", "[50 cc, 500 cc]"),
        ("1300 cc", "100 cc"),
        ("1428 cc", "125 cc"),
        ("capacity: 22 L", "capacity: 8 L"),
        ("behind_front_axle: 2050 mm", "behind_front_axle: 350 mm"),
        ("behind_front_axle: 1150 mm", "behind_front_axle: 600 mm"),
        ("left_of_centre: 46.5 mm", "left_of_centre: 31.8 mm"),
        ("1760 mm", "1200 mm"),
        ("1768 mm", "1380 mm"),
        ("2210 mm", "1050 mm"),
        ("2208 mm", "1050 mm"),
        ("{mass: 14.2 kg, section: 210 mm}", "{mass: 1.4 kg, section: 132 mm}"),
        ("{mass: 14.8 kg, section: 215 mm}", "{mass: 2.2 kg, section: 210 mm}"),
        ("{mass: 14 kg, section: 210 mm}", "{mass: 1.4 kg, section: 140 mm}"),
        ("{mass: 15 kg, section: 210 mm}", "{mass: 2.2 kg, section: 140 mm}"),
        ("rear_right: 0.4 kg}", "rear_right: 0.1 kg}"),
        ("suspension/damper", "drive/chain"),
        ("Price of a damper", "Price of a chain"),
        ("A damper costs at most 340 GBP", "A chain costs at most 60 GBP"),
        ("340 GBP", "60 GBP"),
        ("341 GBP", "61 GBP"),
        ("dampers at the limit", "chain at the limit"),
        ("dampers a pound too dear", "chain a pound too dear"),
        (
            "{name: front dampers, category: drive/chain, count: 2, price: 296.00 GBP, materials: [steel, aluminium]}",
            "{name: chain, category: drive/chain, price: 48.00 GBP, materials: [steel]}",
        ),
        ("{name: front discs, category: brakes/disc, count: 2,", "{name: rear disc, category: brakes/disc,"),
        (
            "{name: front pads, category: brakes/pad, count: 4,",
            "{name: rear pads, category: brakes/pad, count: 2,",
        ),
        ("margin: -4}}        # there are four of them", "margin: -2}}        # there are two of them"),
        ("safety/belts", "safety/helmet"),
        ("name: belts,", "name: helmet,"),
        ("Belts in date", "Helmet in date"),
        (
            "Belts may be used until the last day on their label",
            "A helmet may be used until the last day on its label",
        ),
        ("belts on their last day", "helmet on its last day"),
        ("belts a day late", "helmet a day late"),
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
        "weighing.readings: [{front_left: 270 kg, front_right: 280.8 kg, rear_left: 280.8 kg, rear_right: 248.4 kg}]",
        '"7": {outcome: pass, margin: 0 %}',
    )
    + _case(
        "cross weight beyond it",
        "weighing.readings: [{front_left: 270 kg, front_right: 291.6 kg, rear_left: 280.8 kg, rear_right: 237.6 kg}]",
        '"7": {outcome: fail, margin: -1 %}',
    ),
    "",
    _car(
        ("1000", "1050"),
        ("280.0", "262.0", "272.0", "254.0"),
        ("236.0", "235.5"),
        ("286.2", "253.8"),
        ("286.74", "253.26"),
    ),
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
    (
        *_car(
            ("400", "425"),
            ("112.0", "104.0", "110.0", "103.0"),
            ("99.0", "98.5"),
            ("114.48", "101.52"),
            ("114.696", "101.304"),
        ),
        ("capacity: 22 L", "capacity: 9 L"),
        ("fuel: 6 L                       #", "fuel: 4 L                       #"),
        ("  dry: {", "  tread: [3 mm, 3.2 mm, 4 mm, 4 mm]\n  dry: {"),
    ),
)

BEGINNINGS = {"electric": _ELECTRIC, "kart": _KART, "oval": _OVAL, "hillclimb": _HILLCLIMB}
