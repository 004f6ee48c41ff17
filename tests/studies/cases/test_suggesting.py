from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from checker.pack.editions.edition import newest
from checker.pack.editions.finding import open_folder
from checker.reading.document import Plain
from checker.reading.printer import to_yaml
from checker.reading.strict_yaml import read_document
from checker.studies.cases.adding import base_path
from checker.studies.cases.casebook import read_cases
from checker.studies.cases.running import run_cases
from checker.studies.cases.suggesting import Suggester, day_of
from tests.examples import quick_first
from tests.studies.casebooks import PACK, book, codes

MORE = """\
facts:
  helmet.sound: {type: truth}
  seat.made: {type: date}
  cage.bars: {type: count}
  drive.kind: {one_of: [chain, belt]}
"""
CLAUSES = """\
  "4": {title: Helmet, check: {holds: helmet.sound}}
  "5": {title: Seat, check: {valid: seat.made + 5 years}}
  "6": {title: Bars, check: {limit: cage.bars, above: 2}}
  "7": {title: Drive, check: {limit: drive.kind, exactly: chain}}
  "8": {title: Papers, check: {required: [log book], of: documents}}
  "9": {title: Weight, check: {limit: weight.total, at_least: 150 kg, condition: as_weighed}}
"""
WIDER = PACK.replace("facts:\n", MORE).replace("cases:\n", f"{CLAUSES}cases:\n")
CAR = """\
helmet: {sound: true}
seat: {made: 2024-02-29}
cage: {bars: 4}
drive: {kind: chain}
documents: [{kind: log book}]
weighing: {readings: [{front_left: 40 kg, front_right: 40 kg, rear_left: 40 kg, rear_right: 40.5 kg}]}
"""


def suggested(folder: Path, cases: str = "[]", pack: str = WIDER, more: str = "") -> list[Plain]:
    found = book(folder, cases, pack)
    car = folder / "car.yaml"
    car.write_text(car.read_text(encoding="utf-8") + CAR + more, encoding="utf-8")
    declaration = read_document(car, "CD")
    on = day_of(declaration, found.edition)
    assert on.isoformat() == "2026-05-03"
    base = base_path(str(car), found.file)
    suggester = Suggester(found.edition, declaration, on, base)
    return suggester.suggest(run_cases(found))


def told(made: list[Any]) -> list[tuple[str, str]]:
    return [
        (number, expected["outcome"])
        for case in made
        if isinstance(case, dict)
        for number, expected in case["expect"].items()
    ]


def test_each_clause_gets_a_case_on_its_limit_and_one_beyond(tmp_path: Path) -> None:
    made = told(suggested(tmp_path))
    for number in ("1", "2", "3", "5", "9"):
        assert made.count((number, "pass")) == 1, number
        assert made.count((number, "fail")) == 1, number
    assert made.count(("6", "fail")) == 2, "a strict limit fails on the limit itself"
    for number in ("4", "7", "8"):
        assert (number, "fail") in made, number


def test_every_suggestion_comes_out(tmp_path: Path) -> None:
    made = suggested(tmp_path)
    (tmp_path / "pack.yaml").write_text(WIDER.replace("cases:\n", "cases: made.yaml\n"), encoding="utf-8")
    (tmp_path / "made.yaml").write_text(to_yaml(made), encoding="utf-8")
    found = run_cases(read_cases(newest(open_folder(tmp_path))))
    assert len(found) == len(made) > 12
    assert codes(found) == []


def test_what_is_there_already_is_not_suggested_again(tmp_path: Path) -> None:
    cases = """
    - {name: a, from: car.yaml, set: {frame.width: 1400 mm}, expect: {"1": {outcome: pass, margin: 0 mm}}}
    - {name: b, from: car.yaml, set: {frame.width: 1401 mm}, expect: {"1": {outcome: fail, margin: -1 mm}}}
    """
    assert "1" not in [number for number, _ in told(suggested(tmp_path, cases))]


@pytest.mark.parametrize(
    ("car", "cases", "named"),
    [("a/b/car.yaml", "a/cases.yaml", "b/car.yaml"), ("cars/x.yaml", "packs/p/c.yaml", "../../cars/x.yaml")],
)
def test_a_car_is_named_as_seen_from_the_cases(car: str, cases: str, named: str) -> None:
    assert base_path(car, cases) == named


