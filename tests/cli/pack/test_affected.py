"""`checker pack affected`, as a technical secretary uses it."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from checker.cli import exits, progress
from tests.cli.running import Ran, run
from tests.examples import quick_first
from tests.fleet import write_lines
from tests.report.documents import valid
from tests.studies.packs import PACK, car_document, car_line

Capsys = pytest.CaptureFixture[str]

EDITION = "rulepacks/dunlin/2026.1.yaml"
BULLETIN = "rulepacks/dunlin@2026-07-05"
SAMPLES = "samples/cars"
BUILT = (f"{SAMPLES}/built-2025.yaml", f"{SAMPLES}/legal.yaml")


@pytest.fixture
def packs(tmp_path: Path) -> tuple[str, str]:
    old, new = tmp_path / "old.yaml", tmp_path / "new.yaml"
    old.write_text(PACK)
    new.write_text(PACK.replace("at_most: 1400 mm", "at_most: 1380 mm"))
    return str(old), str(new)


def affected(capsys: Capsys, *arguments: str) -> Ran:
    return run(capsys, "pack", "affected", *arguments)


def test_a_bulletin_is_held_against_the_edition(capsys: Capsys) -> None:
    cars = [f"{SAMPLES}/built-2023.yaml", f"{SAMPLES}/built-2025.yaml", f"{SAMPLES}/legal.yaml"]
    ran = affected(capsys, EDITION, BULLETIN, *cars, "--on", "2026-07-05")
    assert ran.code == exits.FAILS
    assert "at most 53.0 % becomes 52.4 %" in ran.out
    assert "bulletin 2026-B1 is in force from 2026-07-01" in ran.out
    assert "car 75 Plover: move 2.4 kg from inside to outside" in ran.out
    assert "until 2026-10-31" in " ".join(ran.out.split())
    assert "3 cars judged by both.\n  1 newly fails" in ran.out


@pytest.mark.parametrize("width", quick_first([32, 80, 40, 100], 0))
def test_every_width_holds_the_report(capsys: Capsys, width: int) -> None:
    ran = affected(capsys, EDITION, BULLETIN, f"{SAMPLES}/built-2025.yaml", "--width", str(width))
    assert all(len(line) <= width for line in ran.out.splitlines())
    assert "52.4 %" in ran.out.replace("\n", " ")


@pytest.mark.deep
def test_one_car_gets_its_list_by_number_or_by_file(capsys: Capsys) -> None:
    older = f"{SAMPLES}/built-2023.yaml"
    cars = (EDITION, BULLETIN, older, f"{SAMPLES}/legal.yaml")
    by_number, by_file = (affected(capsys, *cars, "--todo", it, "--on", "2026-07-05") for it in ("73", older))
    assert by_number.out == by_file.out
    assert by_number.code == exits.FAILS
    assert "by 2026-10-31: clause 3.3 Inside weight" in by_number.out
    assert "do: move 2.4 kg from inside to outside" in by_number.out


@pytest.mark.deep
def test_a_car_that_fails_at_once_must_act_before_the_first_day(capsys: Capsys) -> None:
    ran = affected(capsys, EDITION, BULLETIN, *BUILT, "--todo", "75", "--on", "2026-07-05")
    assert "before 2026-07-01: clause 3.3" in ran.out


@pytest.mark.deep
def test_a_car_that_is_not_affected_has_nothing_to_do(capsys: Capsys) -> None:
    ran = affected(capsys, EDITION, BULLETIN, *BUILT, "--todo", "27", "--on", "2026-07-05")
    assert ran.code == exits.COMPLIES
    assert "Nothing: no clause fails" in ran.out


def test_an_unknown_car_is_a_mistake_of_the_command_line(capsys: Capsys) -> None:
    ran = affected(capsys, EDITION, BULLETIN, f"{SAMPLES}/legal.yaml", "--todo", "1000")
    assert ran.code == exits.USAGE
    assert "no car of the number 1000" in ran.err


def test_json_is_one_document(capsys: Capsys, packs: tuple[str, str], tmp_path: Path) -> None:
    (tmp_path / "cars.jsonl").write_text(car_line() + "\n" + car_line({"frame.width": "1370 mm"}) + "\n")
    ran = affected(capsys, *packs, str(tmp_path / "cars.jsonl"), "--format", "json")
    document = valid(json.loads(ran.out))
    assert (document["document"], document["version"], document["cars"]) == ("affected", 1, 2)
    [clause] = document["clauses"]
    assert (clause["clause"], clause["newly_failing"], clause["failing"]) == (
        "1",
        1,
        {"before": 0, "after": 1},
    )
    [hit] = clause["hardest"]
    assert (hit["margin"]["exact"], hit["act"]) == ("-10/1", "lower width by 10 mm")
    assert sum(band["after"] for band in clause["margins"][0]["bands"]) == 2


def test_every_car_is_written_down_as_it_comes(
    capsys: Capsys, packs: tuple[str, str], tmp_path: Path
) -> None:
    cars = tmp_path / "cars.jsonl"
    cars.write_text(
        "".join(
            car_line({"car.number": str(n), "frame.width": f"{1370 + n} mm"}) + "\n" for n in range(1, 30)
        )
    )
    lines = tmp_path / "lines.jsonl"
    affected(capsys, *packs, str(cars), "--lines", str(lines))
    written = [valid(json.loads(line)) for line in lines.read_text().splitlines()]
    assert [one["car"]["number"] for one in written] == [str(n) for n in range(1, 30)]
    assert sum(one["effects"][0]["newly_fails"] for one in written) == 19


def test_the_lines_of_every_car_are_all_there_or_the_file_is_as_before(
    capsys: Capsys, packs: tuple[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "car.jsonl").write_text(car_line())
    lines = tmp_path / "lines.jsonl"
    lines.write_text("before")
    there = sorted(tmp_path.iterdir())

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    ran = affected(capsys, *packs, str(tmp_path / "car.jsonl"), "--lines", str(lines))
    assert ran.code == exits.NOT_WRITTEN
    assert f"cannot write '{lines}': No space left on device" in ran.err
    assert lines.read_text() == "before"
    assert sorted(tmp_path.iterdir()) == there


def test_a_file_that_cannot_be_used_is_told_and_the_others_are_judged(
    capsys: Capsys, packs: tuple[str, str], tmp_path: Path
) -> None:
    cars = tmp_path / "cars.jsonl"
    cars.write_text(car_line() + "\n" + car_line().replace("1390 mm", "1390 kg") + "\n")
    ran = affected(capsys, *packs, str(cars))
    assert ran.code == exits.UNREADABLE
    assert f"{cars}:2:" in ran.err
    assert "1 car judged by both." in ran.out
    assert "1 not judged" in ran.out


def test_a_car_that_nothing_can_be_read_of_is_never_a_success(capsys: Capsys, packs: tuple[str, str]) -> None:
    ran = affected(capsys, *packs, "absent.yaml")
    assert ran.code == exits.UNREADABLE
    assert "No car was judged" in ran.out


def test_a_folder_without_cars_tells_nothing_of_whom_a_change_affects(
    capsys: Capsys, packs: tuple[str, str], tmp_path: Path
) -> None:
    (tmp_path / "cars").mkdir()
    ran = affected(capsys, *packs, str(tmp_path / "cars"))
    assert ran.code == exits.UNSETTLED
    assert "No car was judged" in ran.out
    assert "No car is affected" not in ran.out
    assert "without any difference" not in ran.out


def test_no_difference_is_a_success(capsys: Capsys, packs: tuple[str, str], tmp_path: Path) -> None:
    (tmp_path / "car.jsonl").write_text(car_line())
    ran = affected(capsys, packs[0], packs[0], str(tmp_path / "car.jsonl"))
    assert ran.code == exits.COMPLIES
    assert "No car is affected" in ran.out


LATER = """\
bulletin: "B1"
amends: {pack: test, edition: "1"}
in_force: {from: 2026-09-01}
reason: A louder car.
changes:
  - {change: facts.body.sound, at: type, for: truth}
  - {change: facts.body.sound, at: unit, read: mm}
  - {change: "7", at: check, for: {holds: body.sound}, read: {limit: body.sound, at_least: 1 mm}}
