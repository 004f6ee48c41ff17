"""A weigh-in of the small formula, and devices at which it is used."""

from __future__ import annotations

import html
import re
import traceback
from collections.abc import Mapping, Sequence
from pathlib import Path

from httpx2 import Response
from starlette.testclient import TestClient

from checker.meeting.record.car_day import Record
from checker.meeting.record.contents import Content
from checker.meeting.session.session import Meeting
from checker.pages.serving.application import application
from checker.pages.weigh_in.kept_sign_ons import KeptSignOns
from checker.pages.weigh_in.office import Office
from checker.pages.weigh_in.officials import Officials
from checker.pages.weigh_in.room import WeighInRoom
from checker.pages.weigh_in.site import weigh_in_site
from tests.meeting.days import LOADS, a_meeting, car_text

HOST = "127.0.0.1:8321"
SECRET = b"w" * 32
CARS = {"7": car_text(), "8": car_text("8", "Knot")}


class Clock:
    """Goes on only when it is told to."""

    def __init__(self) -> None:
        self.seconds = 1_000_000.0

    def __call__(self) -> float:
        return self.seconds


class WeighIn:
    """The pages of one day; `restart` is what a crash comes to."""

    office: Office

    def __init__(self, tmp_path: Path, cars: Mapping[str, str] = CARS) -> None:
        with a_meeting(tmp_path, cars):
            pass
        self._begin(str(tmp_path / "day.meeting"))

    @classmethod
    def of(cls, day: str) -> WeighIn:
        """The pages of a record that is there."""
        made = cls.__new__(cls)
        made._begin(day)
        return made

    def _begin(self, day: str) -> None:
        self.day = day
        self.clock = Clock()
        self.mistakes: list[Exception] = []
        self.restart()

    def restart(self) -> None:
        if hasattr(self, "office"):
            self.office.close()
        self.office = Office(self.day)
        self.officials = Officials(SECRET, clock=self.clock, kept=KeptSignOns.beside(self.day))
        self.room = WeighInRoom(self.office, self.officials, SECRET, f"http://{HOST}")
        self.app = application(weigh_in_site(self.room, {HOST}, "http", self.note))

    def note(self, mistake: Exception) -> None:
        """A mistake of the pages' own; the fixture fails on it."""
        traceback.print_exception(mistake)
        self.mistakes.append(mistake)

    def device(self, initials: str = "") -> Device:
        """A browser, with an official signed on where one is named."""
        device = Device(self)
        if initials:
            assert device.sign_on(initials, self.officials.pin(initials)).status_code == 303
        return device

    def entries(self, kind: str = "") -> list[Record[Content]]:
        """What is in the file now, as another program reads it."""
        with Meeting.open(self.day, writing=False) as meeting:
            assert not meeting.faults
            return [one for one in meeting.day.records() if kind in ("", one.content.KIND)]


class Device:
    """One browser without script."""

    def __init__(self, weigh_in: WeighIn) -> None:
        self.weigh_in = weigh_in
        self.client = TestClient(weigh_in.app, base_url=f"http://{HOST}", follow_redirects=False)

    def go_on(self) -> None:
        """The same browser with the server that runs now."""
        cookies = self.client.cookies
        self.client = TestClient(self.weigh_in.app, base_url=f"http://{HOST}", follow_redirects=False)
        self.client.cookies.update(cookies)

    def get(self, path: str) -> Response:
        answer: Response = self.client.get(path)
        return answer

    def hidden(self, path: str, action: str = "") -> dict[str, str]:
        """The fields that a page's form holds already."""
        text = self.get(path).text
        for form in re.findall(r"<form\b.*?</form>", text, re.DOTALL):
            if f'action="{action or path.partition("?")[0]}"' in form and 'method="post"' in form:
                pairs = re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', form)
                return {name: html.unescape(value) for name, value in pairs}
        raise AssertionError(f"no such form on {path}: {text}")

    def post(self, path: str, fields: Mapping[str, str], **headers: str) -> Response:
        answer: Response = self.client.post(path, data=dict(fields), headers=headers)
        return answer

    def hand_in(
        self, page: str, action: str, files: Sequence[tuple[str, str, bytes]], **fields: str
    ) -> Response:
        """Send files by a form of a page: the field, the file's name and what is in it."""
        form = {**self.hidden(page, action), **fields}
        return self.post_files(action, form, files)

    def post_files(
        self, path: str, form: Mapping[str, str], files: Sequence[tuple[str, str, bytes]]
    ) -> Response:
        sent = [(field, (name, data)) for field, name, data in files]
        answer: Response = self.client.post(path, data=dict(form), files=sent)
        return answer

    def sign_on(self, initials: str, pin: str) -> Response:
        return self.post("/sign-on", {**self.hidden("/sign-on"), "initials": initials, "pin": pin})

    def weighing(self, car: str = "7", loads: Mapping[str, str] = LOADS, **more: str) -> dict[str, str]:
        """A form for a weighing, filled in."""
        state = {"fuel": "6", "driver": "out", "tyres": "dry", "wear": "new"}
        return {**self.hidden(f"/scales?car={car}"), **state, **loads, **more}

    def weigh(self, car: str = "7", loads: Mapping[str, str] = LOADS, **more: str) -> Response:
        return self.post("/scales", self.weighing(car, loads, **more))
