"""A record that was carried on in two places: what only one side did goes on, what both did is shown and ruled on."""

from __future__ import annotations

import csv
import io
import os
import random
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Measured,
    Noted,
    Protested,
    Weighed,
)
from checker.meeting.record.car_day import CarDay
from checker.meeting.record.chain import canonical, hash_of, parsed
from checker.meeting.record.content_form import KINDS, read_content, to_plain
from checker.meeting.record.contents import (
    HERE,
    Brought,
    Merged,
    Struck,
)
from checker.meeting.record.signing import new_key
from checker.meeting.record.store import Store
from checker.meeting.session.gear import checked, named_gear
from checker.meeting.session.session import Meeting
from checker.meeting.standing.not_counting import not_counting
from checker.meeting.standing.standing import standings
from checker.meeting.standing.verifying import verify
from checker.meeting.tables.given import GivenFile
from checker.meeting.taking.carrying import carry
from checker.meeting.taking.closing import close, reopen
from checker.meeting.taking.correcting import strike
from checker.meeting.taking.draw import draw
from checker.meeting.taking.entering import enter, handed_in, withdraw
from checker.meeting.taking.measuring import Finding, announce, measure, note
from checker.meeting.taking.merging import ALL, SideRuling, TakenIn, merge
from checker.meeting.taking.opening import sign_on
from checker.meeting.taking.ruling import Ruling, protest, rule
from checker.reading.problems import InputError
from checker.report.meeting.export import meeting_tables
from checker.report.tables.text import as_csv
from tests.examples import quick_first
from tests.meeting.days import a_meeting, car_text, refused, shifted, weighed
from tests.meeting.processes import forked
from tests.meeting.records import MORNING, ToldClock
from tests.meeting.taking.test_importing import imported, row
from tests.meeting.tampering import forged, rows

CARS = {number: car_text(number, f"Bird {number}") for number in ("7", "8", "9")}
PARTED = 5
"""Opened, cars 7, 8 and 9 entered, and a weighing of car 9."""


