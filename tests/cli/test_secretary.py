"""A technical secretary's evening: a bulletin is drafted, its number chosen, those it hurts are told, the book printed."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from checker.cli import exits
from tests.cli.running import run
from tests.fleet import write_lines

Capsys = pytest.CaptureFixture[str]

DRAFT = """\
bulletin: 2026-B3
amends: {pack: dunlin, edition: "2026.1"}
in_force: {from: 2026-08-15}
reason: Tyres on the outside front still wear out in one meeting
changes:
  - {change: "3.3", at: check.at_most, for: 52.4 %, read: 52.0 %}
"""
TEXT = """\
  - change: "3.3"
    at: text
    for: >-
      The two wheels nearer the centre of the course carry at most 52.4 % of the total weight, in any condition in
      which the car may be presented. On a chassis built before 2025 they may carry 53.0 % until 31 October 2026.
    read: >-
      The two wheels nearer the centre of the course carry at most 52.0 % of the total weight, in any condition in
      which the car may be presented. On a chassis built before 2025 they may carry 53.0 % until 31 October 2026.
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "rulepacks" / "dunlin"
    shutil.copytree("rulepacks/dunlin", place)
    shutil.copytree("samples", tmp_path / "samples")
    return place


@pytest.mark.deep
def test_from_a_draft_to_the_printed_book(capsys: Capsys, folder: Path, tmp_path: Path) -> None:
    fleet = str(write_lines(tmp_path / "fleet.jsonl", 8))
    draft = folder / "2026-B3.yaml"

    # which number? how many of the fleet each would hurt
    chosen = run(
        capsys, "pack", "sweep", f"{folder}@2026-08-14", "3.3", fleet, "--from", "51.5 %", "--to", "52.4 %",
        "--format", "json",
    )  # fmt: skip
    counts = {step["value"]: step["failing"] for step in json.loads(chosen.out)["round"]}
    assert counts["52"] >= counts["52.4"]

    # the text was forgotten, and lint says so
    draft.write_text(DRAFT)
    told = run(capsys, "pack", "lint", str(folder))
    assert "PK509" in told.out + told.err
    draft.write_text(DRAFT + TEXT)
    told = run(capsys, "pack", "lint", str(folder))
    assert "PK509" not in told.out + told.err

    # whom it hurts: as many as the sweep said
    ran = run(
        capsys, "pack", "affected", f"{folder}@2026-08-14", f"{folder}@2026-08-15", fleet, "--format", "json",
        "--lines", str(tmp_path / "lines.jsonl"),
    )  # fmt: skip
    document = json.loads(ran.out)
    [clause] = document["clauses"]
    assert clause["change"] == ["at most 52.4 % becomes 52.0 %"]
    assert clause["binds"] == {
        "from": "2026-08-15",
        "because": "bulletin 2026-B3 is in force from 2026-08-15",
    }
    exact = run(
        capsys, "pack", "sweep", f"{folder}@2026-08-15", "3.3", fleet, "--from", "51.5 %", "--to", "52.4 %",
        "--for", "entrant", "--format", "json",
    )  # fmt: skip
    at_52 = next(step for step in json.loads(exact.out)["round"] if step["value"] == "52")
    assert clause["failing"]["after"] == at_52["failing"]

    # one of those gets its list
    lines = [json.loads(line) for line in (tmp_path / "lines.jsonl").read_text().splitlines()]
    hit = next(one for one in lines if any(e["newly_fails"] or e["later"] for e in one["effects"]))
    todo = run(
        capsys, "pack", "affected", f"{folder}@2026-08-14", f"{folder}@2026-08-15", fleet,
        "--todo", hit["car"]["number"],
    )  # fmt: skip
    assert todo.code == exits.FAILS
    assert "from inside to outside" in todo.out

    # and the new book
    book = run(capsys, "pack", "book", f"{folder}@2026-08-15")
    assert "> **Check:** in condition [any](#conditions): `percentage.inside` at most 52.0 %" in book.out
    assert "| 2026-B3 | 2026-08-15 |" in book.out


def test_a_notice_tells_from_when_a_clause_that_it_adds_binds(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    place = Path("cup")
    assert run(capsys, "pack", "new", "cup").code == 0
    (place / "B1.yaml").write_text(
        'bulletin: B1\namends: {pack: cup, edition: "2026.1"}\nin_force: {from: 2026-07-16}\nreason: Labels.\nchanges:\n'
        '  - {add: "8", read: {text: Belts., since: 2026-10-01, check: {required: [safety/belts]}}}\n'
    )
    told = " ".join(run(capsys, "pack", "notice", "cup", "B1").out.split())
    assert "what added: components: safety/belts required; in force from 2026-10-01" in told
