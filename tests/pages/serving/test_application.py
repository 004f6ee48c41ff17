"""What every served page is guarded by: each way to forge a request is tried."""

from __future__ import annotations

import re
from threading import Event

import pytest
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.testclient import TestClient

from checker.pages.serving.application import ServedPage, Site, application, page, refused
from checker.pages.serving.assets import Assets
from checker.pages.serving.listening import LOOPBACK, hosts_of, listen, port_of
from checker.reading.problems import InputError, Problem

HOST = "127.0.0.1:8123"
SECRET = b"s" * 32


class Desk:
    """A page that takes forms, and notes what it was handed."""

    def __init__(self) -> None:
        self.taken: list[dict[str, object]] = []
        self.mistakes: list[Exception] = []

    def show(self, request: Request) -> Response:
        return refused(request, 200, "Desk <b>", ["told"])

    def token(self, request: Request) -> Response:
        found = re.search(rb'name="token" value="(\w+)"', page(request, "probe").body)
        assert found is not None
        return PlainTextResponse(found[1])

    async def take(self, _: Request, form: FormData) -> Response:
        self.taken.append({name: value for name, value in form.items() if name != "token"})
        return PlainTextResponse("taken")

    def bad(self, _: Request) -> Response:
        raise InputError([Problem("MT203", "car <9> is not entered", None, hint="enter it")])

    def broken(self, _: Request) -> Response:
        raise RuntimeError("of our own")

    def browser(self, secret: bytes = SECRET, host: str = HOST) -> TestClient:
        pages = [
            ServedPage("/", self.show, self.take),
            ServedPage("/token", self.token),
            ServedPage("/bad", self.bad),
            ServedPage("/broken", self.broken),
            ServedPage("/looked-at", self.show),
        ]
        site = Site(
            pages,
            hosts_of((LOOPBACK, "localhost"), 8123),
            rooms=(__package__ or "",),
            assets={"own.js": b"1", "own.css": b"2"},
            secret=secret,
            largest_bytes=2048,
            complain=self.mistakes.append,
        )
        return TestClient(application(site), base_url=f"http://{host}", follow_redirects=False)


@pytest.fixture
def desk() -> Desk:
    return Desk()


def test_a_form_that_was_shown_to_this_browser_is_taken(desk: Desk) -> None:
    browser = desk.browser()
    token = browser.get("/token").text
    assert browser.post("/", data={"token": token, "load": "147.5"}).text == "taken"
    assert desk.taken == [{"load": "147.5"}]


def test_a_form_shown_before_a_restart_is_taken_after_it(desk: Desk) -> None:
    before, after = desk.browser(), desk.browser()
    token = before.get("/token").text
    after.cookies.update(before.cookies)
    assert after.post("/", data={"token": token}).status_code == 200


@pytest.mark.parametrize(
    "case", ["none", "another's", "made up", "another server's", "no cookie", "twice", "a file"]
)
def test_a_forged_token_is_refused(desk: Desk, case: str) -> None:
    browser, stranger = desk.browser(), desk.browser()
    own, other = browser.get("/token").text, stranger.get("/token").text
    data: dict[str, str | list[str]] = {"token": own}
    files = None
    if case == "none":
        data = {}
    elif case == "another's":
        data = {"token": other}
    elif case == "made up":
        data = {"token": "0" * 64}
    elif case == "another server's":
        browser = desk.browser(b"t" * 32)
        browser.get("/token")
    elif case == "no cookie":
        browser = desk.browser()
    elif case == "twice":
        data = {"token": [own, other]}
    else:
        data, files = {"more": "1"}, {"token": ("token", own)}
    told = browser.post("/", data=data, files=files)
    assert told.status_code == 403
    assert "Nothing was entered" in told.text
    assert desk.taken == []


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://elsewhere.example"},
        {"origin": "null"},
        {"origin": f"https://{HOST}"},
        {"origin": "http://127.0.0.1:8124"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"sec-fetch-site": "none"},
        {"content-length": "99999"},
        {"content-length": "many"},
    ],
    ids=lambda headers: " ".join(*headers.items()),
)
def test_what_a_page_from_elsewhere_sends_is_refused_though_its_token_is_right(
    desk: Desk, headers: dict[str, str]
) -> None:
    browser = desk.browser()
    token = browser.get("/token").text
    assert browser.post("/", data={"token": token}, headers=headers).status_code in (400, 403, 413)
    assert desk.taken == []