"""


def test_a_car_that_a_later_text_cannot_judge_is_no_all_clear(capsys: Capsys, tmp_path: Path) -> None:
    pack, car = tmp_path / "pack", tmp_path / "car.jsonl"
    pack.mkdir()
    (pack / "1.yaml").write_text(PACK)
    (pack / "b1.yaml").write_text(LATER)
    car.write_text(car_line())
    command = (str(pack / "1.yaml"), f"{pack}@2026-05-03", str(car), "--on", "2026-05-03")
    ran = affected(capsys, *command)
    assert "from 2026-09-01 cannot be judged" in ran.out
    assert ran.code == exits.UNSETTLED
    assert affected(capsys, *command, "--todo", "7").code == exits.UNSETTLED


def test_a_car_that_will_fail_or_is_in_doubt_is_no_all_clear(capsys: Capsys, tmp_path: Path) -> None:
    later = affected(
        capsys, EDITION, BULLETIN, f"{SAMPLES}/built-2023.yaml", "--on", "2026-07-05", "--format", "json"
    )
    told = json.loads(later.out)
    assert (told["newly_failing"], told["failing_later"], later.code) == (0, 1, exits.FAILS)
    old, new, car = (tmp_path / name for name in ("old.yaml", "new.yaml", "car.jsonl"))
    old.write_text(PACK)
    new.write_text(PACK.replace("limit: frame.width, at_most", "limit: spare.size, at_most"))
    car.write_text(car_line())
    assert affected(capsys, str(old), str(new), str(car)).code == exits.UNSETTLED


def test_the_results_do_not_overwrite_what_is_read(capsys: Capsys, packs: tuple[str, str]) -> None:
    assert affected(capsys, *packs, SAMPLES, "--lines", packs[0]).code == exits.USAGE


def test_a_day_that_no_edition_covers_is_told(capsys: Capsys) -> None:
    ran = affected(capsys, EDITION, "rulepacks/dunlin@1999-01-01", SAMPLES)
    assert ran.code == exits.UNREADABLE
    assert "no edition is in force on 1999-01-01" in ran.err


def test_a_terminal_sees_a_bar(
    capsys: Capsys, packs: tuple[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(progress, "stderr_is_terminal", lambda: True)
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv("TERM", "xterm")
    (tmp_path / "cars.jsonl").write_text(f"{car_line()}\n" * 4)
    ran = affected(capsys, *packs, str(tmp_path / "cars.jsonl"))
    assert "4/4" in ran.err


def test_what_a_file_says_is_only_text(capsys: Capsys, packs: tuple[str, str], tmp_path: Path) -> None:
    file = tmp_path / "cars.jsonl"
    file.write_text(car_line({"car.name": "\\u001b[2Jx"}).replace("\\\\u", "\\u"))
    ran = affected(capsys, *packs, str(file))
    assert "\x1b" not in ran.out


@pytest.mark.deep
def test_a_fleet_of_generated_cars_is_judged(capsys: Capsys, tmp_path: Path) -> None:
    fleet = write_lines(tmp_path / "fleet.jsonl", 12)
    ran = affected(capsys, EDITION, BULLETIN, str(fleet), "--on", "2026-07-05")
    assert "12 cars judged by both." in ran.out


def test_the_small_car_is_what_its_document_says() -> None:
    assert car_document().get(("frame", "width")) == "1390 mm"


def test_packs_of_two_formulas_have_no_cars_in_common(capsys: Capsys, packs: tuple[str, str]) -> None:
    ran = affected(capsys, packs[0], EDITION, SAMPLES)
    assert ran.code == exits.USAGE
    assert "OLD is the formula test, NEW is dunlin" in ran.err


def test_a_folder_without_declarations_is_no_success(
    capsys: Capsys, packs: tuple[str, str], tmp_path: Path
) -> None:
    (tmp_path / "empty").mkdir()
    ran = affected(capsys, *packs, str(tmp_path / "empty"))
    assert ran.code == exits.UNSETTLED
    assert "0 cars judged by both." in ran.out


@pytest.mark.deep
def test_several_processes_tell_the_same(capsys: Capsys, packs: tuple[str, str], tmp_path: Path) -> None:
    cars = tmp_path / "cars.jsonl"
    lines = [car_line({"car.number": str(n), "frame.width": f"{1360 + n} mm"}) for n in range(44)]
    cars.write_text("\n".join([*lines, "{}"]))
    ran = [affected(capsys, *packs, str(cars), "--jobs", jobs) for jobs in ("1", "2")]
    assert ran[0] == ran[1]
    assert "44 cars judged by both." in ran[0].out
    assert f"{cars}:45:" in ran[0].err


def test_a_car_is_judged_by_the_text_after_a_bulletin_for_a_time(capsys: Capsys, tmp_path: Path) -> None:
    (tmp_path / "rules").mkdir()
    (tmp_path / "rules" / "1.yaml").write_text(PACK.replace("at_most: 1400 mm", "at_most: 1380 mm"))
    (tmp_path / "rules" / "b1.yaml").write_text(
        'bulletin: B1\namends: {pack: test, edition: "1"}\nin_force: {from: 2026-07-01, until: 2026-08-31}\n'
        'reason: Relief\nchanges:\n  - {change: "1", at: check.at_most, for: 1380 mm, read: 1400 mm}\n'
        '  - {change: "1", at: text, for: At most 1400 mm wide., read: At most 1400 mm.}\n'
    )
    car = tmp_path / "cars.jsonl"
    car.write_text(car_line())
    rules = tmp_path / "rules"
    ran = affected(capsys, f"{rules}@2026-06-30", f"{rules}@2026-07-01", str(car), "--format", "json")
    told = valid(json.loads(ran.out))
    [effect] = told["named"][0]["effects"]
    assert (effect["before"], effect["after"], effect["later"]["until"]) == ("fail", "pass", "2026-08-31")
    assert effect["later"]["act"] == "lower width by 10 mm"
    assert told["failing_later"] == 1
