"""Signatures: an official's entries are signed by a key outside the record, and a verification tells which are."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest

from checker.meeting.record.contents import SignedOn
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from checker.meeting.taking.opening import sign_on
from checker.reading.problems import InputError
from tests.cli.meetings import Day as Commands
from tests.meeting.days import a_meeting, refused, weighed
from tests.meeting.session.test_rules import WEIGHED
from tests.meeting.tampering import forged, tampered

pytest.importorskip("cryptography")

from checker.meeting.record.signing import Signer, new_key, unlocked

PIN = "four wet tyres"


@pytest.fixture
def signer(tmp_path: Path) -> Signer:
    return new_key(str(tmp_path / "tb.key"), PIN)


@pytest.fixture
def day(tmp_path: Path, signer: Signer) -> Path:
    """TB signs from entry 3 on; a weighing by TB, signed, and a new official by KV, not signed."""
    with a_meeting(tmp_path) as meeting:
        sign_on(meeting, "TB", "KV", signer.public)
        meeting.signer = signer
        weighed(meeting)
        sign_on(meeting, "AL", "KV")
    return tmp_path / "day.meeting"


def test_a_key_is_unlocked_by_its_pin_alone_and_is_its_owner_s(tmp_path: Path, signer: Signer) -> None:
    file = tmp_path / "tb.key"
    assert unlocked(str(file), PIN).public == signer.public
    if os.name == "posix":
        assert file.stat().st_mode & 0o077 == 0
    for path, pin in ((file, "four dry tyres"), (tmp_path / "no.key", PIN), (tmp_path, PIN)):
        with pytest.raises(InputError) as error:
            unlocked(str(path), pin)
        assert refused(error) == "MT220"
    for path, pin in ((file, PIN), (tmp_path / "short.key", "1234")):
        with pytest.raises(InputError) as error:
            new_key(str(path), pin)
        assert refused(error) == "MT220"


def test_a_verification_tells_which_entries_are_signed(day: Path) -> None:
    found = verify(day)
    assert found.sound
    assert (found.signed, found.unsigned_by, found.signatures_unchecked) == (1, ("KV",), False)


def test_an_official_who_signs_records_nothing_without_the_key(day: Path, tmp_path: Path) -> None:
    with Meeting.open(day) as meeting:
        for other in (None, new_key(str(tmp_path / "other.key"), PIN)):
            meeting.signer = other
            with pytest.raises(InputError) as error:
                weighed(meeting)
            assert refused(error) == "MT220"
        sign_on(meeting, "XY", "KV")


def test_an_official_has_one_key(day: Path) -> None:
    with Meeting.open(day) as meeting:
        for content in (SignedOn("TB", "0" * 64), SignedOn("KV", "no key"), SignedOn("AL")):
            with pytest.raises(InputError) as error:
                meeting.record("KV", lambda _, content=content: [content])  # type: ignore[misc]
            assert refused(error) in ("MT220", "MT213")


def test_what_is_forged_in_a_signing_official_s_name_is_found(day: Path) -> None:
    number = forged(day, "TB", replace(WEIGHED, car="7"))
    faults = verify(day, recompute=False).faults
    assert (number, "MT412") in {(fault.number, fault.code) for fault in faults}
    with pytest.raises(InputError) as error:
        Meeting.open(day)
    assert refused(error) == "MT410"


@pytest.mark.parametrize(
    ("statement", "word"),
    [
        ("UPDATE signature SET signed = substr(signed, 3) || '00'", "bears no signature by the key of TB"),
        ("UPDATE signature SET signed = replace(signed, substr(signed, 1, 2), 'zz')", "bears no signature"),
        ("DELETE FROM signature", "is not signed, though TB signs"),
        ("UPDATE signature SET entry = 2", "and KV has no key"),
    ],
)
def test_a_signature_that_was_touched_is_found(day: Path, statement: str, word: str) -> None:
    tampered(day, (statement, ()))
    faults = verify(day, recompute=False).faults
    assert {fault.code for fault in faults} == {"MT412"}
    assert any(word in fault.message for fault in faults)


def test_the_commands_sign_with_the_key_that_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    with a_meeting(tmp_path):
        pass
    day, key = Commands(tmp_path, capsys), str(tmp_path / "kv.key")
    monkeypatch.setenv("CHECKER_PIN", PIN)
    assert "KV signs from now on" in day("sign-on", "KV", "--key", key, "--by", "KV").out
    ran = day("announce", "event.wet", "yes", "--by", "KV")
    assert (ran.code, "MT220" in ran.err) == (3, True)
    monkeypatch.setenv("CHECKER_KEY", key)
    assert day("announce", "event.wet", "yes", "--by", "KV").code == 0
    assert "Not signed by TB: initials are not proof." in " ".join(day("slip", "7").out.split())
    told = " ".join(day("verify").out.split())
    assert "1 entries are signed." in told
    monkeypatch.setenv("CHECKER_PIN", "another one")
    ran = day("announce", "event.wet", "no", "--by", "KV")
    assert (ran.code, "is not unlocked by this PIN" in ran.err) == (3, True)