def test_a_ban_and_a_list_of_materials_get_cases_by_another_material(tmp_path: Path) -> None:
    more = "categories: [brakes/disc]\nmaterials: {steel: [], carbon composite: [carbon fibre]}\nfacts:\n"
    clauses = '  "4": {title: Ban, check: {within: brakes, banned: [carbon composite]}}\n  "5": {title: Only, check: {within: brakes, allowed: [steel]}}\n'
    pack = PACK.replace("facts:\n", more).replace("cases:\n", f"{clauses}cases:\n")
    found = book(tmp_path, "[]", pack)
    car = tmp_path / "car.yaml"
    disc = "components: [{name: disc, category: brakes/disc, materials: [steel]}]\n"
    car.write_text(car.read_text(encoding="utf-8") + disc, encoding="utf-8")
    declaration = read_document(car, "CD")
    on = day_of(declaration, found.edition)
    suggester = Suggester(found.edition, declaration, on, "car.yaml")
    made = suggester.suggest(run_cases(found))
    assert {("4", "fail"), ("5", "fail")} <= set(told(made))
    assert not {"4", "5"} & {number for number, _ in suggester.missing}


@pytest.mark.deep
@pytest.mark.parametrize(
    ("valid", "made", "last", "late"),
    [
        ("end_of_month(made + 5 years)", "2024-07", ("2021-05", "2026-05-31"), ("2021-04", "-3 days")),
        ("end_of_year(made)", "2026-02", ("2026-02", "2026-12-31"), ("2025-11", "-123 days")),
    ],
)
def test_dates_that_are_told_by_their_month_get_a_last_day_and_a_month_too_late(
    tmp_path: Path, valid: str, made: str, last: tuple[str, str], late: tuple[str, str]
) -> None:
    belts = f'  "10": {{title: Belts, check: {{within: safety/belts, valid: {valid}}}}}\n'
    pack = WIDER.replace("cases:\n", f"{belts}cases:\n").replace(
        "facts:\n", "categories: [safety/belts]\nfacts:\n"
    )
    more = f"components: [{{name: belts, category: safety/belts, made: {made}}}]\n"
    every: list[Any] = suggested(tmp_path, pack=pack, more=more)
    found = {c["expect"]["10"]["outcome"]: c for c in every if "10" in c["expect"]}
    path = "components[0].made"
    assert (found["fail"]["set"][path], found["fail"]["expect"]["10"]["margin"]) == late
    assert (found["pass"].get("set", {path: made})[path], found["pass"]["on"]) == last
    assert found["pass"]["expect"]["10"]["margin"] == "0 days"


def test_moments_get_cases_to_the_minute(tmp_path: Path) -> None:
    clause = '  "10": {title: In time, check: {limit: race.start - race.presented, at_least: 90 min}}\n'
    facts = "facts:\n  race.start: {type: moment}\n  race.presented: {type: moment}\n"
    pack = WIDER.replace("cases:\n", f"{clause}cases:\n").replace("facts:\n", facts)
    more = "race: {start: 2026-05-03 14:00, presented: 2026-05-03 11:45}\n"
    every: list[Any] = suggested(tmp_path, pack=pack, more=more)
    found = {c["expect"]["10"]["outcome"]: c for c in every if "10" in c["expect"]}
    assert found["pass"]["set"] == {"race.presented": "2026-05-03 12:30"}
    assert found["fail"]["set"] == {"race.presented": "2026-05-03 12:31"}
    assert found["fail"]["expect"]["10"]["margin"] == "-1 min"


