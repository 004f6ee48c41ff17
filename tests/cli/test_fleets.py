"""Many cars at once: the same bytes on however many cores, as a stream, and nothing left behind."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from checker.cli import exits
from checker.studies.fleet import workers
from tests import fleet
from tests.cli.running import environment, run
from tests.examples import quick_first

LIGHT = "samples/cars/light-at-the-flag.yaml"
Capsys = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def some(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A few cars as lines, one of which is broken and one of another formula."""
    file = tmp_path_factory.mktemp("fleet") / "some.jsonl"
    lines = [json.dumps(car) for car in fleet.cars(3, seed=2)]
    lines[2:2] = ["", '{"formula": "dunlin", "car": {"number": }', '{"formula": "dunlim"}']
    file.write_text("\n".join(lines))
    return file


def test_each_line_is_a_car_and_a_broken_one_names_its_line(some: Path, capsys: Capsys) -> None:
    ran = run(capsys, "inspect", str(some), "--format", "json")
    assert [json.loads(line)["car"]["number"] for line in ran.out.splitlines()] == ["1", "2", "3"]
    assert f"{some}:4:" in ran.err
    assert f"{some}:5:1: PK611" in ran.err
    assert ran.code == exits.UNREADABLE


@pytest.mark.deep
def test_a_line_is_judged_as_a_file_of_its_own(some: Path, capsys: Capsys, tmp_path: Path) -> None:
    alone = tmp_path / "car.json"
    alone.write_text(some.read_text().splitlines()[0])
    as_line, as_file = (
        json.loads(run(capsys, "inspect", str(file), "--format", "json").out.splitlines()[0])
        for file in (some, alone)
    )
    for one in (as_line, as_file):
        one["car"].pop("sha256")  # of the line with its end
    assert as_line == as_file


def test_the_list_names_the_lines_that_cannot_be_used(some: Path, capsys: Capsys) -> None:
    ran = run(capsys, "inspect", str(some))
    assert ran.out.startswith("5 CARS, JUDGED FOR ")
    assert f"not judged: {some}:4, which cannot be used" in " ".join(ran.out.split())


def test_one_car_in_a_file_of_lines_has_its_whole_report(capsys: Capsys, tmp_path: Path) -> None:
    """Without options too, where a single car goes a way of its own."""
    one = tmp_path / "one.jsonl"
    one.write_text(json.dumps(next(fleet.cars(1))))
    assert run(capsys, "inspect", str(one)).out.startswith("CAR 1 ")


def test_readings_are_those_of_one_car(some: Path, capsys: Capsys) -> None:
    assert run(capsys, "inspect", str(some), "--readings", "r.yaml").code == exits.USAGE


def test_an_empty_file_of_lines_is_told_and_judges_nothing(capsys: Capsys, tmp_path: Path) -> None:
    none = tmp_path / "none.jsonl"
    none.write_text("\n")
    kept = tmp_path / "kept.json"
    kept.write_text("before")
    ran = run(capsys, "inspect", str(none), "--format", "json", "--output", str(kept))
    assert (ran.code, ran.out, kept.read_text()) == (exits.UNREADABLE, "", "before")
    assert "none.jsonl:1:1: CD120 the file is empty" in ran.err


@pytest.mark.parametrize(
    "form",
    quick_first(
        [((),), (("--format", "json"),), (("--csv", "cars"),), (("--csv", "clauses"),), (("--units", "us"),)],
        1,
    ),
)
def test_the_same_bytes_on_one_core_and_on_several(
    some: Path, capsys: Capsys, monkeypatch: pytest.MonkeyPatch, form: tuple[str, ...]
) -> None:
    monkeypatch.setattr(workers, "WORTH_IT", 2)
    monkeypatch.setattr(workers, "_AT_A_TIME", 1)
    alone, shared = (run(capsys, "inspect", str(some), LIGHT, *form, "--jobs", jobs) for jobs in ("1", "3"))
    assert alone == shared
    assert alone.out


def started(*arguments: str, **more: Any) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-m", "checker", "inspect", *arguments],
        env=environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
        **more,
    )


def of_the_session(leader: int) -> Iterator[int]:
    """Processes of a session that still run."""
    for name in os.listdir("/proc"):
        if name.isdigit():
            try:
                fields = Path(f"/proc/{name}/stat").read_text().rpartition(")")[2].split()
            except OSError:
                continue
            if int(fields[3]) == leader and fields[0] != "Z":
                yield int(name)


@pytest.mark.deep
@pytest.mark.skipif(not os.path.isdir("/proc"), reason="looks for processes there")
@pytest.mark.parametrize("ends_it", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
def test_however_it_ends_no_helper_stays(tmp_path: Path, ends_it: signal.Signals) -> None:
    """Ctrl-C goes to all processes of the terminal, another signal to the one that the user started."""
    file = fleet.write_lines(tmp_path / "long.jsonl", 500, seed=4)
    process = started(str(file), "--format", "json", "--jobs", "2")
    assert process.stdout is not None
    process.stdout.readline()
    assert len(list(of_the_session(process.pid))) > 1
    if ends_it is signal.SIGINT:
        os.killpg(process.pid, ends_it)
    else:
        process.send_signal(ends_it)
    process.stdout.close()
    process.wait(60)
    if ends_it is signal.SIGINT:
        assert process.stderr is not None
        assert (process.returncode, process.stderr.read()) == (exits.INTERRUPTED, b"interrupted\n")
    until = time.monotonic() + 20
    while (left := list(of_the_session(process.pid))) and time.monotonic() < until:
        time.sleep(0.1)
    assert left == []
