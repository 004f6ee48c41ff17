"""Who may do what: officials by PIN for a while, readers what is public; each way around is tried."""

from __future__ import annotations

import re
import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from checker.meeting.record.signing import new_key
from checker.meeting.session.session import Meeting
from checker.meeting.taking.opening import sign_on
from checker.pages.weigh_in.kept_sign_ons import KeptSignOns
from checker.pages.weigh_in.officials import (
    IDLE_SECONDS,
    LONGEST_SECONDS,
    MOST_WRONG,
    MOST_WRONG_OF_ONE,
    Attempts,
    Officials,
)
from checker.pages.weigh_in.secret_file import secret_of
from checker.reading.problems import InputError
from tests.meeting.days import car_text
from tests.pages.weigh_in.devices import SECRET, Clock, WeighIn


def test_wrong_pins_are_limited_by_device(weigh_in: WeighIn) -> None:
    device = weigh_in.device()
    right = weigh_in.officials.pin("KV")
    wrong = f"{(int(right) + 1) % 10**6:06}"
    for _ in range(MOST_WRONG):
        assert device.sign_on("KV", wrong).status_code == 403
    told = device.sign_on("KV", right)
    assert told.status_code == 429
    assert "Try again in 15 minutes" in told.text
    weigh_in.clock.seconds += 15 * 60
    assert device.sign_on("KV", right).status_code == 303


def test_a_restart_forgets_no_wrong_pin(weigh_in: WeighIn) -> None:
    device = weigh_in.device()
    right = weigh_in.officials.pin("KV")
    for _ in range(MOST_WRONG):
        device.sign_on("KV", "0")
        weigh_in.restart()
        device.go_on()
    assert device.sign_on("KV", right).status_code == 429
    weigh_in.clock.seconds -= 24 * 3600
    assert device.sign_on("KV", right).status_code == 303, (
        "a clock that was set back locks nobody out for a day"
    )


def test_many_pins_at_once_are_counted_one_after_the_other(weigh_in: WeighIn) -> None:
    devices = [weigh_in.device() for _ in range(12)]
    tokens = [device.hidden("/sign-on") for device in devices]

    def guess(at: int) -> int:
        return devices[at].post("/sign-on", {**tokens[at], "initials": "KV", "pin": "0"}).status_code

    with ThreadPoolExecutor(12) as threads:
        answers = list(threads.map(guess, range(12)))
    assert sorted(answers) == [403] * MOST_WRONG + [429] * (12 - MOST_WRONG)


def test_wrong_pins_of_one_official_are_limited_by_whatever_devices() -> None:
    attempts = Attempts(Clock())
    for number in range(MOST_WRONG_OF_ONE):
        assert attempts.wait_minutes(f"192.0.2.{number}", "KV") == 0
        attempts.wrong(f"192.0.2.{number}", "KV")
    assert attempts.wait_minutes("192.0.2.99", "KV") == 15
    assert attempts.wait_minutes("192.0.2.99", "TB") == 0


def test_attempts_are_forgotten_so_that_nothing_grows() -> None:
    clock = Clock()
    attempts = Attempts(clock)
    for number in range(100):
        attempts.wrong(f"192.0.2.{number}", "")
        clock.seconds += 60
    assert len(attempts._kept.wrong) < 20


def test_the_pin_of_another_official_is_wrong(weigh_in: WeighIn) -> None:
    device = weigh_in.device()
    assert device.sign_on("KV", weigh_in.officials.pin("TB")).status_code == 403
    assert device.sign_on("XX", weigh_in.officials.pin("XX")).status_code == 403
    assert device.get("/scales").status_code == 303


