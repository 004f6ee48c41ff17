"""The sample day of thirty cars, played by pages: where every car stands is what the officials' commands come to."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from checker.car.described.standard import WHEELS
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import standings
from checker.meeting.standing.verifying import verify
from checker.meeting.taking.opening import Opening, open_meeting
from checker.meeting.taking.ruling import DECISIONS_SAID
from checker.quantities.display import decimal_text
from checker.reading.strict_yaml import read_document
from tests.meeting.test_sample_meeting import SAMPLE, script
from tests.pages.weigh_in.devices import Device, WeighIn

Step = Mapping[str, Any]

_SAID = {kept: said for said, kept in DECISIONS_SAID.items()}


class Played:
    """Two officials at their tablets, who do what the script says."""

    def __init__(self, weigh_in: WeighIn) -> None:
        self.weigh_in = weigh_in
        self.devices = {initials: weigh_in.device(initials) for initials in ("KV", "TB")}
        self.protest = ""

    def play(self, step: Step) -> None:
        do: Callable[[Step, Device], None] = getattr(self, f"_{step['do']}")
        do(step, self.devices[step["by"]])

    def _send(self, device: Device, page: str, action: str, **fields: str) -> str:
        answer = device.post(action, {**device.hidden(page, action), **fields})
        assert answer.status_code == 303, (action, fields, answer.text)
        return answer.headers["location"].rpartition("entry=")[2]

    def _enter(self, step: Step, device: Device) -> None:
        files = [("declarations", (name, (SAMPLE / "cars" / name).read_bytes())) for name in step["cars"]]
        late = {"late": "yes"} if step.get("late") else {}
        form = {**device.hidden("/day", "/day/cars"), **late}
        assert device.client.post("/day/cars", data=form, files=files).status_code == 303

    def _hand_in(self, device: Device, page: str, action: str, **files: str) -> None:
        sent = [(field, name, (SAMPLE / name).read_bytes()) for field, name in files.items()]
        answer = device.hand_in(page, action, sent)
        assert answer.status_code == 200, answer.text
        assert "on disk" in answer.text

    def _carry(self, step: Step, device: Device) -> None:
        self._hand_in(device, "/day", "/day/carry", results=step["results"])

    def _import(self, step: Step, device: Device) -> None:
        self._hand_in(device, "/scales/table", "/scales/table", table=step["file"], mapping=step["mapping"])

    def _check(self, step: Step, device: Device) -> None:
        if set(step["pads"]) == set(WHEELS):
            shown: dict[str, str] = dict.fromkeys(WHEELS, str(step["shown"]))
            self._send(device, "/pads", "/pads", gear="pads", applied=step["applied"], **shown)
        else:
            for pad in step["pads"]:
                self._send(
                    device,
                    "/pads",
                    "/pads/one",
                    gear="pads",
                    applied=step["applied"],
                    pad=pad,
                    shown=step["shown"],
                )

    def _draw(self, step: Step, device: Device) -> None:
        fields = {"sample": str(step["sample"]), "purpose": step["purpose"], "seed": step["seed"]}
        self._send(device, "/day", "/day/draw", **fields)

    def _weigh(self, step: Step, device: Device) -> None:
        loads = {
            wheel: decimal_text(Fraction(load)) for wheel, load in zip(WHEELS, step["loads"], strict=True)
        }
        asked = f"/scales?car={step['car']}&occasion={step.get('occasion', '')}"
        fields = {key: step[key] for key in ("wear", "again", "reason") if key in step}
        if "fuel" in step:
            fields["fuel"] = step["fuel"].removesuffix(" L")
        if "corrects" in step:
            with Meeting.open(self.weigh_in.day, writing=False) as meeting:
                first = meeting.car(step["car"]).weighings("scrutineering")[0].number
            asked = f"/scales?corrects={first}"
        form = {**device.hidden(asked), **loads, **fields}
        answer = device.post("/scales", form)
        if answer.status_code == 200:  # it looks like a slip, and the official says that it is right
            answer = device.post("/scales", {**form, "right": "yes"})
        assert answer.status_code == 303, (step, answer.text)

    def _measure(self, step: Step, device: Device) -> None:
        page = f"/cars?car={step['car']}"
        for fact, value in step["facts"].items():
            self._send(device, page, "/cars/measurement", fact=fact, value=str(value))

    def _gauge(self, step: Step, device: Device) -> None:
        fields = {"fact": step["fact"], "value": step["size"], "gauge": step["result"]}
        self._send(device, f"/cars?car={step['car']}", "/cars/measurement", **fields)

    def _seen(self, step: Step, device: Device) -> None:
        for clause in step["clauses"]:
            fields = {"clause": clause, "fact": "", "as_it_should": "yes"}
            self._send(device, f"/checks?car={step['car']}", "/checks", **fields)

    def _note(self, step: Step, device: Device) -> None:
        fields = {key: step[key] for key in ("topic", "text", "part", "state", "occasion") if key in step}
        self._send(device, f"/cars?car={step['car']}", "/cars/note", **fields)

    def _judge(self, step: Step, device: Device) -> None:
        assert device.get(f"/cars?car={step['car']}").status_code == 200, "whatever is entered judges"

    def _withdraw(self, step: Step, device: Device) -> None:
        self._send(device, f"/cars?car={step['car']}", "/cars/withdrawal", reason=step["reason"])

    def _protest(self, step: Step, device: Device) -> None:
        fields = {"clause": step["clause"], "from": step["by_car"], "text": step["text"]}
        self.protest = self._send(device, f"/cars?car={step['car']}", "/cars/protest", **fields)

    def _rule(self, step: Step, device: Device) -> None:
        fields = {key: step[key] for key in ("clause", "reason")}
        answers = self.protest if step.get("protest") == "last" else ""
        said = _SAID[step["decision"]]
        self._send(
            device, f"/cars?car={step['car']}", "/cars/ruling", decision=said, protest=answers, **fields
        )

    def _close(self, _: Step, device: Device) -> None:
        self._send(device, "/day", "/day/close")


@pytest.mark.deep
def test_the_sample_day_by_pages_comes_to_what_it_comes_to_by_commands(tmp_path: Path) -> None:
    replay = script("replay")
    told: Step = replay.read_script(read_document(SAMPLE / "day.yaml", "MT"))
    day = str(tmp_path / "day.meeting")
    opening = Opening(str(replay.PACK), told["day"], tuple(told["officials"]), told["title"])
    with open_meeting(day, opening, replay.ScriptClock(told["day"])):
        pass
    weigh_in = WeighIn.of(day)
    played = Played(weigh_in)
    for number, step in enumerate(told["steps"]):
        played.play(step)
        if number == len(told["steps"]) // 2:
            weigh_in.restart()
            for device in played.devices.values():
                device.go_on()
    weigh_in.office.close()
    assert weigh_in.mistakes == []
    with (
        Meeting.open(day, writing=False) as by_pages,
        replay.replay(tmp_path / "other.meeting") as by_commands,
    ):
        assert stands(by_pages) == stands(by_commands)
    assert verify(day).faults == ()


def stands(meeting: Meeting) -> dict[str, tuple[object, ...]]:
    return {
        one.car: (one.status, one.failing, one.margins, one.unsettled, one.weighings, len(one.protests))
        for one in standings(meeting)
    }