@pytest.mark.parametrize(
    "host", ["elsewhere.example", "127.0.0.1", "127.0.0.1:80", "localhost:8124", "127.0.0.1:x", ""]
)
def test_another_name_for_this_machine_is_refused(desk: Desk, host: str) -> None:
    told = desk.browser().get("/", headers={"host": host})
    assert told.status_code == 421
    assert "Desk" not in told.text


def test_more_than_is_taken_is_refused_with_and_without_its_length(desk: Desk) -> None:
    browser = desk.browser()
    token = browser.get("/token").text
    assert browser.post("/", data={"token": token, "more": "x" * 3000}).status_code == 413
    pieces = (part.encode() for part in (f"token={token}&more=", "x" * 1500, "x" * 1500))
    form = {"content-type": "application/x-www-form-urlencoded"}
    assert browser.post("/", content=pieces, headers=form).status_code == 413
    assert desk.taken == []


def test_every_answer_allows_our_own_files_and_nothing_else(desk: Desk) -> None:
    browser = desk.browser()
    for path, status in {"/": 200, "/none": 404, "/bad": 422, "/broken": 500}.items():
        told = browser.get(path)
        assert told.status_code == status
        policy = told.headers["content-security-policy"]
        assert policy.startswith("default-src 'none'; style-src 'self'; script-src 'self'")
        assert "unsafe" not in policy
        assert told.headers["x-content-type-options"] == "nosniff"
        assert told.headers["referrer-policy"] == "same-origin", "else forms come with no origin"
        assert "<style" not in told.text
        for address in re.findall(r'(?:href|src)="([^"]+)"', told.text):
            assert browser.get(address).status_code == 200
    assert browser.post("/looked-at").status_code == 405


def test_refusals_are_plain_pages_with_the_cure(desk: Desk) -> None:
    browser = desk.browser()
    assert "car &lt;9&gt; is not entered. enter it" in browser.get("/bad").text
    told = browser.get("/broken").text
    assert "of our own" not in told
    assert "Traceback" not in told
    assert [str(one) for one in desk.mistakes] == ["of our own"]


def test_the_cookie_is_read_by_no_script_and_sent_by_no_other_site(desk: Desk) -> None:
    cookie = desk.browser().get("/").headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie


@pytest.mark.parametrize(
    "path", ["/assets/../application.py", "/assets/own.js", "/assets//etc/passwd", "/%2e%2e/%2e%2e/x"]
)
def test_no_path_of_a_request_is_opened(desk: Desk, path: str) -> None:
    assert desk.browser().get(path).status_code == 404


def test_an_address_of_an_asset_changes_with_what_is_in_it() -> None:
    one, other = (Assets({"a.js": data}).addresses["a.js"] for data in (b"1", b"2"))
    assert one != other


def test_a_port_that_is_taken_is_one_line_with_the_cure() -> None:
    with listen(LOOPBACK, 0) as first, pytest.raises(InputError) as error:
        listen(LOOPBACK, port_of(first))
    problem = error.value.problems[0]
    assert (problem.code, "--port 0" in problem.hint) == ("PG102", True)
    with pytest.raises(InputError):
        listen("192.0.2.1", 0)  # an address for documentation (RFC 5737), which no machine has


def test_hosts_name_the_port_unless_it_is_the_usual_one() -> None:
    assert hosts_of(("a",), 8080) == {"a:8080"}
    assert hosts_of(("a",), 443, "https") == {"a:443", "a"}


def test_pages_that_go_on_by_themselves_can_see_the_end(desk: Desk) -> None:
    app = desk.browser().app
    assert isinstance(app.state.ending, Event)  # type: ignore[attr-defined]
