"""A browser without script: it sends what stands in the fields of the page that it was shown."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urlencode

from httpx2 import Response
from starlette.testclient import TestClient

from checker.pages.form.opening import OpenAsked, opened
from checker.pages.form.site import CarPages
from tests.conftest import ROOT

HOST = "127.0.0.1:8123"
PACK = str(ROOT / "rulepacks" / "dunlin")


class _Fields(HTMLParser):
    """The fields of a form as they would be sent."""

    def __init__(self) -> None:
        super().__init__()
        self.sent: list[tuple[str, str]] = []
        self._select = ""
        self._chosen: str | None = None
        self._is_chosen = self._in_option = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "input" and "name" in given and (given.get("type") != "checkbox" or "checked" in given):
            self.sent.append((str(given["name"]), given.get("value") or ""))
        if tag == "select":
            self._select, self._chosen = str(given["name"]), None
        if tag == "option" and self._select:
            self._is_chosen = "selected" in given or self._chosen is None
            self._in_option = self._is_chosen and "value" not in given
            if self._is_chosen:
                self._chosen = given.get("value") or ""

    def handle_data(self, data: str) -> None:
        if self._in_option:
            self._chosen = data.strip()

    def handle_endtag(self, tag: str) -> None:
        if tag == "option":
            self._in_option = False
        if tag == "select":
            self.sent.append((self._select, self._chosen or ""))
            self._select = ""


class Browser:
    """The pages of one car in it."""

    def __init__(self, path: Path, asked: OpenAsked | None = None) -> None:
        file, rules = opened(str(path), asked or OpenAsked(PACK))
        self.mistakes: list[Exception] = []
        site = CarPages(file, rules).site(frozenset({HOST}), self.mistakes.append)
        self.client = TestClient(site, base_url=f"http://{HOST}", follow_redirects=False)
        self.page = ""
        self.load()

    def load(self, address: str = "/") -> None:
        answer = self.client.get(address)
        assert answer.status_code == 200
        self.page = answer.text

    @property
    def fields(self) -> list[tuple[str, str]]:
        found = _Fields()
        found.feed(self.page)
        return found.sent

    def send(
        self, typed: dict[str, str] | None = None, button: str = "judge", address: str = "/"
    ) -> Response:
        """Press a button after these fields were typed over; what comes back is the page, where it is one."""
        typed = typed or {}
        kept = [(name, value) for name, value in self.fields if name not in typed]
        return self.post([*kept, *typed.items(), ("do", button)], address)

    def hand_in(self, address: str, files: dict[str, tuple[str, bytes]], **typed: str) -> Response:
        """Send the page with files that were chosen in it; `__` stands for a dash."""
        fields: dict[str, list[str]] = {}
        for name, value in self.fields:
            if name not in files:
                fields.setdefault(name, []).append(value)
        fields |= {name.replace("__", "-"): [value] for name, value in typed.items()}
        answer: Response = self.client.post(address, data=fields, files=files)
        if answer.status_code == 303:
            self.load(answer.headers["location"])
        return answer

    def post(self, fields: list[tuple[str, str]], address: str = "/") -> Response:
        headers = {"content-type": "application/x-www-form-urlencoded"}
        answer: Response = self.client.post(address, content=urlencode(fields), headers=headers)
        if answer.status_code == 303:
            self.load(answer.headers["location"])
        elif answer.status_code == 200 and address == "/":
            self.page = answer.text
        return answer
