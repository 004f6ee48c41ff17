"""Whom a change affects: two packs, one car, one day."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.editions.loading import build_pack, read_pack_document
from checker.pack.model import Pack
from checker.reading.document import Document, Edit
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.report.change.affected import affected_document, car_data
from checker.report.change.affected_text import affected_text, tasks, todo_text
from checker.report.change.tables import affected_tables
from checker.report.page import Page
from checker.report.words.acts import act_words
from checker.studies.change.affected import Affected, ClauseEffect, Comparator, Deadline, binding_from
from checker.studies.change.pairing import Pair
from checker.studies.change.tally import HARDEST, Fleet, counting
from checker.verdict.run import inspect_document
from tests.examples import each_row
from tests.fleet import cars
from tests.studies.packs import CAR, DAY, PACK, car_document, pack

DUNLIN = "rulepacks/dunlin/2026.1.yaml"


def affected(old: Pack, new: Pack, car: dict[str, Any] | None = None, on: date = DAY) -> Affected:
    return Comparator(old, new, audience="entrant", on=on).judge(car_document(car), "car.yaml")


def effect(old: Pack, new: Pack, car: dict[str, Any] | None = None, on: date = DAY) -> ClauseEffect:
    [only] = affected(old, new, car, on).effects
    return only


NARROWER: dict[str, Any] = {'clauses."1".check.at_most': "1380 mm"}


def test_a_tighter_clause_newly_fails_with_its_act() -> None:
    found = effect(pack(), pack(NARROWER))
    assert (found.before, found.after, found.newly_fails, found.no_longer_fails) == (
        "pass",
        "fail",
        True,
        False,
    )
    assert act_words(found.act) == "lower width by 10 mm"
    assert found.margin_before is not None
    assert found.margin_after is not None
    assert (found.margin_before.value, found.margin_after.value) == (10, -10)


def test_a_looser_clause_no_longer_fails() -> None:
    found = effect(pack(NARROWER), pack())
    assert (found.no_longer_fails, found.newly_fails, found.is_change) == (True, False, True)


def test_a_clause_that_came_and_one_that_went() -> None:
    old, new = pack({'clauses."7"': None}), pack({'clauses."1"': None})
    went = affected(old, new).effects
    assert [(e.pair, e.before, e.after) for e in went] == [
        (Pair(None, "7"), "no_clause", "pass"),
        (Pair("1", None), "pass", "no_clause"),
    ]


def test_what_was_met_and_is_no_longer_shown_is_in_doubt() -> None:
    new = pack({'clauses."7".check.holds': "body.sound and spare.size > 0 mm"})
    found = effect(pack(), new)
    assert (found.now_in_doubt, found.newly_fails) == (True, False)


def test_a_car_in_doubt_is_named_and_told_what_to_state() -> None:
    old, new = pack(), pack({'clauses."7".check.holds': "body.sound and spare.size > 0 mm"})
    comparator = Comparator(old, new, audience="entrant", on=DAY)
    fleet = Fleet(comparator.pairs)
    fleet.add(comparator.judge(car_document(), "car.yaml"), counting(old, new, comparator.pairs))
    assert (fleet.in_doubt, fleet.newly_failing, fleet.changing) == (1, 0, 1)
    document = affected_document(comparator, fleet, 0)
    ((effect,),) = [car["effects"] for car in document["named"]]
    assert (effect["before"], effect["after"], effect["not_shown"]) == (
        "pass",
        "not_shown",
        ["spare.size is not stated"],
    )
    page = Page(80)
    affected_text(document, page)
    assert "7 Body: met, now not declared" in page.text()
    assert "say more: spare.size is not stated" in page.text()
    assert "1 met a clause that counts and is now in doubt of it." in page.text()
    (task,) = tasks(car_data(comparator.judge(car_document(), "car.yaml"), old, new))
    assert (task[1]["clause"], task[2]["act"]) == ("7", "say more: spare.size is not stated")


@each_row(
    ("before", "after", "named"),
    [
        ("pass", "fail", True),
        ("fail", "pass", True),
        ("pass", "not_shown", True),
        ("fail", "too_close", True),
        ("too_close", "not_shown", True),
        ("no_clause", "not_shown", True),
        ("pass", "not_applicable", False),
        ("no_clause", "pass", False),
        ("fail", "fail", False),
    ],
)
def test_every_car_whose_outcome_changes_is_named(before: str, after: str, named: bool) -> None:
    found = ClauseEffect(Pair("1", "1"), before, after)
    fleet = Fleet((found.pair,))
    fleet.add(Affected("car.yaml", "7", "", DAY, "entrant", (found,)), frozenset({found.pair}))
    assert [car.number for car in fleet.named] == (["7"] if named else [])


def test_packs_of_other_words_each_read_the_declaration() -> None:
    new = pack({'facts."spare.size".default': "3 mm", 'clauses."7".check.holds': "spare.size > 1 mm"})
    assert effect(pack(), new).after == "pass"


def test_a_declaration_that_one_pack_cannot_read_is_refused() -> None:
    new = pack({'facts."body.sound"': None, 'clauses."7"': None})
    with pytest.raises(InputError):
        affected(pack(), new)


EARLIER: dict[str, Any] = {
    'clauses."1".earlier': [
        {"before": "2022-01-01", "until": "2026-08-31", "check": "none"},
        {
            "before": "2025-01-01",
            "until": "2026-10-31",
            "check": {"limit": "frame.width", "at_most": "1400 mm"},
        },
    ]
}


STEPPED: dict[str, Any] = {
    'clauses."1".check': {
        "all_of": [
            {"limit": "frame.width", "at_most": "1400 mm", "until": "2026-10-31"},
            {"limit": "frame.width", "at_most": "1380 mm", "since": "2026-11-01"},
        ]
    }
}


def test_a_bound_that_begins_to_bind_later_is_told_with_its_day() -> None:
    later = effect(pack(), pack(STEPPED)).later
    assert later is not None
    assert later.until == date(2026, 10, 31)
    assert later.margin is not None
    assert later.margin.value == -10


@pytest.mark.parametrize(
    ("built", "on", "until"),
    [
        ("2023-04-01", date(2026, 7, 5), date(2026, 10, 31)),
        ("2021-04-01", date(2026, 7, 5), date(2026, 10, 31)),
        ("2023-04-01", date(2026, 10, 31), date(2026, 10, 31)),
    ],
)
def test_a_car_under_a_transition_learns_when_it_ends_and_what_then(
    built: str, on: date, until: date
) -> None:
    found = effect(pack(), pack(NARROWER | EARLIER), {"car.chassis_built": built}, on)
    assert (found.after in ("pass", "not_applicable"), found.fails_later) == (True, True)
    assert found.later is not None
    assert (found.later.until, act_words(found.later.act)) == (until, "lower width by 10 mm")


@pytest.mark.parametrize(
    ("car", "on"),
    [
        ({"car.chassis_built": "2025-04-01"}, date(2026, 7, 5)),
        ({"car.chassis_built": "2023-04-01"}, date(2026, 11, 1)),
        ({"car.chassis_built": "2023-04-01", "frame.width": "1370 mm"}, date(2026, 7, 5)),
    ],
)
def test_no_later_breach_is_told_of_a_car_that_fails_now_or_never(car: dict[str, Any], on: date) -> None:
    assert effect(pack(), pack(NARROWER | EARLIER), car, on).later is None


def test_a_clause_that_begins_later_is_told_with_the_day_before() -> None:
    new = pack(NARROWER | {'clauses."1".since': "2026-06-01"})
    found = effect(pack(), new)
    assert (found.after, found.fails_later) == ("not_applicable", True)
    assert found.later is not None
    assert found.later.until == date(2026, 5, 31)


_WIDE: dict[str, Any] = {"limit": "frame.width", "at_most": "1400 mm"}
_NARROW: dict[str, Any] = {"limit": "frame.width", "at_most": "1380 mm"}
_GENERAL: dict[str, Any] = {"title": "In its place", "instead_of": ["1"], "check": _WIDE}

EXCUSES: list[dict[str, Any]] = [
    {'clauses."1".check': {"any_of": [_WIDE | {"until": "2026-08-31"}, _NARROW]}},
    {
        'clauses."1".check': {
            "any_of": [_WIDE | {"until": "2026-07-31"}, _WIDE | {"until": "2026-08-31"}, _NARROW]
        }
    },
    {'clauses."1".check': {"all_of": [_WIDE, _NARROW | {"since": "2026-09-01"}]}},
    {'clauses."1".check': {"none_of": [{"limit": "frame.width", "above": "1380 mm", "since": "2026-09-01"}]}},
    {'clauses."1".check': _NARROW | {"unless": "event.date <= 2026-08-31"}},
    {'clauses."1".check': _NARROW | {"when": "month(event.date) >= 9"}},
    {'clauses."1".check.at_most': "1400 mm if event.date < 2026-09-01 else 1380 mm"},
    NARROWER | {'clauses."1".since': "2026-09-01"},
    NARROWER | {'clauses."1".earlier': [{"before": "2025-01-01", "until": "2026-08-31", "check": "none"}]},
    NARROWER | {'clauses."1a"': _GENERAL | {"until": "2026-08-31"}},
    NARROWER | {'clauses."1a"': _GENERAL | {"check": _WIDE | {"until": "2026-08-31"}}},
]


@pytest.mark.parametrize("change", EXCUSES)
def test_whatever_excuses_a_car_for_a_time_is_told_with_its_last_day(change: dict[str, Any]) -> None:
    old, new = pack(), pack(change)
    found = next(e for e in affected(old, new).effects if e.pair == Pair("1", "1"))
    assert found.later is not None
    assert found.later.until == date(2026, 8, 31)
    assert "10 mm" in act_words(found.later.act)
    judged = [
        inspect_document(new, car_document(), day, "entrant", only=["1"]).outcomes[0].outcome
        for day in (found.later.until, date(2026, 9, 1))
    ]
    assert (judged[0] != "fail", judged[1]) == (True, "fail")
    narrow = next(
        e for e in affected(old, new, {"frame.width": "1380 mm"}).effects if e.pair == Pair("1", "1")
    )
    assert narrow.later is None


DOUBT: dict[str, Any] = {"holds": "body.sound and spare.size > 0 mm"}


@pytest.mark.parametrize(
    "change",
    [
        {'clauses."7"': {"title": "Sound", "check": DOUBT, "since": "2026-09-01"}},
        {'clauses."7".check': {"all_of": [{"holds": "body.sound"}, DOUBT | {"since": "2026-09-01"}]}},
        {'clauses."7".check': DOUBT | {"unless": "event.date <= 2026-08-31"}},
    ],
)
def test_what_will_not_be_shown_once_an_excuse_ends_is_told(change: dict[str, Any]) -> None:
    old, new = pack(), pack(change)
    car = affected(old, new)
    found = next(e for e in car.effects if e.pair == Pair("7", "7"))
    assert (found.later, found.in_doubt_later) == (None, True)
    doubt = found.later_doubt
    assert doubt is not None
    assert (doubt.until, doubt.outcome, doubt.unknown.told()) == (
        date(2026, 8, 31),
        "not_shown",
        ("spare.size is not stated",),
    )
    comparator = Comparator(old, new, audience="entrant", on=DAY)
    fleet = Fleet(comparator.pairs)
    fleet.add(car, counting(old, new, comparator.pairs))
    assert (fleet.in_doubt_later, fleet.changing) == (1, 1)
    page = Page(100)
    affected_text(affected_document(comparator, fleet, 0), page)
    assert "met, not declared after 2026-08-31" in page.text()
    [(when, _, task)] = tasks(car_data(car, old, new))
    assert (when, task["act"]) == ("by 2026-08-31", "say more: spare.size is not stated")


def test_a_doubt_before_a_breach_is_told_beside_it() -> None:
    later = [DOUBT | {"since": "2026-09-01"}, {"holds": "not body.sound", "since": "2026-10-01"}]
    found = effect(pack(), pack({'clauses."7".check': {"all_of": [{"holds": "body.sound"}, *later]}}))
    assert found.later is not None
    assert found.later_doubt is not None
    assert (found.later.until, found.later_doubt.until) == (date(2026, 9, 30), date(2026, 8, 31))


def test_once_a_bulletin_for_a_time_has_ended_a_car_is_judged_by_the_text_after_it() -> None:
    relief = pack({'clauses."1".check.at_most': "1400 mm"})
    after = [(date(2026, 9, 1), pack(NARROWER))]
    comparator = Comparator(pack(NARROWER), relief, audience="entrant", on=DAY, after=after)
    [found] = comparator.judge(car_document(), "car.yaml").effects
    assert found.no_longer_fails
    assert found.later is not None
    assert (found.later.until, act_words(found.later.act)) == (date(2026, 8, 31), "lower width by 10 mm")
    text = [(date(2026, 9, 1), pack(STEPPED))]
    [found] = (
        Comparator(pack(NARROWER), relief, audience="entrant", on=DAY, after=text)
        .judge(car_document(), "car.yaml")
        .effects
    )
    assert found.later is not None
    assert found.later.until == date(2026, 10, 31)


SIZED: dict[str, Any] = {
    'facts."body.sound"': {"unit": "mm"},
    'clauses."7".check': {"limit": "body.sound", "at_least": "1 mm"},
}


def later(
    change: dict[str, Any], audience: str = "entrant", car: dict[str, Any] | None = None
) -> tuple[Comparator, Affected]:
    """The small rulebook with a narrower frame, and a text that comes into force in September."""
    comparator = Comparator(
        pack(), pack(NARROWER), audience=audience, on=DAY, after=[(date(2026, 9, 1), pack(NARROWER | change))]
    )
    return comparator, comparator.judge(car_document(car), "car.yaml")


def said(comparator: Comparator, car: Affected) -> tuple[dict[str, Any], str]:
    fleet = Fleet(comparator.pairs)
    fleet.add(car, counting(comparator.old, comparator.new, comparator.pairs))
    document, page = affected_document(comparator, fleet, 0), Page(100)
    affected_text(document, page)
    return document, page.text()


@pytest.mark.parametrize("width", ["1390 mm", "1370 mm"])
def test_a_car_that_a_later_text_cannot_read_is_told_as_one_that_cannot_be_judged(width: str) -> None:
    comparator, car = later(SIZED, car={"frame.width": width})
    assert car.unread is not None
    assert car.unread.since == date(2026, 9, 1)
    document, text = said(comparator, car)
    assert document["unread_later"] == 1
    assert document["named"][0]["unread"]["from"] == "2026-09-01"
    assert "from 2026-09-01 cannot be judged: body.sound" in " ".join(text.split())
    assert "1 will not be judged by a text that comes later" in text
    assert "No car is affected" not in text
    page = Page(100)
    todo_text(car_data(car, comparator.old, comparator.new), page)
    assert "from 2026-09-01 cannot be judged" in page.text()
    assert "Nothing: no clause" not in page.text()
    rows = list(affected_tables(document, [car_data(car, comparator.old, comparator.new)])["cars"].rows)
    assert [row for row in rows if "cannot be judged" in row]


def test_a_later_text_of_other_words_that_reads_the_car_leaves_nothing_to_tell() -> None:
    comparator, car = later({'facts."frame.height"': {"unit": "mm", "optional": True}})
    assert car.unread is None
    assert said(comparator, car)[0]["unread_later"] == 0


@pytest.mark.parametrize(
    "bound",
    [
        {'clauses."1".check.at_most': "1400 mm if event.date < 2026-09-01 else 1390.2 mm"},
        {
            'clauses."1".check': {
                "all_of": [
                    {"limit": "frame.width", "at_most": "1400 mm"},
                    {"limit": "frame.width", "at_most": "1390.2 mm", "since": "2026-09-01"},
                ]
            }
        },
    ],
)
def test_what_will_be_too_close_to_call_is_told(bound: dict[str, Any]) -> None:
    unsure: dict[str, Any] = {'facts."frame.width"': {"unit": "mm", "uncertainty": "0.7 mm"}}
    comparator = Comparator(pack(unsure), pack(unsure | bound), audience="entrant", on=DAY)
    car = comparator.judge(car_document(), "car.yaml")
    found = next(one for one in car.effects if one.pair == Pair("1", "1"))
    assert (found.after, found.in_doubt_later) == ("pass", True)
    assert found.later_doubt is not None
    assert (found.later_doubt.until, found.later_doubt.outcome) == (date(2026, 8, 31), "too_close")
    assert "met, too close after 2026-08-31" in said(comparator, car)[1]
    wide = comparator.judge(car_document({"frame.width": "1380 mm"}), "car.yaml")
    assert not any(one.in_doubt_later for one in wide.effects)


def test_officials_read_what_is_not_shown_in_their_own_words() -> None:
    new = pack({'clauses."7".check.holds': "body.sound and spare.size > 0 mm"})
    for audience, words in (("entrant", "not declared"), ("official", "not yet checked")):
        comparator = Comparator(pack(), new, audience=audience, on=DAY)
        car = comparator.judge(car_document(), "car.yaml")
        document, text = said(comparator, car)
        assert f"met, now {words}" in text.lower()
        data = car_data(car, comparator.old, comparator.new)
        [(_, _, task)] = tasks(data)
        assert words in task["why"].lower()
        rows = list(affected_tables(document, [data])["cars"].rows)
        assert words in rows[0]


def test_what_time_alone_brings_about_is_no_ending() -> None:
    """The belts lapse on 2026-05-31, before the older rule for older cars ends."""
    older: dict[str, Any] = {"within": "safety/belts", "valid": "end_of_month(made + 5 years)"}
    new = pack({'clauses."6".earlier': [{"before": "2025-01-01", "until": "2026-08-31", "check": older}]})
    assert effect(pack(), new).later is None


# --- the day from which it binds ----------------------------------------------------------------------------


def test_a_new_edition_binds_from_its_first_day() -> None:
    new = pack({"edition": "2", "in_force.from": "2027-03-01", **NARROWER})
    assert binding_from(pack(), new, Pair("1", "1")) == Deadline(
        date(2027, 3, 1), "edition 2 is in force from 2027-03-01"
    )
    assert binding_from(pack(), pack(NARROWER), Pair("1", "1")) is None


def test_a_bulletin_binds_from_its_own_first_day(tmp_path: Path) -> None:
    (tmp_path / "edition.yaml").write_text(PACK)
    (tmp_path / "bulletin.yaml").write_text(
        'bulletin: B1\namends: {pack: test, edition: "1"}\nin_force: {from: 2026-07-01}\nreason: For a test\n'
        'changes:\n  - {change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}\n'
    )
    folder = open_folder(tmp_path)
    old, new = load_pack(folder, date(2026, 6, 30)), load_pack(folder, date(2026, 7, 1))
    assert [p.number for p in Comparator(old, new, audience="entrant", on=DAY).pairs] == ["1"]
    assert binding_from(old, new, Pair("1", "1")) == Deadline(
        date(2026, 7, 1), "bulletin B1 is in force from 2026-07-01"
    )


# --- laws ---------------------------------------------------------------------------------------------------


def dunlin(changes: dict[tuple[str | int, ...], Any]) -> Pack:
    document = read_pack_document(DUNLIN)
    return build_pack(document.edited([Edit(path, value) for path, value in changes.items()], "PK199"))


def fleet_documents(number: int) -> list[Document]:
    return [parse_document(json.dumps(made).encode(), "fleet.jsonl", "CD") for made in cars(number)]


@pytest.mark.deep
@pytest.mark.parametrize("audience", ["entrant", "official"])
def test_affected_equals_two_inspections(audience: str) -> None:
    """Of every clause: those told of are judged as `inspect` does, and all others are judged alike."""
    old = dunlin({})
    new = dunlin(
        {
            ("clauses", "3.3", "check", "at_most"): "51.9 %",
            ("tables", "minimum_weight", "rows", 1, "value"): "590 kg",
            ("lists", "components", "fields", "counted_price", "formula"): "list_price",
            ("clauses", "9.2", "check", "valid"): "made + 5 years",
        }
    )
    comparator = Comparator(old, new, audience=audience, on=DAY)
    assert [pair.number for pair in comparator.pairs] == ["3.1", "3.3", "5.1", "5.2", "9.2"]
    for document in fleet_documents(3):
        told = {e.pair: e for e in comparator.judge(document, "x").effects}
        before, after = (inspect_document(p, document, DAY, audience) for p in (old, new))
        for one, other in zip(before.outcomes, after.outcomes, strict=True):
            both = (one.outcome, other.outcome, one.assessment.margin, other.assessment.margin)
            pair = Pair(one.clause.number, other.clause.number)
            if pair in told:
                effect = told[pair]
                assert (effect.before, effect.after, effect.margin_before, effect.margin_after) == both
            else:
                assert both[0] == both[1]
                assert both[2] == both[3]


def test_a_change_and_its_reverse_mirror_each_other() -> None:
    old, new = pack(), pack({'clauses."1".check.at_most': "1380 mm", 'clauses."2".check.at_most': "1785 mm"})
    cars: list[dict[str, Any]] = [{}, {"frame.width": "1375 mm"}, {"frame.length": "1780 mm"}]
    for car in cars:
        there, back = affected(old, new, car), affected(new, old, car)
        for one, other in zip(there.effects, back.effects, strict=True):
            assert (one.newly_fails, one.no_longer_fails) == (other.no_longer_fails, other.newly_fails)
            assert one.margin_before == other.margin_after


def test_a_pack_against_itself_affects_nobody() -> None:
    assert affected(pack(), pack()).effects == ()


# --- a fleet ------------------------------------------------------------------------------------------------


def tallied(new: Pack, fleet: list[dict[str, Any]]) -> Fleet:
    old = pack()
    comparator = Comparator(old, new, audience="entrant", on=DAY)
    found = Fleet(comparator.pairs)
    for place, car in enumerate(fleet):
        found.add(comparator.judge(car_document(car), f"{place:02}"), counting(old, new, comparator.pairs))
    return found


def test_a_fleet_is_counted_with_its_margins_before_and_after() -> None:
    widths = [1360, 1380, 1390, 1410]
    found = tallied(pack(NARROWER), [{"frame.width": f"{w} mm"} for w in widths])
    [tally] = found.tallies.values()
    assert (found.cars, found.newly_failing, tally.failing, tally.newly_failing) == (4, 1, [1, 2], 1)
    before, after = tally.margins["mm"]
    extremes = [before.least, before.greatest, after.least, after.greatest]
    assert extremes == [Fraction(mm) for mm in (-10, 40, -30, 20)]


def test_the_hardest_hit_are_kept_and_no_more() -> None:
    widths = [1380 + (place * 7) % 20 for place in range(3 * HARDEST)]
    found = tallied(pack(NARROWER), [{"frame.width": f"{w} mm", "car.number": str(w)} for w in widths])
    [tally] = found.tallies.values()
    kept = [one.margin_after for _, one in tally.settled().hardest]
    assert tally.newly_failing == sum(w > 1380 for w in widths)
    assert [m.value for m in kept if m] == sorted(Fraction(1380 - w) for w in widths)[:HARDEST]


def test_advice_makes_no_car_fail() -> None:
    found = tallied(pack({'clauses."9".check.at_most': "50 %"}), [{}])
    [tally] = found.tallies.values()
    assert (tally.newly_failing, found.newly_failing) == (1, 0)


def test_a_car_that_fails_later_is_counted_apart() -> None:
    found = tallied(pack(NARROWER | EARLIER), [{}, {"car.chassis_built": "2025-06-01"}])
    [tally] = found.tallies.values()
    assert (found.newly_failing, found.failing_later) == (1, 1)
    assert [e.fails_later for _, e in tally.settled().hardest] == [False, True]


def test_the_small_rulebook_reads_the_car() -> None:
    judged = inspect_document(pack(), parse_document(CAR.encode(), "car.yaml", "CD"), DAY, "entrant")
    assert judged.complies is True
    assert replace(judged, what_if=()) == judged


def test_a_dispensation_is_no_fail(tmp_path: Path) -> None:
    """Approvals of the register count on both sides, as they do for `inspect`."""
    (tmp_path / "edition.yaml").write_text(PACK)
    (tmp_path / "b.yaml").write_text(
        'bulletin: B1\namends: {pack: test, edition: "1"}\nin_force: {from: 2026-07-01}\nreason: For a test\n'
        'changes:\n  - {change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}\n'
    )
    (tmp_path / "approvals.yaml").write_text(
        'approvals: [{reference: A-1, clauses: ["1"], cars: ["7"], from: 2026-01-01, until: 2026-12-31, reason: So}]'
    )
    folder, on = open_folder(tmp_path), date(2026, 7, 5)
    old, new = load_pack(folder, date(2026, 6, 30)), load_pack(folder, on)
    with_it = affected(old, new, {"approvals": ["A-1"]}, on).effects[0]
    assert with_it.later is not None
    assert with_it.later.until == date(2026, 12, 31)
    without = affected(old, new, None, on).effects[0]
    assert (with_it.before, with_it.after, with_it.newly_fails) == ("pass", "dispensation", False)
    assert (without.after, without.newly_fails) == ("fail", True)
    assert with_it.margin_after == without.margin_after
