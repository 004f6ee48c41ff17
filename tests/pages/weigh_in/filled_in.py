"""Every form of a weigh-in filled in so that it is taken, by where it is sent to; a test holds that none is left out."""

from __future__ import annotations

from pathlib import Path

from checker.meeting.record.car_contents import SCRUTINEERING, Noted
from checker.meeting.session.session import Meeting
from checker.meeting.taking.measuring import note
from checker.reading.quick_dataclasses import dataclass
from tests.meeting.days import LOADS, a_meeting, car_text, weighed
from tests.pages.weigh_in.devices import CARS, Device, WeighIn

READINGS = "No;FL;FR;RL;RR;Fuel\n8;155,0;141,0;153,0;141,0;6\n"
MAPPING = """\
import: weighings
columns: {car: No, front_left: FL, front_right: FR, rear_left: RL, rear_right: RR, fuel: Fuel}
fixed: {driver: out, tyres: dry, wear: new}
"""
STATE = {"fuel": "6", "driver": "out", "tyres": "dry", "wear": "new"}


@dataclass(frozen=True, slots=True)
class Filled:
    """A form as an official sends it."""

    page: str
    fields: dict[str, str]
    files: tuple[tuple[str, str, bytes], ...] = ()


def forms(weigh_in: WeighIn, folder: Path) -> dict[str, Filled]:
    """All of them, by address. What some of them need is put into the record first."""
    other = folder / "other.meeting"
    other.write_bytes(Path(weigh_in.day).read_bytes())
    with Meeting.open(other) as there:
        weighed(there, "8")
    with Meeting.open(weigh_in.day) as here:
        note(here, [Noted("7", SCRUTINEERING, "remark", "clean")], "KV")
        struck = here.day.number
    before = folder / "before"
    before.mkdir()
    with a_meeting(before, CARS, on="2026-04-12"):
        pass
    zero = {"gear": "pads", "applied": "0"}
    ruling = {"clause": "1", "decision": "exclude", "reason": "too light"}
    return {
        "/scales": Filled("/scales?car=7", {**STATE, **LOADS}),
        "/scales/otherwise": Filled("/scales/otherwise?car=7", {**STATE, **LOADS}),
        "/scales/table": Filled(
            "/scales/table",
            {},
            (("table", "pads.csv", READINGS.encode()), ("mapping", "pads.yaml", MAPPING.encode())),
        ),
        "/checks": Filled("/checks?car=7", {"as_it_should": "yes"}),
        "/pads": Filled("/pads", {**zero, **dict.fromkeys(LOADS, "0")}),
        "/pads/one": Filled("/pads", {**zero, "pad": "rear_left", "shown": "0"}),
        "/cars/ruling": Filled("/cars?car=7", ruling),
        "/cars/protest": Filled("/cars?car=7", {"clause": "1", "text": "light", "from": "8"}),
        "/cars/note": Filled("/cars?car=7", {"topic": "remark", "text": "clean"}),
        "/cars/measurement": Filled("/cars?car=7", {"fact": "seals.sump", "value": "SO 7"}),
        "/cars/strike": Filled("/cars?car=7", {"struck": str(struck), "reason": "another car"}),
        "/cars/withdrawal": Filled("/cars?car=7", {"reason": "gearbox"}),
        "/day/announcement": Filled("/day", {"fact": "event.wet", "value": "yes"}),
        "/day/draw": Filled("/day", {"sample": "1", "purpose": "fuel", "seed": "tide"}),
        "/day/officials": Filled("/day", {"initials": "AL"}),
        "/day/close": Filled("/day", {"provisional": "yes"}),
        "/day/cars": Filled("/day", {}, (("declarations", "9.yaml", car_text("9").encode()),)),
        "/day/list": Filled("/day", {}, (("list", "list.csv", b"car,name\n10,Teal\n"),)),
        "/day/carry": Filled(
            "/day", {}, (("before", "last.meeting", (before / "day.meeting").read_bytes()),)
        ),
        "/record/merge": Filled("/record/merge", {}, (("record", "other.meeting", other.read_bytes()),)),
    }


def filled(device: Device, action: str, form: Filled) -> dict[str, str]:
    """The form as that device was shown it, with what is typed."""
    return {**device.hidden(form.page, action), **form.fields}