@pytest.mark.parametrize(
    ("check", "more", "path", "met", "broken"),
    quick_first(
        [
            ("{allowed: [5, 6, 7], of: gears.number}", "gears: {number: 6}", "gears.number", 7, 8),
            ("{allowed: [5, 7], of: gears.number}", "gears: {number: 5}", "gears.number", None, 6),
            ("{allowed: [0, 1], of: gears.number}", "gears: {number: 1}", "gears.number", None, 2),
            (
                '{limit: "full_years(driver.born, event.date)", at_least: 16}',
                "driver: {born: 1990-07-04}",
                "driver.born",
                "2010-05-03",
                "2010-05-04",
            ),
            (
                '{limit: "full_years(driver.born, event.date)", below: 40}',
                "driver: {born: 1990-07-04}",
                "driver.born",
                None,
                "1986-05-03",
            ),
            (
                "{each: ballast, limit: at.behind_front_axle, at_least: 900 mm}",
                "ballast: [{label: A, mass: 2 kg, at: {behind_front_axle: 1000 mm, left_of_centre: 0 mm}}]",
                "ballast[0].at.behind_front_axle",
                "900 mm",
                "899.9 mm",
            ),
            (
                "{each: ballast, limit: at.left_of_centre, at_most: 100 mm}",
                "ballast: [{label: A, mass: 2 kg, at: {behind_front_axle: 1 m, right_of_centre: 0 mm}}]",
                "ballast[0].at.right_of_centre",
                "-100 mm",
                "-100.1 mm",
            ),
        ],
        2,
    ),
)
def test_what_goes_by_leaps_and_where_an_entry_sits_get_their_cases(
    tmp_path: Path, check: str, more: str, path: str, met: object, broken: object
) -> None:
    pack = WIDER.replace("cases:\n", f'  "10": {{title: Ten, check: {check}}}\ncases:\n')
    pack = pack.replace("facts:\n", "facts:\n  gears.number: {type: count}\n")
    every: list[Any] = suggested(tmp_path, pack=pack, more=f"{more}\n")
    found = {c["expect"]["10"]["outcome"]: c for c in every if "10" in c["expect"]}
    assert found["fail"]["set"] == {path: broken}
    assert met is None or found["pass"]["set"] == {path: met}


SIDED = """\
facts:
  wing.span: {unit: mm}
  wing.chord: {unit: mm}
  jet.bore: {unit: mm}
"""
SIDES = """\
  "10": {title: Span, check: {limit: wing.span, at_least: 900 mm, at_most: 1100 mm}}
  "11":
    title: Wing
    check: {all_of: [{limit: wing.span, at_most: 1050 mm}, {limit: wing.chord, at_least: 200 mm, at_most: 300 mm}]}
  "12": {title: Jet, check: {limit: jet.bore, nominal: 10 mm, plus: 0.1 mm, minus: 0.2 mm}}
  "13": {title: Share, check: {limit: percentage.left, at_least: 48 %, at_most: 52 %, condition: as_weighed}}
  "15": {title: Twins, check: {all_of: [{limit: wing.span, at_most: 1200 mm}, {limit: wing.chord, at_most: 1200 mm}]}}
  "14": {title: Either, check: {any_of: [{limit: wing.chord, at_most: 260 mm}, {limit: wing.span, at_most: 990 mm}]}}
"""
OF_SIDES = WIDER.replace("facts:\n", SIDED).replace("cases:\n", f"{SIDES}cases:\n")
WINGED = "wing: {span: 1000 mm, chord: 250 mm}\njet: {bore: 10.05 mm}\n"


def test_each_side_of_a_limit_and_each_branch_gets_its_cases(tmp_path: Path) -> None:
    made: list[Any] = suggested(tmp_path, pack=OF_SIDES, more=WINGED)

    def names(number: str) -> list[str]:
        return sorted(str(case["name"]).partition(", ")[2] for case in made if number in case["expect"])

    assert names("10") == [
        "exactly on the limit",
        "exactly on the limit, at least 900 mm",
        "just beyond the limit",
        "just beyond the limit, at least 900 mm",
    ]
    assert len(names("11")) == 6
    assert len({case["name"] for case in made}) == len(made)
    assert len(names("12")) == 4
    assert len(names("14")) == 2, "a branch that is not met alone breaks nothing"
    assert [name for name in names("13") if name.startswith("just beyond")] == [
        "just beyond the limit",
        "just beyond the limit, at most 52 %",
    ]


@pytest.mark.deep
def test_a_side_that_has_its_cases_is_not_suggested_again(tmp_path: Path) -> None:
    cases = """
    - {name: a, from: car.yaml, set: {wing.span: 900 mm}, expect: {"10": {outcome: pass, margin: 0 mm}}}
    - {name: b, from: car.yaml, set: {wing.span: 899 mm}, expect: {"10": {outcome: fail, margin: -1 mm}}}
    """
    made: list[Any] = suggested(tmp_path, cases, OF_SIDES, WINGED)
    assert [str(case["name"]) for case in made if "10" in case["expect"]] == [
        "Span, exactly on the limit, at most 1100 mm",
        "Span, just beyond the limit, at most 1100 mm",
    ]
