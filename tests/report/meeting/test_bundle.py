"""A bundle is checked here with nothing but hashes and text, as a tribunal would."""

from __future__ import annotations

import hashlib
import io
import json
import re
import zipfile
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Noted,
    Protested,
)
from checker.meeting.session.gear import checked
from checker.meeting.session.session import Meeting
from checker.meeting.standing.bundle import gather
from checker.meeting.tables.scale_reading import ScaleReading
from checker.meeting.taking.correcting import strike
from checker.meeting.taking.measuring import Finding, announce, measure, note
from checker.meeting.taking.ruling import Ruling, protest, rule
from checker.meeting.taking.weighing import weigh
from checker.report.meeting.bundle import as_zip, bundle_files
from checker.report.words.findings import found_words
from tests.meeting.days import LOADS, a_meeting, car_text, weighed
from tests.meeting.taking.test_importing import imported, row

CARS = {"7": car_text(dimensions="{ride_height: 80 mm}"), "8": car_text("8", "Knot")}


def a_day(tmp_path: Path) -> Meeting:
    meeting = a_meeting(tmp_path, CARS)
    bad = checked(meeting.gear["pads"], "rear_left", "20", "20.5")
    meeting.record("TB", lambda _: [bad])
    for number in CARS:
        weighed(meeting, number)
        weighed(meeting, number)
        measure(meeting, [Finding(number, "seals.sump", f"SO {number}")], "KV")
        meeting.judge_and_record(meeting.car(number), "KV")
    announce(meeting, "event.wet", "no", "KV")
    announce(meeting, "results.carried", "1 kg", "KV", car="8")
    (remark,) = note(meeting, [Noted("7", SCRUTINEERING, "remark", "to be struck")], "KV")
    strike(meeting, remark, "wrong car", "KV")
    against = protest(meeting, Protested("7", "3", "it drags", "8"), "KV")
    rule(meeting, Ruling("7", "3", "reject", "measured before us", against), "TB", found_words)
    return meeting


@pytest.fixture
def files(tmp_path: Path) -> dict[str, bytes]:
    with a_day(tmp_path) as meeting:
        return bundle_files(gather(meeting, "7"))


