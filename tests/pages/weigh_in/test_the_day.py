"""The day as a whole by pages: cars that are entered, draws, the closing; nothing twice and no file opened by its name."""

from __future__ import annotations

from pathlib import Path

import pytest
from httpx2 import Response

from checker.meeting.record.car_contents import Entered
from checker.meeting.record.contents import Drawn
from tests.meeting.days import car_text
from tests.pages.weigh_in.devices import Device, WeighIn


def hand_in(device: Device, *files: tuple[str, str], **more: str) -> Response:
    sent = [("declarations", name, text.encode()) for name, text in files]
    return device.hand_in("/day", "/day/cars", sent, **more)


def test_declarations_are_handed_in_and_what_is_wrong_with_one_is_told(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    answer = hand_in(
        device, ("9.yaml", car_text("9", "Teal")), ("bad.yaml", "formula: plover\ncar: {number: 10\n")
    )
    assert answer.status_code == 422
    assert "bad.yaml" in answer.text
    assert "Entered: 9." in answer.text
    content = weigh_in.entries("entered")[-1].content
    assert isinstance(content, Entered)
    assert (content.car, content.file, content.listed) == ("9", "9.yaml", False)
    assert "Teal" in weigh_in.device().get("/").text
    assert hand_in(device, ("10.yaml", car_text("10"))).status_code == 303


def test_the_same_declarations_sent_twice_are_entered_once(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    form = device.hidden("/day", "/day/cars")
    files = [("declarations", ("9.yaml", car_text("9").encode()))]
    before = len(weigh_in.entries())
    for _ in range(2):
        assert device.client.post("/day/cars", data=form, files=files).status_code == 303
    assert len(weigh_in.entries()) == before + 1


@pytest.mark.parametrize("empty", [True, False])
def test_no_file_is_opened_by_the_name_that_came_with_it(
    weigh_in: WeighIn, tmp_path: Path, empty: bool
) -> None:
    there = tmp_path / "11.yaml"
    there.write_text(car_text("11", "Secret"))
    device = weigh_in.device("KV")
    answer = hand_in(device, (str(there), "" if empty else "formula: plover\n"))
    assert answer.status_code in (400, 422)
    assert "Secret" not in answer.text
    assert str(tmp_path) not in answer.text
    assert all(
        one.content.car != "11" for one in weigh_in.entries("entered") if isinstance(one.content, Entered)
    )


def test_too_many_bytes_are_refused(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    before = len(weigh_in.entries())
    assert hand_in(device, ("9.yaml", car_text("9") + "#" * 3 * 1024**2)).status_code == 413
    assert len(weigh_in.entries()) == before


def test_a_draw_is_made_once_and_shown_with_its_seed(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    form = {
        **device.hidden("/day", "/day/draw"),
        "sample": "1",
        "purpose": "fuel samples",
        "seed": "tide table",
    }
    assert {device.post("/day/draw", form).headers["location"] for _ in range(2)} == {
        f"/day?entry={weigh_in.entries('drawn')[0].number}"
    }
    (drawn,) = weigh_in.entries("drawn")
    assert isinstance(drawn.content, Drawn)
    assert drawn.content.drawn[0] in ("7", "8")
    assert "seed tide table" in device.get("/day").text


def test_a_car_withdraws_and_the_day_is_closed_and_opened_again(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    gone = {**device.hidden("/cars?car=8", "/cars/withdrawal"), "reason": "gearbox"}
    assert device.post("/cars/withdrawal", gone).status_code == 303
    assert "withdrawn" in weigh_in.device().get("/").text
    protest = {**device.hidden("/cars?car=7", "/cars/protest"), "clause": "1", "text": "light"}
    device.post("/cars/protest", protest)
    assert "protests are unanswered" in device.post("/day/close", device.hidden("/day", "/day/close")).text
    form = {**device.hidden("/day", "/day/close"), "provisional": "yes"}
    assert device.post("/day/close", form).status_code == 303
    assert device.post("/day/close", form).status_code == 303, "sent twice"
    assert len(weigh_in.entries("closed")) == 1
    assert "closed" in weigh_in.device().get("/").text
    note = {"once": form["once"], "car": "7", "topic": "remark", "text": "late", "token": form["token"]}
    assert "the meeting was closed by KV" in device.post("/cars/note", note).text
    again = {**device.hidden("/day", "/day/close"), "reason": "a protest came in time"}
    assert device.post("/day/close", again).status_code == 303
    assert len(weigh_in.entries("reopened")) == 1
