"""`checker meeting pages` as a program: it serves until Ctrl-C, over TLS too, and a kill loses nothing acknowledged."""

from __future__ import annotations

import http.client
import re
import signal
import ssl
import subprocess
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path
from urllib.parse import urlencode
from urllib.request import urlopen

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

import checker.pages.serving.lacking as lacking
from checker.meeting.record.car_contents import Weighed
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from checker.pages.serving.listening import LOOPBACK, listen, port_of
from tests.cli.running import environment, run
from tests.meeting.days import LOADS, a_meeting

Capsys = pytest.CaptureFixture[str]


@pytest.fixture
def day(tmp_path: Path) -> str:
    with a_meeting(tmp_path):
        pass
    return str(tmp_path / "day.meeting")


@contextmanager
def served(day: str, *more: str) -> Iterator[tuple[subprocess.Popen[str], str, int]]:
    """The pages of a day, what was printed, and their port."""
    command = [sys.executable, "-m", "checker", "meeting", "pages", day, "--port", "0", *more]
    process = subprocess.Popen(
        command, env=environment(), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    try:
        assert process.stdout is not None
        printed = ""
        while "Ctrl-C" not in printed:
            line = process.stdout.readline()
            assert line, process.communicate()
            printed += line
        port = re.search(r"://[^/]+:(\d+)/", printed)
        assert port is not None
        yield process, printed, int(port[1])
    finally:
        process.kill()
        process.communicate()


class Browser:
    """As little of one as it takes."""

    def __init__(self, port: int, context: ssl.SSLContext | None = None) -> None:
        self._port, self._context = port, context
        self._cookies: dict[str, str] = {}
        self.cookies_set: list[str] = []

    def ask(self, method: str, path: str, fields: dict[str, str] | None = None) -> tuple[int, str, str]:
        """Status, text, and where it leads."""
        connection = (
            http.client.HTTPSConnection(LOOPBACK, self._port, context=self._context, timeout=20)
            if self._context
            else http.client.HTTPConnection(LOOPBACK, self._port, timeout=20)
        )
        headers = {"Cookie": "; ".join(f"{name}={value}" for name, value in self._cookies.items())}
        if fields is not None:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        connection.request(method, path, urlencode(fields) if fields is not None else None, headers)
        answer = connection.getresponse()
        for cookie in answer.headers.get_all("set-cookie") or []:
            self.cookies_set.append(cookie)
            name, _, value = cookie.partition(";")[0].partition("=")
            self._cookies[name] = value
        text = answer.read().decode()
        connection.close()
        return answer.status, text, answer.headers.get("location") or ""

    def form(self, path: str, action: str) -> dict[str, str]:
        text = self.ask("GET", path)[1]
        form = next(
            one for one in re.findall(r"<form\b.*?</form>", text, re.DOTALL) if f'action="{action}"' in one
        )
        return dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', form))

    def sign_on(self, initials: str, printed: str) -> None:
        pin = re.search(rf"{initials}: PIN (\d+)", printed)
        assert pin is not None
        form = {**self.form("/sign-on", "/sign-on"), "initials": initials, "pin": pin[1]}
        assert self.ask("POST", "/sign-on", form)[0] == 303


@pytest.mark.deep
def test_a_kill_loses_nothing_that_was_acknowledged_and_devices_go_on(day: str) -> None:
    with served(day) as (process, printed, port):
        assert "Only this machine" in printed
        browser = Browser(port)
        browser.sign_on("TB", printed)
        lines = urlopen(f"http://{LOOPBACK}:{port}/live", timeout=20)
        before = _news(lines)
        form = {**browser.form("/scales?car=7", "/scales"), **LOADS, "fuel": "6"}
        status, _, first = browser.ask("POST", "/scales", form)
        assert status == 303
        assert _news(lines) > before, "pages that listen are told"
        process.send_signal(signal.SIGKILL)
        process.communicate()
    with Meeting.open(day, writing=False) as meeting:
        assert sum(isinstance(one.content, Weighed) for one in meeting.day.records()) == 1
    assert verify(day).faults == ()
    with served(day, "--to-the-paddock", "--address", LOOPBACK) as (process, again, port):
        assert "whoever is on this network can read PINs and entries" in " ".join(again.split())
        assert re.findall(r"PIN \d+", again) == re.findall(r"PIN \d+", printed)
        other = Browser(port)  # cookies are named after the port, which is another here
        other.sign_on("TB", again)
        form["token"] = other.form("/scales?car=7", "/scales")["token"]  # all else is sent as before
        assert other.ask("POST", "/scales", form)[2] == first
        process.send_signal(signal.SIGINT)
        told, complaints = process.communicate(timeout=20)
        assert (process.returncode, told, complaints) == (0, "", "")


def _news(lines: Iterable[bytes]) -> int:
    """The number of the entry that the next line tells."""
    return next(int(line.split()[1]) for line in lines if line.startswith(b"data:"))


def _certificate(folder: Path) -> tuple[str, str]:
    """A certificate for this machine by itself, and its key."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "weigh-in")])
    now = datetime.now(UTC)
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(1)
        .not_valid_before(now - timedelta(hours=1))
        .not_valid_after(now + timedelta(hours=1))
        .add_extension(x509.SubjectAlternativeName([x509.IPAddress(ip_address(LOOPBACK))]), critical=False)
        .sign(key, hashes.SHA256())
    )
    form = serialization.Encoding.PEM
    (folder / "c.pem").write_bytes(made.public_bytes(form))
    (folder / "k.pem").write_bytes(
        key.private_bytes(form, serialization.PrivateFormat.PKCS8, serialization.NoEncryption())
    )
    return str(folder / "c.pem"), str(folder / "k.pem")


@pytest.mark.deep
def test_the_paddock_gets_a_code_and_with_a_certificate_it_is_encrypted(day: str, tmp_path: Path) -> None:
    certificate, key = _certificate(tmp_path)
    more = ("--to-the-paddock", "--address", LOOPBACK, "--certificate", certificate, "--key", key)
    with served(day, *more) as (_, printed, port):
        assert f"https://{LOOPBACK}:{port}/" in printed
        assert "█" in printed
        assert "Not encrypted" not in printed
        browser = Browser(port, ssl.create_default_context(cafile=certificate))
        browser.sign_on("KV", printed)
        assert browser.cookies_set
        assert all("Secure" in cookie for cookie in browser.cookies_set)


def test_what_cannot_be_served_is_one_line_with_the_cure(
    day: str, tmp_path: Path, capsys: Capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    with listen(LOOPBACK, 0) as other:
        taken = run(capsys, "meeting", "pages", day, "--port", str(port_of(other)))
    assert (taken.code, taken.out) == (3, "")
    assert "is taken by another program" in taken.err
    assert "--port 0" in taken.err
    certificate, _ = _certificate(tmp_path)
    paddock = ("--to-the-paddock", "--address", LOOPBACK)
    wrong = run(capsys, "meeting", "pages", day, *paddock, "--certificate", certificate, "--key", certificate)
    assert wrong.code == 3
    assert "cannot be used to encrypt" in wrong.err
    for more in (("--certificate", certificate), ("--address", LOOPBACK), (*paddock, "--key", certificate)):
        assert run(capsys, "meeting", "pages", day, *more).code == 2
    absent = run(capsys, "meeting", "pages", f"{day}-absent", "--port", "0")
    assert (absent.code, "is not there" in absent.err) == (3, True)
    monkeypatch.setattr(lacking, "find_spec", lambda _: None)
    told = run(capsys, "meeting", "pages", day)
    assert told.code == 3
    assert "pip install 'scrutineering-checker[pages]'" in told.err
