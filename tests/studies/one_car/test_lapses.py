"""What lapses when: to the day, at the first meeting that it matters for, and why."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from checker.pack.editions.finding import PackFolder, open_folder
from checker.reading.problems import InputError
from checker.reading.strict_yaml import read_document
from checker.report.words.acts import act_words
from checker.studies.one_car import lapses
from checker.studies.one_car.lapses import Lapse, Season, season
from checker.studies.one_car.season import SeasonMeeting, read_meetings
from checker.verdict.advice import advised
from checker.verdict.inspection import Inspection
from checker.verdict.run import inspect_document
from tests.examples import quick_first
from tests.studies.packs import PACK, car_document, edited, pack

MEETINGS = read_meetings(read_document("samples/season/meetings.yaml", "SN"))
SPRING = date(2026, 3, 20)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> PackFolder:
    place = tmp_path_factory.mktemp("pack")
    (place / "edition.yaml").write_text(PACK)
    return open_folder(place)


def followed(folder: PackFolder, car: dict[str, Any] | None = None, on: date = SPRING) -> Season:
    return season(car_document(car), folder, MEETINGS, on)


def told(lapse: Lapse) -> tuple[str, str, str, str, str]:
    return (
        lapse.clause.number,
        lapse.item,
        lapse.last_day.isoformat(),
        lapse.meeting.day.isoformat(),
        lapse.because,
    )


def sample(name: str, on: date = SPRING) -> Season:
    document = read_document(f"samples/cars/{name}.yaml", "CD")
    return season(document, open_folder("rulepacks/dunlin"), MEETINGS, on)


def test_acts_are_tried_only_where_they_are_told(folder: PackFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a car fails all the season is tried once; what lapses, at the meeting that it spoils."""
    tried: list[tuple[date, list[str]]] = []

    def noting(inspection: Inspection, only: list[str]) -> Inspection:
        tried.append((inspection.on, list(only)))
        return advised(inspection, only)

    monkeypatch.setattr(lapses, "advised", noting)
    found = followed(folder, {"frame.width": "1450 mm"})
    assert len(found.standings) == 8
    assert tried[0] == (SPRING, [o.clause.number for o in found.failing])
    assert tried[1:] == [(lapse.meeting.day, [lapse.clause.number]) for lapse in found.lapses]
    assert found.failing
    assert found.lapses


# --- the stories of the samples -----------------------------------------------------------------------------


@pytest.mark.deep
def test_belts_lapse_between_two_meetings() -> None:
    [lapse] = sample("belts-between-meetings").lapses
    assert told(lapse) == ("9.1", "belts", "2026-05-31", "2026-06-07", "")
    assert act_words(lapse.assessment.act) == "belts: renew before 2026-06-07"


@pytest.mark.deep
def test_a_receipt_grows_too_old() -> None:
    found = sample("price-rise").lapses
    assert [told(lapse) for lapse in found] == [
        ("5.1", "front dampers", "2026-06-21", "2026-07-05", ""),
        ("5.1", "rear dampers", "2026-06-21", "2026-07-05", ""),
    ]


@pytest.mark.deep
def test_a_bulletin_comes_into_force() -> None:
    [lapse] = sample("built-2025").lapses
    assert told(lapse) == (
        "3.3",
        "",
        "2026-06-30",
        "2026-07-05",
        "bulletin 2026-B1 is in force from 2026-07-01",
    )
    assert sample("built-2023").lapses == ()


@pytest.mark.deep
def test_what_fails_already_is_told_apart_and_does_not_lapse() -> None:
    found = sample("creeping-inside")
    assert ([o.clause.number for o in found.failing], found.lapses) == (["3.3"], ())


# --- last days ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("made", "last", "meeting"),
    [
        ("2021-04", "2026-04-30", "2026-05-03"),
        ("2021-05", "2026-05-31", "2026-06-07"),
        ("2021-08", "2026-08-31", "2026-09-06"),
    ],
)
def test_the_last_day_is_found_by_the_days_in_hand(
    folder: PackFolder, made: str, last: str, meeting: str
) -> None:
    [lapse] = followed(folder, {"components[1].made": made}).lapses
    assert told(lapse)[:4] == ("6", "belts", last, meeting)


def test_what_lapses_after_the_last_meeting_is_not_told(folder: PackFolder) -> None:
    assert followed(folder, {"components[1].made": "2021-09"}).lapses == ()


def test_a_last_day_on_a_meeting_is_good_for_it(tmp_path: Path) -> None:
    text = PACK.replace("end_of_month(made) + 5 years", "made + 5 years")
    (tmp_path / "edition.yaml").write_text(text)
    found = followed(open_folder(tmp_path), {"components[1].made": "2021-06-07"})
    assert [told(lapse)[2:4] for lapse in found.lapses] == [("2026-06-07", "2026-06-21")]


def test_a_limit_that_moves_with_the_day_is_followed_day_by_day(tmp_path: Path) -> None:
    (tmp_path / "edition.yaml").write_text(
        PACK.replace("at_most: 1400 mm", "at_most: 1400 mm if event.date <= 2026-06-12 else 1380 mm")
    )
    [lapse] = followed(open_folder(tmp_path), {"components[1].made": "2025-01"}).lapses
    assert told(lapse)[:4] == ("1", "", "2026-06-12", "2026-06-21")


def test_two_entries_of_one_clause_lapse_each_on_its_own_day(folder: PackFolder) -> None:
    old = {"name": "spare belts", "category": "safety/belts", "made": "2021-07"}
    found = followed(folder, {"components[1].made": "2021-05", "components[2]": old})
    assert [told(lapse)[1:4] for lapse in found.lapses] == [
        ("belts", "2026-05-31", "2026-06-07"),
        ("spare belts", "2026-07-31", "2026-08-02"),
    ]


