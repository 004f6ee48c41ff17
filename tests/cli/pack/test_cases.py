from __future__ import annotations

import json
from pathlib import Path

import pytest

from checker.cli import exits
from checker.reading.strict_yaml import parse_document
from tests.cli.running import run
from tests.studies.casebooks import PACK, book

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]
GOOD = '- {name: fine, from: car.yaml, set: {frame.width: 1400 mm}, expect: {"1": {outcome: pass, margin: 0 mm}}}'


@pytest.mark.parametrize(
    ("cases", "code"),
    [
        (GOOD, exits.COMPLIES),
        (GOOD.replace("0 mm}", "1 mm}"), exits.FAILS),
        (GOOD.replace("frame.width", "frame.widht"), exits.UNREADABLE),
        ("[]", exits.UNSETTLED),
    ],
)
def test_the_exit_code_says_whether_every_case_came_out(
    capsys: Capsys, tmp_path: Path, cases: str, code: int
) -> None:
    book(tmp_path, cases)
    assert run(capsys, "pack", "cases", str(tmp_path)).code == code


def test_json_is_one_document(capsys: Capsys, tmp_path: Path) -> None:
    book(tmp_path, GOOD)
    ran = run(capsys, "pack", "cases", str(tmp_path / "pack.yaml"), "--format", "json")
    document = json.loads(ran.out)
    assert (document["document"], document["version"]) == ("cases", 1)
    assert document["counts"]["as_expected"] == 1


def test_suggestions_are_cases_that_come_out(capsys: Capsys, tmp_path: Path) -> None:
    book(tmp_path, GOOD)
    ran = run(capsys, "pack", "cases", str(tmp_path), "--suggest", str(tmp_path / "car.yaml"))
    assert ran.code == exits.COMPLIES
    suggested = parse_document(ran.out.encode(), "suggested", "PK").data
    assert isinstance(suggested, list)
    (tmp_path / "more.yaml").write_text(ran.out, encoding="utf-8")
    (tmp_path / "pack.yaml").write_text(PACK.replace("cases:\n", "cases: more.yaml\n"), encoding="utf-8")
    assert run(capsys, "pack", "cases", str(tmp_path)).code == exits.COMPLIES


def test_a_folder_is_its_newest_edition_and_a_day_picks_another(capsys: Capsys, tmp_path: Path) -> None:
    book(tmp_path, GOOD)
    before = PACK.replace('edition: "1"', 'edition: "0"').replace(
        "{from: 2026-01-01}", "{from: 2025-01-01, until: 2025-12-31}"
    )
    (tmp_path / "before.yaml").write_text(before.replace("cases:\n", ""), encoding="utf-8")
    for place, edition in ((str(tmp_path), "1"), (f"{tmp_path}@2025-05-01", "0")):
        ran = run(capsys, "pack", "cases", place, "--format", "json")
        assert json.loads(ran.out)["pack"]["edition"] == edition
    assert run(capsys, "pack", "cases", f"{tmp_path}@2020-05-01").code == exits.UNREADABLE


def test_what_cannot_be_is_refused(capsys: Capsys, tmp_path: Path) -> None:
    book(tmp_path, GOOD)
    car = str(tmp_path / "car.yaml")
    assert (
        run(capsys, "pack", "cases", str(tmp_path), "--suggest", car, "--format", "json").code == exits.USAGE
    )
    assert run(capsys, "pack", "cases", str(tmp_path / "no")).code == exits.UNREADABLE
    assert (
        run(capsys, "pack", "cases", str(tmp_path), "--suggest", str(tmp_path / "no.yaml")).code
        == exits.UNREADABLE
    )
