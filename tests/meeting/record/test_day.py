from __future__ import annotations

from datetime import timedelta

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Entered,
    Measured,
    Weighed,
    Withdrawn,
)
from checker.meeting.record.chain import FIRST, RecordEntry, canonical, linked
from checker.meeting.record.content_form import NotReadable, to_plain
from checker.meeting.record.contents import (
    Announced,
    Closed,
    Content,
    Reopened,
    Struck,
)
from checker.meeting.record.day import Day, begin
from tests.examples import each_row
from tests.meeting.records import opened


def chain(*contents: Content, at: str = "2026-05-03T07:00:00.000Z") -> list[RecordEntry]:
    """A record that opens a meeting and then says these things."""
    first = opened()
    entries = [linked(1, first.kind, at, "KV", canonical(dict(first.content)), FIRST)]
    for number, content in enumerate(contents, start=2):
        text = canonical(to_plain(content))
        entries.append(linked(number, content.KIND, at, "KV", text, entries[-1].hash))
    return entries


def replay(entries: list[RecordEntry]) -> Day:
    made = begin(entries[0])
    for entry in entries[1:]:
        made.add(entry)
    return made


def day(*contents: Content) -> Day:
    return replay(chain(*contents))


CAR = Entered("07", "Ruff", "d" * 64, "ruff.yaml")


def weighed(total: str = "590 kg", **more: object) -> Weighed:
    plain = {"gear": "", "pads": "", "fuel": "6 L", "driver": "out", "tyres": "dry", "wear": "new"}
    fixed: dict[str, object] = {"car": "07", "occasion": SCRUTINEERING, "loads": {"total": total}}
    return Weighed(**{**plain, **fixed, **more})  # type: ignore[arg-type]


def test_cars_are_known_by_their_numbers_as_entered() -> None:
    found = day(CAR, Entered("7", "Knot", "e" * 64, "knot.yaml"))
    assert [car.number for car in found.cars.values()] == ["07", "7"]
    assert found.car(" 07 ") is found.cars["07"]
    assert found.car("8") is None


def test_a_car_entered_again_is_back_with_its_new_declaration_and_its_old_readings() -> None:
    again = Entered("07", "Ruff II", "f" * 64, "b.yaml", reason="back")
    found = day(CAR, weighed(), Withdrawn("07", "engine"), again)
    car = found.cars["07"]
    assert (car.name, car.withdrawn, len(car.weighings(SCRUTINEERING))) == ("Ruff II", "", 1)
    assert car.touched == 5


def test_corrections_stand_in_the_place_of_what_they_correct() -> None:
    found = day(CAR, weighed("590 kg"), weighed("591 kg"), weighed("589 kg", corrects=3, reason="slip"))
    records = found.cars["07"].weighings(SCRUTINEERING)
    assert [(r.number, r.place, r.content.loads["total"]) for r in records] == [
        (5, 3, "589 kg"),
        (4, 4, "591 kg"),
    ]
    assert found.gone_by(3) == 5
    assert found.gone_by(4) is None


def test_a_re_weighing_begins_a_new_set_on_its_own_occasion() -> None:
    found = day(CAR, weighed(), weighed(again="why"), weighed(), weighed(occasion="after the final"))
    car = found.cars["07"]
    assert [len(s) for s in car.sets(SCRUTINEERING)] == [1, 2]
    assert car.occasions() == (SCRUTINEERING, "after the final")
    assert car.latest_occasion() == "after the final"
    assert car.weighings("never") == []


def test_what_bears_on_a_car_is_the_newest_of_its_own_and_of_what_is_announced() -> None:
    found = day(CAR, weighed(), Announced("event.wet", "yes"), Announced("event.wet", "no", "99"))
    assert found.bearing(found.cars["07"]) == 4
    struck = day(CAR, weighed(), weighed(), Struck(3, "slip"))
    assert struck.bearing(struck.cars["07"]) == 5
    assert len(struck.cars["07"].records) == 1


def test_a_meeting_may_be_closed_and_opened_again() -> None:
    assert day(Closed({})).closed is not None
    assert day(Closed({}), Reopened("protest")).closed is None


def test_a_clock_set_back_is_measured_against_the_latest_time_so_far() -> None:
    entries = chain(CAR)
    for hour in (9, 8, 10):
        text = canonical(to_plain(weighed()))
        at = f"2026-05-03T{hour:02}:00:00.000Z"
        entries.append(linked(len(entries) + 1, "weighed", at, "KV", text, entries[-1].hash))
    found = replay(entries)
    assert found.set_back == [(4, timedelta(hours=1))]
    assert found.latest_at == "2026-05-03T10:00:00.000Z"


@each_row(
    "contents",
    [
        (weighed(),),
        (Withdrawn("07", "x"),),
        (CAR, weighed(corrects=9, reason="x")),
        (CAR, weighed(), Measured("07", SCRUTINEERING, "a.b", "1", corrects=3, reason="x")),
        (CAR, weighed(), weighed(corrects=3, reason="x"), weighed(corrects=3, reason="x")),
        (CAR, weighed(), Struck(3, "x"), Struck(3, "x")),
        (CAR, Struck(2, "x")),
    ],
)
def test_what_cannot_follow_is_told(contents: tuple[Content, ...]) -> None:
    with pytest.raises(NotReadable, match="entry"):
        day(*contents)


def test_a_record_that_does_not_open_a_meeting_is_told() -> None:
    with pytest.raises(NotReadable, match="does not open"):
        replay([linked(1, "closed", "2026-05-03T07:00:00.000Z", "KV", '{"tally":{}}', FIRST)])
    twice = [*chain(), *[linked(2, e.kind, e.at, e.by, e.content, e.hash) for e in chain()]]
    with pytest.raises(NotReadable, match="open already"):
        replay(twice)


@pytest.mark.parametrize("at", ["", "yesterday", "2026-05-03T07:00"])
def test_an_entry_without_a_time_is_told(at: str) -> None:
    entries = chain(CAR)
    entries[1] = linked(2, "entered", at, "KV", entries[1].content, entries[0].hash)
    with pytest.raises(NotReadable, match="bears no time"):
        replay(entries)
