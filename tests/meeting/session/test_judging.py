"""From the record to a verdict: readings over the declaration, gauges, and asking again only what a change touches."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import SCRUTINEERING
from checker.meeting.record.contents import Announced
from checker.meeting.session import judging
from checker.meeting.session.dependence import DECLARED_ONLY, MEASURED, NOT_STATED, PARTLY
from checker.meeting.session.judging import Judgement
from checker.meeting.session.session import Meeting
from checker.meeting.taking.measuring import Finding, announce, measure
from checker.report.words.findings import found_words
from checker.verdict.inspection import inspect_car
from tests.meeting.days import PACK, a_meeting, car_text, shifted, weighed


def measured(meeting: Meeting, fact: str, value: str, **more: str) -> None:
    measure(meeting, [Finding("7", fact, value, **more)], "KV")  # type: ignore[arg-type]


def outcomes(judgement: Judgement) -> dict[str, str]:
    return {o.clause.number: o.outcome for o in judgement.inspection.outcomes}


def margins(judgement: Judgement) -> dict[str, str]:
    return judgement.as_content("test").margins


def test_what_officials_measured_counts_before_what_is_declared(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        car = meeting.car("7")
        before = outcomes(meeting.judgement(car))
        assert (before["3"], before["5"]) == ("pass", "not_shown")
        measured(meeting, "dimensions.ride_height", "80 mm")
        measured(meeting, "seals.sump", "SO 7")
        measured(meeting, "components.front discs.thickness", "7.5 mm")
        after = meeting.judgement(car)
        assert {n: outcomes(after)[n] for n in ("3", "5", "6")} == {"3": "fail", "5": "pass", "6": "fail"}
        assert margins(after)["6"] == "-1/2 mm"
        assert after.complies == "no"


def test_the_newest_measurement_counts(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        for value in ("80 mm", "90 mm"):
            measured(meeting, "dimensions.ride_height", value)
        assert outcomes(meeting.judgement(meeting.car("7")))["3"] == "pass"


def test_what_the_organiser_announces_counts_for_all_cars_or_for_one(tmp_path: Path) -> None:
    cars = {"7": car_text(), "8": car_text("8", "Knot", ballast="[]")}
    with a_meeting(tmp_path, cars) as meeting:
        announce(meeting, "results.place", "winner", "KV", car="8")
        announce(meeting, "results.carried", "6 kg", "KV")
        seven, eight = (margins(meeting.judgement(meeting.car(number)))["8"] for number in ("7", "8"))
        assert (seven, eight) == ("3 kg", "-10 kg")


def test_on_whose_word_each_clause_rests(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        measured(meeting, "seals.sump", "SO 7")
        measured(meeting, "dimensions.ride_height", "90 mm")
        verified = meeting.judgement(meeting.car("7")).verified
        assert verified == {
            "1": MEASURED,
            "2": MEASURED,
            "3": MEASURED,
            "4": DECLARED_ONLY,
            "5": PARTLY,
            "6": DECLARED_ONLY,
            "7": DECLARED_ONLY,
            "8": DECLARED_ONLY,
        }


def test_a_clause_that_rests_on_nothing_is_not_said_to_be_verified(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text(engine="{}")}) as meeting:
        assert meeting.judgement(meeting.car("7")).verified["4"] == NOT_STATED


# -- gauges --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fact", "clause", "size", "result", "outcome"),
    [
        ("engine.inlet_bore", "4", "36.0 mm", "no-go", "pass"),
        ("engine.inlet_bore", "4", "36.0 mm", "go", "fail"),
        ("engine.inlet_bore", "4", "37 mm", "go", "fail"),
        ("engine.inlet_bore", "4", "35 mm", "no-go", "pass"),
        ("engine.inlet_bore", "4", "35 mm", "go", "not_shown"),
        ("engine.inlet_bore", "4", "37 mm", "no-go", "not_shown"),
        ("dimensions.ride_height", "3", "85 mm", "go", "pass"),
        ("dimensions.ride_height", "3", "85 mm", "no-go", "fail"),
        ("dimensions.ride_height", "3", "84 mm", "go", "not_shown"),
        ("dimensions.ride_height", "3", "3 3/8 in", "go", "pass"),
    ],
)
def test_a_gauge_settles_a_clause_only_where_its_size_does(
    tmp_path: Path, fact: str, clause: str, size: str, result: str, outcome: str
) -> None:
    with a_meeting(tmp_path) as meeting:
        measured(meeting, fact, size, gauge=result)
        found = next(
            o for o in meeting.judgement(meeting.car("7")).inspection.outcomes if o.clause.number == clause
        )
        assert found.outcome == outcome
        if outcome == "not_shown":
            assert "the gauge tells only" in found.assessment.unknown.told()[0]
        else:
            assert found.assessment.margin is None
            assert ("above" if result == "go" else "below") in found_words(found.assessment.finding)


def test_a_gauge_changes_nothing_of_clauses_that_do_not_look_at_it(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        before = meeting.judgement(meeting.car("7"))
        measured(meeting, "dimensions.ride_height", "85 mm", gauge="go")
        after = meeting.judgement(meeting.car("7"))
        others = [number for number in margins(before) if number != "3"]
        assert {n: margins(after)[n] for n in others} == {n: margins(before)[n] for n in others}
        texts = {o.clause.number: found_words(o.assessment.finding) for o in after.inspection.outcomes}
        assert texts["1"] == "total 590 kg is 10 kg above the minimum of 580 kg"


def test_a_clause_held_to_two_bounds_is_not_settled_by_one_gauge(tmp_path: Path) -> None:
    pack = PACK.replace("at_most: 36.0 mm}", "at_least: 30 mm, at_most: 36.0 mm}")
    with a_meeting(tmp_path, pack=pack) as meeting:
        measured(meeting, "engine.inlet_bore", "36.0 mm", gauge="no-go")
        assert outcomes(meeting.judgement(meeting.car("7")))["4"] == "not_shown"


# -- judging again -------------------------------------------------------------------------------------------


def test_only_the_clauses_that_a_change_can_touch_are_asked_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[set[str]] = []
    original = inspect_car
    everything = {str(number) for number in range(1, 9)}

    def watched(*given: object, only: set[str] | None = None) -> object:
        asked.append(everything if only is None else only)
        return original(*given, only=only)  # type: ignore[arg-type]

    with a_meeting(tmp_path) as meeting:
        monkeypatch.setattr(judging, "inspect_car", watched)
        car = meeting.car("7")
        meeting.judgement(car)
        weighed(meeting)
        meeting.judgement(car)
        measured(meeting, "seals.sump", "SO 7")
        meeting.judgement(car)
        measured(meeting, "components.front discs.thickness", "7.5 mm")
        meeting.judgement(car)
        meeting.judgement(car)
        meeting.judgement(car, afresh=True)
    assert asked == [everything, {"1", "2"}, {"5"}, {"6"}, set(), everything]


@pytest.mark.deep
def test_judging_again_gives_what_judging_afresh_gives(tmp_path: Path) -> None:
    """The shortcut is held to the whole way over random days."""
    chance = random.Random(5)
    changes: list[Callable[[Meeting], object]] = [
        lambda m: measured(m, "dimensions.ride_height", f"{80 + chance.randrange(12)} mm"),
        lambda m: measured(m, "engine.inlet_bore", "36.0 mm", gauge=chance.choice(("go", "no-go"))),
        lambda m: measured(m, "engine.inlet_bore", f"{34 + chance.randrange(4)} mm"),
        lambda m: measured(m, "seals.sump", chance.choice(("SO 7", "SO 8"))),
        lambda m: measured(m, "components.front discs.thickness", f"{7 + chance.randrange(3)} mm"),
        lambda m: measured(m, "ballast.B1.mass", f"{1 + chance.randrange(9)} kg"),
        lambda m: measured(m, "body.sound", chance.choice(("yes", "no"))),
        lambda m: announce(m, "results.carried", f"{chance.randrange(9)} kg", "KV"),
        lambda m: weighed(
            m, loads=shifted(front_left=chance.randrange(-9, 9)), again="again", occasion="trial"
        ),
    ]
    procedure = "procedure: plover\n"
    with a_meeting(tmp_path, procedure=procedure) as meeting:
        weighed(meeting, loads=shifted(), occasion="trial")
        car = meeting.car("7")
        for _ in range(60):
            chance.choice(changes)(meeting)
            quick = meeting.judgement(car)
            whole = meeting.judgement(car, afresh=True)
            assert outcomes(quick) == outcomes(whole)
            assert margins(quick) == margins(whole)
            assert meeting.judgement(car, measured=True).as_content("") == whole.as_content("")
            meeting.judgement(car)


def test_a_recorded_verdict_that_something_newer_bears_on_is_not_shown_as_it_was(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        car = meeting.car("7")
        weighed(meeting)
        meeting.judge_and_record(car, "KV")
        assert meeting.day.last_judged(car) is not None
        announce(meeting, "event.wet", "yes", "KV")
        assert meeting.day.last_judged(car) is None
        meeting.judge_and_record(car, "KV")
        assert meeting.day.last_judged(car) is not None
        measured(meeting, "seals.sump", "SO 7")
        assert meeting.day.last_judged(car) is None


def test_what_a_clause_looks_at_takes_in_older_checks_and_penalties(tmp_path: Path) -> None:
    more = """
  "9":
    title: Older cars
    text: Words
    check: {limit: engine.inlet_bore, at_most: 36.0 mm}
    earlier: [{before: 2020-01-01, by: car.chassis_built, check: {limit: dimensions.ride_height, at_least: 80 mm}}]
    penalty: {amount: "excess / (1 mm) * (2 if body.sound else 1)", unit: laps}
"""
    with a_meeting(tmp_path, pack=PACK + more) as meeting:
        names = meeting.pack.clauses["9"].looks_at
        assert {"engine.inlet_bore", "dimensions.ride_height", "car.chassis_built", "body.sound"} <= names


def test_readings_are_of_the_occasion_asked_for(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        car = meeting.car("7")
        weighed(meeting)
        weighed(meeting, loads=shifted(front_left=-20), occasion="after the final", fuel="1 L")
        totals = {
            occasion: meeting.judgement(car, occasion).inspection.car.weights().weight("total")
            for occasion in (SCRUTINEERING, "after the final")
        }
        assert totals == {SCRUTINEERING: 590, "after the final": 570}
        assert meeting.judgement(car).occasion == "after the final"


def test_an_announcement_for_one_car_goes_before_one_for_all(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        announce(meeting, "results.carried", "3 kg", "KV", car="7")
        announce(meeting, "results.carried", "1 kg", "KV")
        found = meeting.day.announced_for("7")["results.carried"].content
        assert found == Announced("results.carried", "3 kg", "7")
