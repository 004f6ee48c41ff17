"""What a declaration tells beside facts, for the form: weighings, tyre sets, places, gear, what may be done.

The blank declaration tells the same to who writes the file by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from checker.car.described.accuracy_classes import CLASSES, STANDARDS
from checker.car.described.standard import AXLES, SIDES, WHEELS
from checker.car.described.vocabulary import ListType
from checker.car.gear.pads import PADS
from checker.pages.form.maker import Maker, label_of
from checker.pages.form.parts import Either, Group, Growing, Input, Part
from checker.reading.quick_dataclasses import replace

FIRST = ("car", "event", "weighing", "fuel", "driver", "tyres", "wear", "dimensions")
"""What the weights need, before all others."""
LAST = ("fluids", "centre_of_gravity", "instruments", "checks", "planning", "unfinished", "approvals")

_STOOD = (*WHEELS, "front", "rear", "left", "right", "total")
"""Under what a pad may have stood."""

ONE_OF = {"ballast": "piece of ballast", "tyres_brought": "tyre", "bodywork": "panel"}

HELP: Mapping[str, str] = {
    "weighing": "The state in which the car was weighed, and what the scales showed.",
    "fuel": "The tank, and the fuel in it.",
    "driver": "The driver, ready to race.",
    "tyres": "For each set that you may run: what one wheel with its tyre weighs, and how wide its section is.",
    "wear": "What each wheel's tyre and brake lose from new to worn.",
    "components": "The parts of the car that rules ask for. Masses and prices are of one piece.",
    "ballast": "Every piece that was bolted on for its weight.",
    "fluids": "Fluids that are used up as tyres and brakes wear.",
    "instruments": "Scales and gauges of your own, so that their errors are counted.",
    "checks": "What each pad showed with nothing on it, and under a weight that is known.",
    "planning": "What may be done about the weights, for a plan: where ballast may be bolted, what lies on the shelf, "
    "what may come off.",
    "unfinished": "A list counts as complete. Name here what does not hold all yet: what is missing in it is then not "
    "declared, instead of not met.",
    "approvals": "References of approvals that the organising body has given.",
}


def parts_of(section: str, make: Maker) -> list[Part]:
    """What stands in a section beside its facts."""
    parts = _PARTS.get(section)
    return [] if parts is None else parts(make)


def _weighing(make: Maker) -> list[Part]:
    ends = [make.amount(key, "kg") for key in ("front", "rear", "left", "right", "total")]
    reading = Group(
        "",
        "",
        (
            *make.wheels("What each pad showed"),
            *ends,
            Either(
                "pads",
                "Where the pads stood, if not as marked",
                (
                    ("in words", make.text("pads", words=PADS)),
                    ("pad by pad", make.by_wheel("pads", "The pad under each", names=_STOOD)),
                ),
            ),
        ),
    )
    floor = Group(
        "floor",
        "How level the pads were",
        (
            _known(make.text("across", "To within so much from side to side, as 2 mm or 0.1 deg")),
            _known(make.text("along", "To within so much from axle to axle")),
            make.text("pad_height", "How far one pad may stand out of the plane of the others, as 0.5 mm"),
            make.text("stiffness", "How stiff one wheel stands on the ground, as 25 N/mm"),
        ),
        is_rare=True,
    )
    done = Group(
        "",
        "",
        (
            make.text("added", "The name of what is on the car now", label="Bolted on"),
            make.text("moved", "The name of what sits elsewhere now", label="Moved"),
            make.place("from", "Where it was when weighed"),
            Either("taken_off", "Taken off", tuple(_whole_entry(make, one) for one in make.weighing_lists())),
        ),
    )
    return [
        Growing(
            "readings",
            "What the scales showed",
            reading,
            help="A line for each weighing, the car taken off and put back in between. From pads fill in the four "
            "wheels, from a weighbridge front and rear, left and right, or the total alone. Let nobody get in, out or "
            "under while the car is on pads.",
            one="weighing",
            at_hand=len(WHEELS),
            begun=True,
        ),
        make.text("instrument", "The pads or scales, by their name under Instruments", label="Weighed with"),
        make.text(
            "when", "The day, and the time where it is known, as 2026-05-03 08:40", label="Weighed when"
        ),
        make.texts("without", "Labels of ballast that was not on the car when it was weighed"),
        floor,
        Growing(
            "since",
            "Done since the weighing",
            done,
            help="The car's weights are then worked out. Weigh it again.",
            one="change",
        ),
    ]


def _whole_entry(make: Maker, its_list: ListType) -> tuple[str, Part]:
    """What an entry of a list tells, where none stands."""
    entry = make.entry(its_list)
    inside = Growing("parts", "Parts inside it", entry, one="part", nested=True)
    parts = (*entry.parts, inside) if its_list.name == "components" else entry.parts
    return f"an entry of {label_of(its_list.name).lower()}", Group("taken_off", "Taken off", parts)


def _fuel(make: Maker) -> list[Part]:
    place = make.place(help="The middle of the tank")
    level = make.amount("level", "L", "Fuel up to here; the place is the centre of all of it")
    levels = Growing(
        "at", "Levels, from low to high", Group("", "", (level, *place.parts), is_place=True), one="level"
    )
    return [Either("at", "Where the fuel is", (("in one place", place), ("elsewhere as it rises", levels)))]


def _centre_of_gravity(make: Maker) -> list[Part]:
    raised = (
        make.text("axle", "The one that was raised", words=AXLES),
        make.amount("by", "mm", "How far"),
        make.amount("other_axle", "kg", "What the other axle then carried"),
        make.amount("wheel_radius", "mm", "From the ground to the hub that stayed down"),
    )
    help = "To find the height. Lift by the body's strong points, chock the wheels, let nobody get under the car."
    return [
        make.amount("height", "mm", "Above the ground, where that is known"),
        Growing("raised", "Weighed with an axle raised", Group("", "", raised), help=help, one="weighing"),
    ]


def _tyres(make: Maker) -> list[Part]:
    axles = _axles(make)
    return [Group(name, f"{name.capitalize()} tyres", axles) for name in make.tyre_sets]


def _axles(make: Maker) -> tuple[Group, ...]:
    wheel = (make.amount("mass", "kg"), make.amount("section", "mm"), make.amount("radius", "mm"))
    sides = tuple(Group(side, f"Where the {side} differs", wheel, is_rare=True) for side in SIDES)
    return tuple(Group(axle, f"{axle.capitalize()} wheel with its tyre", (*wheel, *sides)) for axle in AXLES)


def tyres_by_name(make: Maker) -> Growing:
    """The sets of a formula that leaves it to each car which it runs."""
    return Growing(
        "tyres", "Tyres", Group("", "", _axles(make)), help=HELP["tyres"], one="set of tyres", named=True
    )


def _planning(make: Maker) -> list[Part]:
    listed = ("label", "mass")
    fields = tuple(part for part in make.ballast if part.key not in listed)
    beside = tuple(part for part in fields if part.key not in ("count", "at"))
    place = (
        make.text("name", "What the place is called"),
        make.place(above=True),
        make.amount("most", "kg", "What it may carry"),
        _whole(make, "pieces", "How many pieces it takes"),
        *beside,
    )
    piece = (
        make.text("label", "The mark on the piece"),
        make.amount("mass", "kg", "Of one piece"),
        _whole(make, "count", "How many there are"),
        make.amount("step", "kg", "Of stock that is cut: in steps of this"),
        make.amount("most", "kg", "How much of it there is"),
        *beside,
    )
    in_full = Growing("to", "Places", Group("", "", place), one="place")
    ends = Group("", "", make.place().parts, is_place=True)
    movable = (
        make.text("what", "The label or name of what is on the car; driver; or fuel tank"),
        Either(
            "to",
            "Where it may go",
            (("places by their names", make.texts("to", "As named above")), ("places told here", in_full)),
        ),
        Growing("between", "Or slides between two ends", ends, help="As a seat on its rails.", one="end"),
    )
    race = (
        make.amount("fuel_per_lap", "L", "What a lap burns"),
        _whole(make, "laps", "How many laps"),
        make.amount("start_at_least", "L", "Without it: what the race burns"),
        make.amount("start_at_most", "L", "Without it: what the tank holds"),
    )
    return [
        Growing("places", "Places for ballast", Group("", "", place), one="place"),
        Growing("shelf", "On the shelf", Group("", "", piece), one="piece"),
        Growing("movable", "What may sit elsewhere", Group("", "", movable), one="thing"),
        make.texts("may_come_off", "Labels or names of what may come off"),
        Group("race", "A race, for a plan of its start", race),
    ]


def _known(part: Input) -> Input:
    """The same, with how well it is known."""
    return replace(part, instrumented=True)


def _whole(make: Maker, key: str, help: str) -> Part:
    return replace(make.count(), key=key, label=key.capitalize(), help=help)


def _fluids(make: Maker) -> list[Part]:
    entry = Group("", "", (make.amount("lost", "kg", "How much of it is used up"), make.place()))
    return [Growing("fluids", "Fluids used up", entry, help=HELP["fluids"], one="fluid", named=True)]


def checks(make: Maker) -> Growing:
    """Checks of the pads."""
    entry = (
        make.text("instrument", "The pads, by their name under Instruments"),
        make.text("when", "The day, and the time where it is known, as 2026-05-03 08:40"),
        make.by_wheel("zero", "With nothing on it", unit="kg"),
        make.amount("test_weight", "kg", "That was put on each in turn"),
        make.by_wheel("shown", "Under that weight", unit="kg"),
    )
    return Growing("checks", "Checks of the pads", Group("", "", entry), help=HELP["checks"], one="check")


def _instruments(make: Maker) -> list[Part]:
    by_class = (
        make.text("class", "The accuracy class", words=CLASSES),
        make.text("interval", "The verification scale interval, as 0.1 kg"),
        make.truth("in_service", "Twice the error is allowed in use; yes without it"),
        make.text("standard", words=STANDARDS),
    )
    entry = Group(
        "",
        "",
        (
            make.text("resolution", "One step of its display, as 0.5 kg"),
            Either(
                "permissible_error",
                "How far it may be out",
                (
                    ("an amount or a share", make.text("permissible_error", "As 0.5 kg or 0.1 %")),
                    ("by its class", Group("permissible_error", "On its plate", by_class)),
                ),
            ),
            make.text("uncertainty", "The standard uncertainty that its certificate states"),
            make.text("common_error", "What all pads of a set may be out by together, as 0.1 %"),
            Either(
                "offset",
                "What is to be added to what it shows",
                (
                    ("the same everywhere", make.text("offset", "As -0.4 kg")),
                    ("pad by pad", make.by_wheel("offset", "Added to what each pad shows")),
                ),
            ),
            make.text("calibrated", "Day of the last calibration"),
            make.text("calibrated_until", "Last day that the calibration is good for"),
        ),
    )
    label = "Scales, gauges and tapes"
    return [Growing("instruments", label, entry, help=HELP["instruments"], one="instrument", named=True)]


_PARTS: Mapping[str, Callable[[Maker], list[Part]]] = {
    "weighing": _weighing,
    "fuel": _fuel,
    "driver": lambda make: [make.place(help="The middle of the seated driver")],
    "tyres": _tyres,
    "wear": lambda make: make.wheels("From new to worn"),
    "centre_of_gravity": _centre_of_gravity,
    "planning": _planning,
    "fluids": _fluids,
    "instruments": _instruments,
}
