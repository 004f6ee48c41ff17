"""What holds for every address there is, told by the site itself: none is forgotten when one is added."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from starlette.routing import Route

from checker.pages.weigh_in.uploads import LARGEST_RECORD_BYTES
from tests.examples import quick_first
from tests.pages.weigh_in.devices import HOST, Device, WeighIn
from tests.pages.weigh_in.filled_in import Filled, filled, forms

PUBLIC = {"/", "/slip/{code}", "/live", "/sign-on", "/favicon.ico"}
PUBLIC_TAKING = {"/sign-on", "/sign-off"}
ASKED = {"/scales/verdict": "?entry=1", "/record/export": "?table=entries", "/record/bundle": "?car=7"}
"""What pages are asked for that tell nothing without."""


def routes(weigh_in: WeighIn, method: str) -> set[str]:
    """Every address that answers so, but for styles and scripts."""
    return {
        route.path
        for route in weigh_in.app.routes
        if isinstance(route, Route)
        and method in (route.methods or ())
        and not route.path.startswith("/assets/")
    }


def post(device: Device, path: str, form: Filled, fields: dict[str, str], **headers: str) -> int:
    """What comes of sending it."""
    sent = [(field, (name, data)) for field, name, data in form.files]
    status: int = device.client.post(path, data=fields, files=sent or None, headers=headers).status_code
    return status


def test_readers_see_no_desk_and_nothing_that_they_send_is_read(weigh_in: WeighIn) -> None:
    reader = weigh_in.device()
    token = reader.hidden("/sign-on")
    before = len(weigh_in.entries())
    for path in routes(weigh_in, "GET") - PUBLIC:
        answer = reader.get(path + ASKED.get(path, ""))
        assert (answer.status_code, answer.headers["location"]) == (303, "/sign-on"), path
    for path in routes(weigh_in, "POST") - PUBLIC_TAKING:
        answer = reader.post(path, {**token, "once": "0" * 32, "car": "7"})
        assert (answer.status_code, "sign on" in answer.text) == (401, True), path
        broken = reader.client.post(
            path, content=b"x", headers={"content-type": "multipart/form-data; boundary=b"}
        )
        assert broken.status_code == 401, f"{path}: what a stranger sends is read"
    assert len(weigh_in.entries()) == before


def test_every_address_takes_a_form_that_some_page_shows(weigh_in: WeighIn, tmp_path: Path) -> None:
    every = forms(weigh_in, tmp_path)
    assert set(every) == routes(weigh_in, "POST") - PUBLIC_TAKING
    device = weigh_in.device("KV")
    shown = "".join(device.get(page).text for page in {form.page for form in every.values()})
    for form in re.findall(r'<form method="post".*?</form>', shown, re.DOTALL):
        (action,) = re.findall(r'action="([^"]+)"', form)
        assert action in routes(weigh_in, "POST")
        assert 'name="token"' in form
        if action not in PUBLIC_TAKING:
            assert 'name="once"' in form, action
            assert "data-keep" in form, f"{action}: not kept without the network"


@pytest.mark.parametrize(
    ("case", "status"),
    quick_first(
        [
            ("no token", 403),
            ("another browser's token", 403),
            ("a made up token", 403),
            ("from another site", 403),
            ("from another port of this machine", 403),
            ("said to be cross-site", 403),
            ("by another name of this machine", 421),
            ("without a one-time number", 400),
            ("a one-time number made up", 400),
            ("a one-time number of nobody", 409),
            ("shown to another official", 409),
            ("too much", 413),
        ],
        quick=1,
    ),
)
def test_what_is_forged_is_refused_by_every_form(
    weigh_in: WeighIn, tmp_path: Path, case: str, status: int
) -> None:
    every = forms(weigh_in, tmp_path)
    device, other = weigh_in.device("KV"), weigh_in.device("TB")
    theirs = other.hidden("/pads")
    changes: dict[str, dict[str, str]] = {
        "no token": {"token": ""},
        "another browser's token": {"token": theirs["token"]},
        "a made up token": {"token": "0" * 64},
        "without a one-time number": {"once": ""},
        "a one-time number made up": {"once": "../../etc/passwd"},
        "a one-time number of nobody": {"once": "0" * 32},
        "shown to another official": {"once": theirs["once"]},
    }
    headers: dict[str, dict[str, str]] = {
        "from another site": {"origin": "http://elsewhere.example"},
        "from another port of this machine": {"origin": "http://127.0.0.1:8322"},
        "said to be cross-site": {"sec-fetch-site": "cross-site"},
        "by another name of this machine": {"host": "elsewhere.example"},
        "too much": {"content-length": str(LARGEST_RECORD_BYTES + 1)},
    }
    before = len(weigh_in.entries())
    for action, form in every.items():
        fields = {**filled(device, action, form), **changes.get(case, {})}
        assert post(device, action, form, fields, **headers.get(case, {})) == status, action
    assert len(weigh_in.entries()) == before


@pytest.mark.deep
def test_what_is_sent_twice_is_entered_once_by_every_form(tmp_path: Path) -> None:
    """Each on a day of its own, also where the server was started anew in between."""
    weigh_in = WeighIn(tmp_path)
    every = forms(weigh_in, tmp_path)
    weigh_in.office.close()
    day = Path(weigh_in.day).read_bytes()
    for at, (action, form) in enumerate(every.items()):
        own = tmp_path / f"{at}.meeting"
        own.write_bytes(day)
        played = WeighIn.of(str(own))
        device = played.device("KV")
        fields = filled(device, action, form)
        fields.pop("provisional", None)  # on this day no protest is unanswered
        assert post(device, action, form, fields, origin=f"http://{HOST}") in (200, 303), action
        entered = len(played.entries())
        assert entered > len(weigh_in.entries()), action
        played.restart()
        device.go_on()
        assert post(device, action, form, fields) in (200, 303), action
        assert len(played.entries()) == entered, action
        played.office.close()
        assert played.mistakes == []