@pytest.fixture(scope="module")
def common(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    folder = tmp_path_factory.mktemp("merging")
    with a_meeting(folder, CARS) as meeting:
        weighed(meeting, "9")
    data = (folder / "day.meeting").read_bytes()
    assert len(rows(folder / "day.meeting")) == PARTED
    return data


@pytest.fixture
def two(common: bytes, tmp_path: Path) -> tuple[Path, Path]:
    """Two copies of one record."""
    here, there = tmp_path / "here.meeting", tmp_path / "there.meeting"
    here.write_bytes(common)
    there.write_bytes(common)
    return here, there


@contextmanager
def opened(path: Path) -> Iterator[Meeting]:
    """A copy at work; no two clocks tell the same time."""
    start = MORNING + timedelta(minutes=30 if path.stem == "here" else 40)
    with Meeting.open(path, clock=ToldClock(start)) as meeting:
        yield meeting


def merged(here: Path, there: Path, **sides: str) -> TakenIn:
    """Merge, with a side for each car by its number, or for `all`."""
    rulings = {
        name if name == ALL else name.replace("_", " "): SideRuling(side, "seen")
        for name, side in sides.items()
    }
    with opened(here) as meeting:
        return merge(meeting, "KV", str(there), rulings)


def differing(error: pytest.ExceptionInfo[InputError]) -> list[str]:
    assert {problem.code for problem in error.value.problems} == {"MT222"}
    return [problem.message for problem in error.value.problems]


def test_disjoint_cars_go_on_with_their_own_times_and_both_records_stay_sound(two: tuple[Path, Path]) -> None:
    here, there = two
    with opened(here) as meeting:
        weighed(meeting, "7")
        weighed(meeting, "7")
    with opened(there) as meeting:
        weighed(meeting, "8")
        (number,) = measure(meeting, [Finding("8", "seals.sump", "SO 8")], "TB")
        measure(meeting, [Finding("8", "seals.sump", "SO 9", corrects=number, reason="misread")], "TB")
    before = there.read_bytes()
    assert merged(here, there) == TakenIn(PARTED, 3, 0)
    assert there.read_bytes() == before
    for path in two:
        assert verify(path).sound
    with Meeting.open(here, writing=False) as meeting, Meeting.open(there, writing=False) as other:
        brought, there_too = meeting.car("8").records, other.car("8").records
        assert [(r.at, r.by, r.there) for r in brought] == [(r.at, r.by, r.number) for r in there_too]
        assert brought[0].content == there_too[0].content
        corrected = meeting.car("8").facts()["seals.sump"]
        assert corrected.content.value == "SO 9"
        assert corrected.content.corrects == brought[0].number + 1
        assert len(meeting.car("7").records) == 2


def test_the_merged_record_goes_on_as_any_other(two: tuple[Path, Path]) -> None:
    here, there = two
    with opened(here) as meeting:
        weighed(meeting, "7")
    with opened(there) as meeting:
        weighed(meeting, "8")
    merged(here, there)
    with opened(here) as meeting:
        (record,) = meeting.car("8").records
        strike(meeting, record.number, "wrong car", "KV")
        weighed(meeting, "8")
        weighed(meeting, "8")
    assert verify(here).sound


def test_what_was_judged_there_is_judged_anew_with_what_was_recorded_here(two: tuple[Path, Path]) -> None:
    here, there = two
    with opened(here) as meeting:
        announce(meeting, "results.place", "winner", "KV", car="8")
    with opened(there) as meeting:
        announce(meeting, "results.carried", "9 kg", "KV", car="7")
        weighed(meeting, "8")
        weighed(meeting, "8")
        meeting.judge_and_record(meeting.car("8"), "TB")
        assert meeting.car("8").judged[-1].content.outcomes["8"] == "pass"
    with pytest.raises(InputError) as error:
        merged(here, there)
    assert differing(error)[0].startswith("car 8: here entry 6 (announced results.place winner, by KV")
    merged(here, there, car_8="both")
    with Meeting.open(here, writing=False) as meeting:
        last = meeting.day.last_judged(meeting.car("8"))
        assert last is not None
        assert meeting.car("8").judged[-1].there == 0
        assert last.outcomes["8"] == meeting.judgement(meeting.car("8")).as_content("").outcomes["8"]
    assert verify(here).sound


@pytest.fixture
def one_car(two: tuple[Path, Path]) -> tuple[Path, Path]:
    """Car 7 is weighed on both sides."""
    for path, heavier in zip(two, (0, 1), strict=True):
        with opened(path) as meeting:
            weighed(meeting, "7", shifted(front_left=heavier))
    return two


def test_a_car_that_both_weighed_is_shown_and_nothing_is_recorded(one_car: tuple[Path, Path]) -> None:
    here, there = one_car
    before = here.read_bytes()
    with pytest.raises(InputError) as error:
        merged(here, there)
    assert differing(error) == [
        "car 7: here entry 6 (weighed 155.0 kg, 141.0 kg, 153.0 kg, 141.0 kg, by TB, 07:30 UTC);"
        " there entry 6 (weighed 156.0 kg, 141.0 kg, 153.0 kg, 141.0 kg, by TB, 07:40 UTC)"
    ]
    assert "--ruling 'car 7' here REASON" in error.value.problems[0].hint
    assert here.read_bytes() == before


@pytest.mark.parametrize(
    ("side", "loads", "left"),
    [("here", ["155.0 kg"], 1), ("there", ["156.0 kg"], 0), ("both", ["155.0 kg", "156.0 kg"], 0)],
)
@pytest.mark.parametrize("name", quick_first(["car_7", "CAR_7", ALL], 1))
def test_a_ruling_says_which_side_stands(
    one_car: tuple[Path, Path], side: str, loads: list[str], left: int, name: str
) -> None:
    here, there = one_car
    assert merged(here, there, **{name: side}) == TakenIn(PARTED, 1, left)
    with Meeting.open(here, writing=False) as meeting:
        car = meeting.car("7")
        assert [r.content.loads["front_left"] for r in car.weighings("scrutineering")] == loads
        assert meeting.day.branches.merges[0].content.rulings == {"car 7": f"{side}: seen"}
    assert verify(here).sound


def test_what_does_not_count_is_told_with_its_reason(one_car: tuple[Path, Path]) -> None:
    here, there = one_car
    merged(here, there, car_7="here")
    with Meeting.open(here, writing=False) as meeting:
        (sentence,) = not_counting(meeting, meeting.car("7"))
        assert sentence.startswith(f"Entry 8 (entry 6 of {there}) was left out by KV in entry 7, at ")
        assert sentence.endswith(": seen.")


def test_what_was_left_out_cannot_be_corrected(one_car: tuple[Path, Path]) -> None:
    here, there = one_car
    merged(here, there, car_7="here")
    with opened(here) as meeting, pytest.raises(InputError) as error:
        strike(meeting, 8, "again", "KV")
    assert error.value.problems[0].message == "entry 8 no longer counts since entry 7"


def test_both_cannot_stand_where_the_rules_refuse_it(two: tuple[Path, Path]) -> None:
    here, there = two
    for path in two:
        with opened(path) as meeting:
            weighed(meeting, "7")
            weighed(meeting, "7")
    with pytest.raises(InputError) as error:
        merged(here, there, all="both")
    assert "both cannot stand: car 7 has been weighed twice at scrutineering" in differing(error)[0]
    assert merged(here, there, car_7="there").left == 0
    assert verify(here).sound


def test_a_car_that_withdrew_here_and_was_weighed_there_is_ruled_on(two: tuple[Path, Path]) -> None:
    here, there = two
    with opened(here) as meeting:
        withdraw(meeting, "8", "gearbox", "KV")
    with opened(there) as meeting:
        weighed(meeting, "8")
    with pytest.raises(InputError) as error:
        merged(here, there, all="both")
    assert "both cannot stand: car 8 has withdrawn: gearbox" in differing(error)[0]
    assert merged(here, there, car_8="here").left == 1
    assert verify(here).sound


def test_one_pad_checked_on_both_sides_differs_and_another_does_not(two: tuple[Path, Path]) -> None:
    def check(meeting: Meeting, pad: str, shown: str) -> None:
        content = checked(named_gear(meeting.gear, "pads"), pad, "20 kg", shown)
        meeting.record("TB", lambda _: [content])

    here, there = two
    with opened(here) as meeting:
        check(meeting, "front_left", "20 kg")
    with opened(there) as meeting:
        check(meeting, "rear_left", "20 kg")
        check(meeting, "front_left", "22 kg")
    with pytest.raises(InputError) as error:
        merged(here, there)
    (words,) = differing(error)
    assert words.startswith("pads front_left: here entry 6 (gear checked 20 kg shows 20 kg, by TB")
    with opened(here) as meeting:
        merge(meeting, "KV", str(there), {"pads front_left": SideRuling("there", "the mass was ours")})
        assert [(c.content.pad, c.content.good) for c in meeting.day.gear_checks] == [
            ("rear_left", True),
            ("front_left", False),
        ]
    assert verify(here).sound


def test_a_bad_check_here_puts_what_was_weighed_there_before_it_in_doubt(two: tuple[Path, Path]) -> None:
    here, there = two
    with opened(there) as meeting:
        weighed(meeting, "8")
    with Meeting.open(here, clock=ToldClock(ToldClock().now.replace(hour=9))) as meeting:
        content = checked(named_gear(meeting.gear, "pads"), "front_left", "20 kg", "22 kg")
        meeting.record("TB", lambda _: [content])
        again = checked(named_gear(meeting.gear, "pads"), "front_left", "20 kg", "20 kg")
        meeting.record("TB", lambda _: [again])
    merged(here, there)
    with Meeting.open(here, writing=False) as meeting:
        doubted = {one.car: one.doubt for one in standings(meeting)}
        assert doubted["8"] is not None
        assert doubted["8"].check.content.good is False


def test_a_protest_taken_on_either_side_stands_whatever_is_ruled(two: tuple[Path, Path]) -> None:
    here, there = two
    with opened(here) as meeting:
        weighed(meeting, "7")
    with opened(there) as meeting:
        weighed(meeting, "7")
        protest(meeting, Protested("7", "1", "too light", "8"), "KV")
    assert merged(here, there, car_7="here") == TakenIn(PARTED, 2, 1)
    with Meeting.open(here, writing=False) as meeting:
        assert [p.content.text for p in meeting.car("7").open_protests()] == ["too light"]
    assert verify(here).sound


def test_a_day_closed_on_one_side_is_ruled_on_and_closed_anew(two: tuple[Path, Path]) -> None:
    here, there = two
    with opened(here) as meeting:
        weighed(meeting, "7")
    with opened(there) as meeting:
        weighed(meeting, "8")
        close(meeting, "TB")
    with pytest.raises(InputError) as error:
        merged(here, there)
    assert [words.partition(":")[0] for words in differing(error)] == ["closing"]
    merged(here, there, closing="here")
    with opened(here) as meeting:
        assert meeting.day.closed is None
        close(meeting, "KV")
    assert verify(here).sound


def test_a_day_closed_here_is_reopened_with_a_reason_first(two: tuple[Path, Path]) -> None:
    here, there = two
    with opened(there) as meeting:
        weighed(meeting, "8")
    with opened(here) as meeting:
        close(meeting, "TB")
    with pytest.raises(InputError) as error:
        merged(here, there)
    assert refused(error) == "MT201"
    with opened(here) as meeting:
        reopen(meeting, "a second laptop", "KV")
    assert merged(here, there).brought == 1
    assert verify(here).sound


def test_what_both_were_told_alike_is_no_difference(two: tuple[Path, Path]) -> None:
    here, there = two
    for path in two:
        with opened(path) as meeting:
            announce(meeting, "event.wet", "yes", "KV")
    with opened(there) as meeting:
        weighed(meeting, "8")
    assert merged(here, there) == TakenIn(PARTED, 2, 1)
    assert verify(here).sound


def test_a_record_that_went_on_after_it_was_merged_is_merged_again(two: tuple[Path, Path]) -> None:
    here, there = two
    with opened(here) as meeting:
        weighed(meeting, "7")
    for number in ("8", "9"):
        with opened(there) as meeting:
            weighed(meeting, number)
        assert merged(here, there).brought == 1
    with Meeting.open(here, writing=False) as meeting:
        assert len(meeting.car("9").weighings("scrutineering")) == 2
        assert len(meeting.day.branches.tips) == 1
    assert verify(here).sound


def test_what_is_no_copy_or_has_nothing_new_is_refused(two: tuple[Path, Path], tmp_path: Path) -> None:
    here, there = two
    told: list[str] = []

    def refuse(one: Path, other: Path) -> None:
        with pytest.raises(InputError) as error:
            merged(one, other)
        assert refused(error) == "MT221"
        told.append(error.value.problems[0].message)

    refuse(here, there)
    with opened(there) as meeting:
        weighed(meeting, "8")
    refuse(here, there)
    refuse(there, here)
    with opened(here) as meeting:
        weighed(meeting, "7")
    shutil.copy(here, tmp_path / "third.meeting")
    with opened(tmp_path / "third.meeting") as meeting:
        weighed(meeting, "7")
    merged(here, there)
    refuse(tmp_path / "third.meeting", here)
    (tmp_path / "another").mkdir()
    a_meeting(tmp_path / "another", on="2026-05-04").store.close()
    refuse(here, tmp_path / "another" / "day.meeting")
    forged(there, "XX", Struck(6, "by nobody"))
    refuse(here, there)
    assert told == [
        "this record has all that the other has",
        "nothing was recorded here since the other was copied",
        "this record has all that the other has",
        "the other record has taken in a third",
        "the other is the record of another meeting",
        told[-1],
    ]
    assert "is not sound: entry 7 (struck) could not have been recorded" in told[-1]


def test_a_ruling_on_what_does_not_differ_is_refused(one_car: tuple[Path, Path]) -> None:
    here, there = one_car
    for sides, code in (({"car_72": "here"}, "MT222"), ({"car_7": "where"}, "MT222")):
        with pytest.raises(InputError) as error:
            merged(here, there, **{"car_7": "here", **sides})
        assert refused(error) == code
    with pytest.raises(InputError) as error, opened(here) as meeting:
        merge(meeting, "KV", str(there), {"car 7": SideRuling(HERE, " ")})
    assert refused(error) == "MT206"


def test_a_hash_from_paper_of_the_merged_record_is_known(two: tuple[Path, Path]) -> None:
    here, there = two
    with opened(here) as meeting:
        weighed(meeting, "7")
    with opened(there) as meeting:
        weighed(meeting, "8")
        printed = meeting.day.hash
    merged(here, there)
    (matched,) = verify(here, [printed]).matched
    assert (matched.number, matched.there, matched.following) == (8, 6, 0)


def forge(change: Callable[[dict[str, Any]], None]) -> Callable[[list[Any]], list[Any]]:
    def forging(contents: list[Any]) -> list[Any]:
        brought = contents[-1]
        line = {**brought.entry}
        change(line)
        return [*contents[:-1], replace(brought, entry=line, hash=hash_of(canonical(line)))]

    return forging


def heavier(line: dict[str, Any]) -> None:
    loads = {**line["content"]["loads"], "front_left": "175.0 kg"}
    line["content"] = {**line["content"], "loads": loads}


@pytest.mark.parametrize(
    ("forging", "told"),
    quick_first(
        [
            (forge(heavier), "otherwise than it was written"),
            (forge(lambda line: line.update(at="2026-05-03T06:00:00.000Z")), "otherwise than it was written"),
            (forge(lambda line: line.update(number=7)), "does not follow there"),
            (forge(lambda line: line.update(previous="0" * 64)), "follows nothing here"),
            (forge(lambda line: line.update(at="noon")), "bears no time"),
            (forge(lambda line: line.update(kind="opened")), "entry 6"),
            (forge(lambda line: line.pop("by")), "is no entry"),
            (lambda contents: contents[:1], "are missing"),
            (lambda contents: contents[1:], "none is being merged"),
            (lambda contents: [*contents, contents[-1]], "none is being merged"),
            (lambda contents: [contents[0], replace(contents[1], entry={"a": [{}]})], "is no entry"),
        ],
        4,
    ),
)
def test_a_forged_merge_is_not_sound(
    two: tuple[Path, Path], tmp_path: Path, forging: Callable[[list[Any]], list[Any]], told: str
) -> None:
    here, there = two
    with opened(here) as meeting:
        weighed(meeting, "7")
    with opened(there) as meeting:
        weighed(meeting, "8")
    sound = tmp_path / "sound.meeting"
    shutil.copy(here, sound)
    merged(sound, there)
    contents = [read_content(entry) for entry in rows(sound)[-2:]]
    assert [type(content) for content in contents] == [Merged, Brought]
    for content in forging(list(contents)):
        forged(here, "KV", content)
    found = verify(here)
    assert not found.sound
    assert told in " ".join(fault.message for fault in found.faults)


def test_a_record_that_was_rebuilt_whole_before_it_was_merged_is_verified_as_its_own(
    two: tuple[Path, Path],
) -> None:
    """A verdict that does not come out there is found, though here it was worked out anew."""
    here, there = two
    with opened(here) as meeting:
        weighed(meeting, "7")
    with opened(there) as meeting:
        weighed(meeting, "8")
        weighed(meeting, "8")
        verdict = meeting.judgement(meeting.car("8")).as_content("test")
    forged(there, "TB", replace(verdict, complies="no", outcomes={**verdict.outcomes, "1": "fail"}))
    with opened(here) as meeting:
        entries = rows(there)[PARTED:]
        contents = [Brought(parsed(e.text), e.hash) for e in entries]
        head = Merged("there", entries[-1].hash, len(entries), {})
        meeting.record("KV", lambda _: [head, *contents])
    found = verify(here)
    assert [fault.code for fault in found.faults] == ["MT406", "MT406"]
    assert found.faults[0].message.startswith(
        "in the record merged from entry 8 on: entry 8, car 8: clause 1"
    )


def test_a_merge_is_recorded_whole_or_not_at_all(two: tuple[Path, Path]) -> None:
    """Killed between any two rows of it, the record is as it was."""
    here, there = two
    with opened(here) as meeting:
        weighed(meeting, "7")
    with opened(there) as meeting:
        weighed(meeting, "8")
        weighed(meeting, "8")
    before = [entry.hash for entry in rows(here)]
    for rows_written in range(3):

        def work(_: int, left: int = rows_written) -> None:
            from checker.meeting.record import chain
            from checker.meeting.record import rows as written

            counted = [left]
            linked = chain.linked

            def dying(*arguments: Any) -> Any:
                if not counted[0]:
                    os._exit(9)
                counted[0] -= 1
                return linked(*arguments)

            setattr(written, "linked", dying)  # noqa: B010
            merged(here, there)

        process, reading = forked(work)
        os.waitpid(process, 0)
        os.close(reading)
        with Store.open(here) as store:
            assert [entry.hash for entry in store.entries()] == before
    assert merged(here, there).brought == 2
    assert verify(here).sound


def test_signatures_of_both_sides_are_kept_and_verified(two: tuple[Path, Path], tmp_path: Path) -> None:
    pytest.importorskip("cryptography")
    here, there = two
    signer = new_key(str(tmp_path / "tb.key"), "four wet tyres")
    with opened(there) as meeting:
        sign_on(meeting, "TB", "KV", signer.public)
        meeting.signer = signer
        weighed(meeting, "8")
    with opened(here) as meeting:
        weighed(meeting, "7")
    shutil.copy(here, forged_one := tmp_path / "forged.meeting")
    merged(here, there)
    assert verify(here).sound
    contents: list[Any] = [read_content(entry) for entry in rows(here)[-3:]]
    assert contents[-1].signed
    for signed in ("", "ab" * 64):
        shutil.copy(forged_one, path := tmp_path / f"{len(signed)}.meeting")
        for content in (*contents[:-1], replace(contents[-1], signed=signed)):
            forged(path, "KV", content)
        found = verify(path)
        assert [fault.code for fault in found.faults] == ["MT412"]
        with Meeting.open(path, writing=False) as meeting:
            assert [fault.code for fault in meeting.faults] == ([] if signed else ["MT412"])
    with opened(here) as meeting:
        meeting.signer = signer
        weighed(meeting, "8")
    assert verify(here).sound


@pytest.fixture
def full(common: bytes, tmp_path: Path) -> Path:
    """The common beginning carried on with everything that can be recorded, save a merge."""
    path = tmp_path / "full.meeting"
    path.write_bytes(common)
    home = tmp_path / "late"
    home.mkdir()
    (home / "10.yaml").write_text(car_text("10", "Late"))
    results = tmp_path / "results.csv"
    results.write_text("place,car\n1,9\n")
    with opened(path) as meeting:
        sign_on(meeting, "AL", "KV")
        enter(meeting, handed_in(meeting, [home]), "AL")
        announce(meeting, "event.wet", "yes", "KV")
        announce(meeting, "results.place", "winner", "KV", car="8")
        check = checked(named_gear(meeting.gear, "pads"), "rear_left", "20 kg", "22 kg")
        meeting.record("TB", lambda _: [check])
        weighed(meeting, "9", shifted(front_left=-20))
        weighed(meeting, "9", again="the pads failed")
        meeting.judge_and_record(meeting.car("9"), "TB")
        imported(meeting, tmp_path, row("8"))
        (number,) = measure(meeting, [Finding("8", "seals.sump", "SO 8")], "KV")
        strike(meeting, number, "another car", "KV")
        note(meeting, [Noted("8", SCRUTINEERING, "lost", "", part="wing")], "TB")
        ruling = Ruling("9", "3", "reject", "seen", protest(meeting, Protested("9", "3", "too low"), "KV"))
        rule(meeting, ruling, "AL", str)
        carry(meeting, "KV", results=GivenFile.read(results))
        draw(meeting, "KV", purpose="order", sample=2)
        withdraw(meeting, "7", "gearbox", "KV")
        close(meeting, "KV")
        reopen(meeting, "one more", "KV")
    kinds = {entry.kind for entry in rows(path)}
    assert kinds == KINDS.keys() - {Merged.KIND, Brought.KIND}
    return path


def said_of(car: CarDay) -> list[dict[str, object]]:
    """What counts of a car, without the numbers of entries."""
    contents = [to_plain(record.content) for record in (*car.records, *car.judged, car.entered)]
    return [
        {k: v for k, v in content.items() if k not in ("corrects", "rests_on", "protest")}
        for content in contents
    ]


def test_every_kind_of_entry_goes_on(two: tuple[Path, Path], full: Path) -> None:
    here, _ = two
    with opened(here) as meeting:
        draw(meeting, "KV", purpose="pits")
    taken = merged(here, full, closing="here")
    assert taken == TakenIn(PARTED, len(rows(full)) - PARTED, 2)
    assert verify(here).sound
    with Meeting.open(here, writing=False) as meeting, Meeting.open(full, writing=False) as other:
        day, there = meeting.day, other.day
        assert day.officials == there.officials
        assert list(day.cars) == list(there.cars)
        for key, car in there.cars.items():
            said = said_of(day.cars[key])
            assert [one for one in said_of(car) if one not in said] == []
            assert day.cars[key].withdrawn == car.withdrawn
        assert [c.content for c in day.gear_checks] == [c.content for c in there.gear_checks]
        assert [a.content for a in day.announced] == [a.content for a in there.announced]


@pytest.mark.parametrize("table", ["weighings", "measurements", "entries"])
def test_tables_tell_what_was_brought_by_its_own_time(two: tuple[Path, Path], table: str) -> None:
    here, there = two
    with opened(here) as meeting:
        weighed(meeting, "7")
    with opened(there) as meeting:
        weighed(meeting, "8")
        measure(meeting, [Finding("8", "seals.sump", "SO 8")], "KV")
    merged(here, there)
    with Meeting.open(here, writing=False) as meeting:
        lines = list(csv.DictReader(io.StringIO(as_csv(meeting_tables(meeting)[table]))))
        eight = [line for line in lines if line["car"] == "8"]
        assert eight
        times = {record.at for record in meeting.car("8").records}
        assert table == "entries" or {line["time"] for line in eight} <= times


def work(meeting: Meeting, cars: tuple[str, ...], chance: random.Random) -> None:
    """A random step of an official's day on one of these cars; one that is refused leaves nothing behind."""
    car, by = chance.choice(cars), chance.choice(("KV", "TB"))
    readings = [r.number for r in meeting.car(car).records if isinstance(r.content, Weighed | Measured)]
    with suppress(InputError):
        match chance.randrange(7):
            case 0 | 1 | 2:
                weighed(meeting, car, shifted(front_left=chance.randrange(3) / 2))
            case 3:
                measure(meeting, [Finding(car, "seals.sump", f"SO {chance.choice(cars)}")], by)
            case 4:
                strike(meeting, readings[-1] if readings else 0, "misread", by)
            case 5:
                protest(meeting, Protested(car, "3", "too low"), by)
            case _:
                rule(meeting, Ruling(car, "3", chance.choice(("allow", "reject", "stand")), "seen"), by, str)
        meeting.judge_and_record(meeting.car(car), by)


def told_of(path: Path) -> dict[str, Any]:
    """What counts of every car, and what was judged last."""
    found: dict[str, Any] = {}
    with Meeting.open(path, writing=False) as meeting:
        for car in meeting.day.cars.values():
            last = meeting.day.last_judged(car)
            counting = [said for said in said_of(car) if "outcomes" not in said]
            found[car.number] = counting, (last.outcomes, last.margins) if last else None
    return found


@pytest.mark.parametrize("seed", quick_first(range(4), 0))
def test_of_disjoint_cars_either_merge_comes_to_what_one_record_would_say(
    common: bytes, tmp_path: Path, seed: int
) -> None:
    """Played on two records and merged either way, or on one record in turn: every car stands the same."""
    chance = random.Random(seed)
    paths = {name: tmp_path / f"{name}.meeting" for name in ("here", "there", "one")}
    for path in paths.values():
        path.write_bytes(common)
    for _ in range(14):
        side, step = chance.choice(("here", "there")), chance.randrange(10**6)
        for name in (side, "one"):
            with opened(paths[name]) as meeting:
                work(meeting, ("7",) if side == "here" else ("8", "9"), random.Random(step))
    here, there = (tmp_path / f"{side} with the other.meeting" for side in ("here", "there"))
    shutil.copy(paths["here"], here)
    shutil.copy(paths["there"], there)
    merged(here, paths["there"])
    merged(there, paths["here"])
    assert verify(here).sound
    assert verify(there).sound
    assert told_of(here) == told_of(there) == told_of(paths["one"])