@pytest.mark.parametrize(
    ("idle", "times"),
    [(IDLE_SECONDS + 1, 1), (IDLE_SECONDS - 60, LONGEST_SECONDS // (IDLE_SECONDS - 60) + 1)],
)
def test_sessions_end(weigh_in: WeighIn, idle: int, times: int) -> None:
    device = weigh_in.device("KV")
    for _ in range(times):
        assert device.get("/scales").status_code == 200
        weigh_in.clock.seconds += idle
    assert device.get("/scales").status_code == 303


def test_signing_off_ends_the_session_even_for_who_kept_its_cookie(weigh_in: WeighIn) -> None:
    device = weigh_in.device("KV")
    kept = dict(device.client.cookies)
    token = device.hidden("/scales", "/sign-off")
    assert device.post("/sign-off", token).status_code == 303
    assert device.get("/scales").status_code == 303
    for name, value in kept.items():
        device.client.cookies.set(name, value)
    assert device.get("/scales").status_code == 303
    weigh_in.restart()
    device.go_on()
    assert device.get("/scales").status_code == 303, "nor does a restart bring it back"


def test_a_session_counts_in_its_own_browser_and_as_it_was_made(weigh_in: WeighIn) -> None:
    device, other = weigh_in.device("KV"), weigh_in.device()
    other.get("/sign-on")
    (name,) = (one for one in device.client.cookies if "official" in one)
    text = device.client.cookies[name]
    other.client.cookies.set(name, text)
    assert other.get("/scales").status_code == 303
    initials, rest = text.split(".", 1)
    for forged in (f"{b'TB'.hex()}.{rest}", text[:-1], f"{text}.1", "....", f"{initials}.{rest[:40]}", "x"):
        device.client.cookies.clear()
        device.client.cookies.set(name, forged)
        assert device.get("/scales").status_code == 303, forged


def test_cookies_are_for_this_site_alone(weigh_in: WeighIn) -> None:
    device = weigh_in.device()
    answer = device.sign_on("KV", weigh_in.officials.pin("KV"))
    for cookie in answer.headers.get_list("set-cookie"):
        assert "HttpOnly" in cookie
        assert "SameSite=strict" in cookie


def test_a_slip_is_read_by_its_code_alone(weigh_in: WeighIn) -> None:
    official, reader = weigh_in.device("KV"), weigh_in.device()
    addresses = re.findall(r'href="http://[^/]+(/slip/\w+)"', official.get("/cards").text)
    assert len(addresses) == 2
    told = reader.get(addresses[0])
    assert told.status_code == 200
    assert "Car 7 Ruff" in told.text or "CAR 7 Ruff" in told.text
    assert "Knot" not in told.text
    for code in ("7", "8", "", "0" * 16, addresses[0][-16:-1], "../../etc/passwd", "%2e%2e"):
        assert reader.get(f"/slip/{code}").status_code == 404, code


def test_what_is_public_holds_no_form_and_no_code(weigh_in: WeighIn) -> None:
    board = weigh_in.device().get("/").text
    assert "<form" not in board
    assert "/slip/" not in board
    for official in ("KV", "TB"):
        assert weigh_in.officials.pin(official) not in board


def test_names_that_hurt_stay_words(tmp_path: Path) -> None:
    weigh_in = WeighIn(tmp_path, {"7": car_text(name="'<script>alert(1)</script>'")})
    official = weigh_in.device("KV")
    for path in ("/", "/scales", "/scales?car=7", "/cars?car=7", "/checks?car=7", "/cards"):
        text = official.get(path).text
        assert "<script>alert" not in text, path
        assert "alert(1)" in text or path == "/day", path
    weigh_in.office.close()


# -- officials who sign entries with a key -------------------------------------------------------------------


def test_an_official_who_signs_unlocks_the_key_by_signing_on(weigh_in: WeighIn, tmp_path: Path) -> None:
    file = str(tmp_path / "tb.key")
    key = new_key(file, "three plain words")
    with Meeting.open(weigh_in.day) as meeting:
        sign_on(meeting, "TB", "KV", key.public)
    device = weigh_in.device()
    assert device.sign_on("TB", weigh_in.officials.pin("TB")).status_code == 403, "the key is what counts now"
    assert device.sign_on("TB", "three plain words").status_code == 403, "its file was not named"
    weigh_in.officials._key_files = (file,)
    assert device.sign_on("TB", "three plain words").status_code == 303
    form = device.weighing()
    assert device.post("/scales", form).status_code == 303
    assert device.post("/scales", device.weighing("8", fuel="7")).status_code == 303
    with Meeting.open(weigh_in.day, writing=False) as meeting:
        assert not meeting.faults
    weigh_in.restart()
    device.go_on()
    told = device.get("/scales")
    assert told.status_code == 303, "the key is locked again"
    assert "a key is locked again whenever" in device.get(told.headers["location"]).text


# -- the secret beside the record ----------------------------------------------------------------------------


def test_the_secret_is_the_users_own_and_stays_until_new_pins_are_asked_for(tmp_path: Path) -> None:
    day = str(tmp_path / "day.meeting")
    first = secret_of(day)
    file = Path(f"{day}-pages")
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert secret_of(day) == first
    assert secret_of(day, anew=True) != first
    file.chmod(0o644)
    assert "others can read" in _refused(day)
    file.chmod(0o600)
    file.write_bytes(b"short")
    assert "not what keeps" in _refused(day)
    file.unlink()
    file.symlink_to(tmp_path / "elsewhere")
    assert "cannot be used" in _refused(day)


def _refused(day: str) -> str:
    with pytest.raises(InputError) as error:
        secret_of(day)
    (problem,) = error.value.problems
    assert problem.code == "PG103"
    return problem.message


def test_what_counts_wrong_pins_is_the_users_own_and_whole(tmp_path: Path) -> None:
    day = str(tmp_path / "day.meeting")
    attempts = Attempts(Clock(), KeptSignOns.beside(day))
    attempts.wrong("192.0.2.1", "KV")
    file = Path(f"{day}-sign-ons")
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert list(KeptSignOns.beside(day).wrong) == ["at 192.0.2.1", "of KV"]
    file.chmod(0o644)
    assert "others can read" in _not_kept(day)
    file.chmod(0o600)
    for text in ("{", "[]", '{"wrong": {"at x": 1}, "ended": {}}', '{"wrong": 0}', "\0", '{"ended": {}}'):
        file.write_text(text)
        assert "does not hold" in _not_kept(day)
    file.unlink()
    file.symlink_to(tmp_path / "elsewhere")
    assert "cannot be used" in _not_kept(day)


def _not_kept(day: str) -> str:
    with pytest.raises(InputError) as error:
        KeptSignOns.beside(day)
    (problem,) = error.value.problems
    assert problem.code == "PG106"
    return problem.message


def test_pins_are_of_six_digits_and_of_one_official_and_one_secret() -> None:
    officials, others = Officials(SECRET), Officials(b"x" * 32)
    assert re.fullmatch(r"\d{6}", officials.pin("KV"))
    assert len({officials.pin("KV"), officials.pin("TB"), others.pin("KV")}) == 3