def test_a_time_of_grace_ends(tmp_path: Path) -> None:
    earlier = "earlier: [{before: 2025-01-01, until: 2026-07-31, check: none}]"
    text = PACK.replace(
        "check: {limit: frame.width, at_most: 1400 mm}",
        f"check: {{limit: frame.width, at_most: 1380 mm}}, {earlier}",
    )
    (tmp_path / "edition.yaml").write_text(text)
    [lapse] = followed(open_folder(tmp_path), {"components[1].made": "2025-01"}).lapses
    assert told(lapse) == ("1", "", "2026-07-31", "2026-08-02", "the time for older cars ends on 2026-07-31")


def test_an_approval_ends(tmp_path: Path) -> None:
    (tmp_path / "edition.yaml").write_text(PACK)
    (tmp_path / "approvals.yaml").write_text(
        'approvals:\n  - {reference: A-1, clauses: ["1"], cars: ["7"], from: 2026-01-01, until: 2026-06-30,\n'
        "     reason: None are made}\n"
    )
    car = {"frame.width": "1450 mm", "approvals": ["A-1"], "components[1].made": "2025-01"}
    found = followed(open_folder(tmp_path), car)
    assert [told(lapse) for lapse in found.lapses] == [
        ("1", "", "2026-06-30", "2026-07-05", "approval A-1 ended on 2026-06-30")
    ]
    assert found.failing == ()


def test_a_new_edition_comes_into_force(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text(
        PACK.replace("{from: 2026-01-01}", "{from: 2026-01-01, until: 2026-06-30}")
    )
    later = PACK.replace('edition: "1"', 'edition: "2"').replace("{from: 2026-01-01}", "{from: 2026-07-01}")
    (tmp_path / "b.yaml").write_text(later.replace("at_most: 1400 mm", "at_most: 1380 mm"))
    [lapse] = followed(open_folder(tmp_path), {"components[1].made": "2025-01"}).lapses
    assert told(lapse) == ("1", "", "2026-06-30", "2026-07-05", "edition 2 is in force from 2026-07-01")


# --- the season ---------------------------------------------------------------------------------------------


def test_meetings_before_the_first_day_do_not_matter(folder: PackFolder) -> None:
    found = followed(folder, on=date(2026, 7, 5))
    assert [s.meeting.day.isoformat() for s in found.standings] == ["2026-07-05", "2026-08-02", "2026-09-06"]
    assert [o.clause.number for o in found.failing] == ["6"]


def test_a_first_day_before_any_rules_begins_with_the_first_meeting(folder: PackFolder) -> None:
    found = followed(folder, on=date(2025, 12, 1))
    assert [told(lapse)[2] for lapse in found.lapses] == ["2026-05-31"]
    assert found.failing == ()


def test_a_meeting_that_no_rules_cover_is_an_error(folder: PackFolder) -> None:
    with pytest.raises(InputError):
        season(car_document(), folder, [SeasonMeeting("Early", date(2025, 12, 24))], date(2025, 12, 1))


def test_a_season_that_is_over_has_no_meetings(folder: PackFolder) -> None:
    found = followed(folder, on=date(2026, 12, 1))
    assert (found.standings, found.lapses, found.number) == ((), (), "7")


@pytest.mark.parametrize(
    "made", quick_first(["2021-04", "2021-06", "2020-12", "2021-03", "2021-08", "2022-01"])
)
@pytest.mark.parametrize("width", ["1390 mm", "1410 mm"])
def test_what_lapses_is_met_on_its_last_day_and_fails_on_the_next(
    folder: PackFolder, made: str, width: str
) -> None:
    rules, document = pack(), car_document({"components[1].made": made, "frame.width": width})
    for lapse in season(document, folder, MEETINGS, SPRING).lapses:
        outcomes = [
            {o.clause.number: o.outcome for o in inspect_document(rules, document, day, "entrant").outcomes}
            for day in (lapse.last_day, lapse.last_day + timedelta(days=1), lapse.meeting.day)
        ]
        assert [outcome[lapse.clause.number] for outcome in outcomes] == ["pass", "fail", "fail"]
        earlier = [m for m in MEETINGS if SPRING <= m.day < lapse.meeting.day]
        assert all(m.day <= lapse.last_day for m in earlier)


@pytest.mark.parametrize(
    ("check", "because"),
    [
        (
            {
                "all_of": [
                    {"limit": "frame.width", "at_most": "1400 mm"},
                    {"limit": "frame.width", "at_most": "1380 mm", "since": "2026-05-10"},
                ]
            },
            "frame.width at most 1380 mm begins to bind, from 2026-05-10",
        ),
        (
            {
                "any_of": [
                    {"limit": "frame.width", "at_most": "1400 mm", "until": "2026-05-09"},
                    {"limit": "frame.width", "at_most": "1380 mm"},
                ]
            },
            "frame.width at most 1400 mm no longer binds, from 2026-05-10",
        ),
        (
            {"limit": "frame.width", "at_most": "1400 mm if event.date < 2026-05-10 else 1380 mm"},
            "frame.width at most 1400 mm if event.date < 2026-05-10 else 1380 mm turns on this day, from 2026-05-10",
        ),
    ],
)
def test_a_bound_with_days_is_named_with_its_day(tmp_path: Path, check: dict[str, Any], because: str) -> None:
    (tmp_path / "edition.yaml").write_text(json.dumps(edited({'clauses."1".check': check}).data, default=str))
    found = season(car_document(None), open_folder(tmp_path), MEETINGS, SPRING).lapses
    [lapse] = [one for one in found if one.clause.number == "1"]
    assert told(lapse) == ("1", "", "2026-05-09", "2026-05-24", because)
