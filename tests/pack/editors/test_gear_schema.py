"""The schema accepts what the loader reads of gear, pads, floor and tank, and refuses what it refuses by form."""

from __future__ import annotations

from typing import Any

from tests.car.cars import ABSENT, COMPLETE, varied
from tests.car.gear.test_pads import MARKED, check, reading
from tests.car.weights.test_centre_of_gravity import RAISED
from tests.examples import each_row
from tests.pack.editors.test_pack_schema import DECLARATION, accepts

SAID: dict[str, Any] = {
    "instruments": {
        "pads": {
            "permissible_error": {"class": "III", "interval": "0.1 kg", "in_service": True},
            "common_error": "0.1 %",
            "offset": {"front_left": "-0.4 kg"},
            "calibrated_until": "2027-02-28",
        },
        "bridge": {"resolution": "0.5 kg", "permissible_error": "0.2 %", "offset": "0.4 kg"},
    },
    "checks": [
        check("2026-05-03 08:40"),
        {"instrument": "pads", "when": "2026-05-03", "zero": {"A": "0 kg"}},
    ],
    "weighing": {
        "instrument": "pads",
        "when": "2026-05-03 10:15",
        "floor": {"across": "2 mm", "along": "0.1 deg"},
        "without": ["S1"],
        "readings": [reading("150", "148", "172", "170", pads=MARKED)],
    },
    "fuel.at": [{"level": "22 L", "behind_front_axle": "2100 mm", "right_of_centre": "20 mm"}],
    "fuel.temperature": "28 degC",
    "dimensions.front_camber": "-2.5 deg",
    "tyres.dry.front.radius": "285 mm",
    "fluids": {"water": {"lost": "0.8 kg", "at": {"behind_front_axle": "0 mm"}}},
    "centre_of_gravity": {"raised": [RAISED]},
}


def test_what_may_be_said_is_accepted() -> None:
    assert accepts(DECLARATION, varied(SAID))
    assert accepts(DECLARATION, varied({"centre_of_gravity": {"height": "420 mm"}, "fuel.at": ABSENT}))
    assert accepts(DECLARATION, COMPLETE)


@each_row(
    "changes",
    [
        {"instruments": {"pads": {"accuracy": "III"}}},
        {"instruments": {"pads": {"permissible_error": {"class": "V", "interval": "1 kg"}}}},
        {"instruments": {"pads": {"permissible_error": {"class": "III"}}}},
        {"instruments": {"pads": {"calibrated": "soon"}}},
        {"checks": [{"zero": {"A": "0 kg"}}]},
        {"checks": [check("Sunday")]},
        {"weighing.floor": {"up": "1 mm"}},
        {"weighing.floor": {"across": "1 kg"}},
        {"weighing.readings": [reading("1", "2", "3", "4", pads={"front_left": "A"})]},
        {"weighing.readings": [reading("1", "2", "3", "4", pads="upside down")]},
        {"fuel.at": []},
        {"fuel.at": [{"behind_front_axle": "2100 mm"}]},
        {"fluids": {"water": {}}},
        {"centre_of_gravity": {"height": "420 kg"}},
        {"centre_of_gravity": {"raised": [{"axle": "rear"}]}},
        {"tyres.dry.front.diameter": "570 mm"},
    ],
)
def test_what_cannot_be_is_refused(changes: dict[str, Any]) -> None:
    assert not accepts(DECLARATION, varied(changes))