def test_a_car_that_was_excluded_before_it_was_weighed_is_told_as_excluded(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        rule(meeting, Ruling("7", "3", "reject", "measured before us"), "KV", found_words)
        told = bundle_files(gather(meeting, "7"))["README.txt"].decode()
    assert "Car 7: EXCLUDED, officials' decisions taken in." in told


def test_everything_that_a_protest_needs_is_there(files: dict[str, bytes], tmp_path: Path) -> None:
    names = {name for name in files if not name.startswith("entries/")}
    assert names == {
        "README.txt",
        "SHA256SUMS",
        "chain.txt",
        "computation.json",
        "computation.txt",
        "declaration/7.yaml",
        "differences.csv",
        "gear-checks.csv",
        "no-longer-counts.txt",
        "pack/1.yaml",
        "procedure.yaml",
        "readings.yaml",
        "rulings.txt",
    }
    assert files["declaration/7.yaml"] == CARS["7"].encode()
    assert files["pack/1.yaml"] == (tmp_path / "plover" / "1.yaml").read_bytes()


def test_the_sums_are_those_of_the_files(files: dict[str, bytes]) -> None:
    lines = files["SHA256SUMS"].decode().splitlines()
    assert len(lines) == len(files) - 1
    for line in lines:
        digest, name = line.split("  ")
        assert hashlib.sha256(files[name]).hexdigest() == digest


def test_every_entry_hashes_to_what_the_chain_says_and_follows_the_one_before(
    files: dict[str, bytes],
) -> None:
    chain = dict(line.split(" ") for line in files["chain.txt"].decode().splitlines())
    entries = {name: data for name, data in files.items() if name.startswith("entries/")}
    kinds = set()
    for name, data in entries.items():
        number = str(int(name.split("/")[1].split("-")[0]))
        assert hashlib.sha256(data).hexdigest() == chain[number]
        entry = json.loads(data)
        kinds.add(entry["kind"])
        assert entry["previous"] == chain.get(str(int(number) - 1), "0" * 64)
    assert kinds >= {"opened", "entered", "weighed", "judged", "protested", "ruled", "struck", "gear_checked"}


def test_entries_of_other_cars_are_not_in_it(files: dict[str, bytes]) -> None:
    cars = {
        json.loads(data)["content"].get("car", "")
        for name, data in files.items()
        if name.startswith("entries/")
    }
    assert cars <= {"", "7"}
    assert len(files["chain.txt"].decode().splitlines()) > sum(name.startswith("entries/") for name in files)


def test_the_computation_shows_every_clause_with_its_numbers(files: dict[str, bytes]) -> None:
    text = files["computation.txt"].decode()
    for number in range(1, 9):
        assert f"CLAUSE {number}: " in text
    assert "dimensions.ride_height" in text
    assert "5 mm below the minimum of 85 mm" in text
    assert "/tmp/" not in text
    assert json.loads(files["computation.json"])["car"]["number"] == "7"


def test_rulings_stand_beside_what_was_computed(files: dict[str, bytes]) -> None:
    text = " ".join(files["rulings.txt"].decode().split())
    assert "protest by car 8 under clause 3 it drags" in text
    assert "decided by TB, on the protest of entry" in text
    assert (
        "reason: measured before us computed when it was decided: FAILS. ride height 80 mm is 5 mm below"
        in text
    )


def test_the_readme_is_plain_words(files: dict[str, bytes]) -> None:
    text = files["README.txt"].decode()
    assert text.startswith("CAR 7 RUFF: EVERYTHING RECORDED AT PLOVER RULES, 2026-05-03")
    assert "sha256sum -c SHA256SUMS" in text
    assert max(map(len, text.splitlines())) <= 80


def test_readings_and_declaration_judge_to_the_same_with_the_files_alone(
    files: dict[str, bytes], tmp_path: Path
) -> None:
    from checker.verdict.run import Request, inspect_request

    home = tmp_path / "unpacked"
    for name, data in files.items():
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_bytes(data)
    request = Request(
        str(home / "declaration" / "7.yaml"),
        str(home / "pack"),
        readings=str(home / "readings.yaml"),
        audience="official",
    )
    again = inspect_request(request)
    said = {o["clause"]: o["outcome"] for o in json.loads(files["computation.json"])["outcomes"]}
    assert {o.clause.number: o.outcome for o in again.outcomes} == said


def test_a_zip_has_the_same_bytes_whenever_it_is_made(files: dict[str, bytes]) -> None:
    data = as_zip(files, "protest")
    assert data == as_zip(files, "protest")
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        assert {name.removeprefix("protest/") for name in archive.namelist()} == set(files)
        assert archive.read("protest/README.txt") == files["README.txt"]


def test_names_in_the_record_lead_nowhere(tmp_path: Path) -> None:
    with a_day(tmp_path) as meeting:
        bundle = gather(meeting, "7")
    from dataclasses import replace

    evil = replace(
        bundle,
        declaration_name="../../x y;rm.yaml",
        pack_files={"../up.yaml": b"a", "/abs.yaml": b"b", "ok/1.yaml": b"c"},
        tables={(3, "../../etc/passwd"): b"d", (4, "C:\\con"): b"e"},
    )
    for name in bundle_files(evil):
        assert re.fullmatch(r"[A-Za-z0-9_-][A-Za-z0-9._-]*(/[A-Za-z0-9_-][A-Za-z0-9._-]*)*", name), name
        assert ".." not in name.split("/")


def test_tables_of_one_name_are_both_kept(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        imported(meeting, tmp_path, row("7"))
        imported(meeting, tmp_path, row("7", "B", "2026-05-03 09:25", fl="155,5"))
        files = bundle_files(gather(meeting, "7"))
    tables = {name: data for name, data in files.items() if name.startswith("tables/")}
    assert len(tables) == 2
    assert {b"155,0" in data for data in tables.values()} == {True, False}


def test_why_a_reading_no_longer_counts_is_told_in_plain_words(tmp_path: Path) -> None:
    with a_day(tmp_path) as meeting:
        told = bundle_files(gather(meeting, "7"))["no-longer-counts.txt"].decode()
        assert "was struck by KV in entry" in told
        assert told.rstrip().endswith("wrong car.")
        again = meeting.car("8").weighings(SCRUTINEERING)[-1]
        weigh(meeting, ScaleReading("8", LOADS, corrects=again.number, reason="a digit was dropped"), "TB")
        told = " ".join(bundle_files(gather(meeting, "8"))["no-longer-counts.txt"].decode().split())
        assert f"Entry {again.number} was corrected by TB in entry" in told
        assert told.endswith("a digit was dropped.")


def test_a_car_without_protest_or_procedure_has_a_bundle_too(tmp_path: Path) -> None:
    with a_meeting(tmp_path, procedure=None) as meeting:
        files = bundle_files(gather(meeting, "7"))
    assert files["rulings.txt"] == b"There was no protest and no ruling.\n"
    assert "procedure.yaml" not in files
