from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Weighed,
)
from checker.meeting.record.contents import Struck
from checker.meeting.session.gear import checked
from checker.meeting.session.session import Meeting
from checker.meeting.tables.scale_reading import ScaleReading
from checker.meeting.taking.correcting import strike
from checker.meeting.taking.entering import withdraw
from checker.meeting.taking.weighing import weigh
from checker.reading.problems import InputError
from tests.meeting.days import LOADS, PROCEDURE, a_meeting, car_text, refused, shifted, weighed


def test_a_reading_is_recorded_with_all_that_it_left_open(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        settled = weighed(meeting, loads={**LOADS, "front_left": "155,0", "rear_right": "141 kg"})
        assert settled.content == Weighed(
            car="7",
            occasion=SCRUTINEERING,
            loads={wheel: f"{load} kg" for wheel, load in {**LOADS, "rear_right": "141"}.items()},
            gear="pads",
            pads="as marked",
            fuel="6 L",
            driver="out",
            tyres="dry",
            wear="new",
        )
        assert settled.warnings == ()
        assert settled.number == meeting.day.number == len(meeting.store.entries())


def test_the_second_weighing_takes_the_state_of_the_first_with_the_pads_swapped(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting, fuel="8 L")
        second = weighed(meeting)
        assert (second.content.fuel, second.content.pads) == ("8 L", "swapped side to side")
        assert len(meeting.car("7").weighings(SCRUTINEERING)) == 2


def test_their_mean_is_what_counts_or_the_last_where_the_procedure_says_so(tmp_path: Path) -> None:
    for counts, total in (("mean", 591), ("last", 592)):
        folder = tmp_path / counts
        folder.mkdir()
        procedure = PROCEDURE.replace("weighings: 2", f"weighings: 2\ncounts: {counts}", 1)
        with a_meeting(folder, procedure=procedure) as meeting:
            weighed(meeting)
            weighed(meeting, loads=shifted(front_left=1, rear_right=1))
            car = meeting.judgement(meeting.car("7")).inspection.car
            assert car.weights().weight("total") == total


def test_a_third_weighing_is_refused_without_a_reason(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        weighed(meeting)
        with pytest.raises(InputError) as error:
            weighed(meeting)
        assert refused(error) == "MT309"
        assert error.value.problems[0].message == "car 7 has been weighed twice at scrutineering"
        assert meeting.day.number == 4


def test_a_re_weighing_needs_a_fail_and_is_allowed_once(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "TB")
        with pytest.raises(InputError, match="1 problem") as error:
            weighed(meeting, again="the entrant asks")
        assert "does not fail" in error.value.problems[0].message

    with a_meeting(tmp_path, name="light.meeting") as meeting:
        for loads in (LOADS, shifted(front_left=-20)):
            weighed(meeting, loads=loads)
        meeting.judge_and_record(meeting.car("7"), "TB")
        judged = meeting.day.last_judged(meeting.car("7"))
        assert judged is not None
        assert judged.complies == "open"  # the seal is not read


def light_car(tmp_path: Path, procedure: str = PROCEDURE) -> Meeting:
    light = "{fuel: 6 L, driver: out, tyres: dry, readings: [{total: 570 kg}]}"
    meeting = a_meeting(tmp_path, {"7": car_text(weighing=light)}, procedure=procedure)
    for _ in range(2):
        weighed(meeting, loads={"total": "570"}, gear="bridge")
    meeting.judge_and_record(meeting.car("7"), "TB")
    return meeting


def test_a_failing_car_may_be_weighed_again_once_and_only_the_new_set_counts(tmp_path: Path) -> None:
    with light_car(tmp_path) as meeting:
        weighed(
            meeting, loads={"total": "585"}, gear="bridge", again="the entrant found a stone under the bridge"
        )
        weighed(meeting, loads={"total": "585"}, gear="bridge")
        car = meeting.car("7")
        assert [len(weighings) for weighings in car.sets(SCRUTINEERING)] == [2, 2]
        assert meeting.judgement(car).inspection.car.weights().weight("total") == 585
        with pytest.raises(InputError):
            weighed(meeting, loads={"total": "585"}, gear="bridge", again="once more")


@pytest.mark.parametrize(
    ("when", "word"), [("never", "allows no re-weighing"), ("{when: after a fail, at_most: 0}", "allows 0")]
)
def test_a_procedure_may_allow_no_re_weighing(tmp_path: Path, when: str, word: str) -> None:
    when = when if when.startswith("{") else f"{{when: {when}}}"
    procedure = PROCEDURE.replace("reweigh: {when: after a fail, at_most: 1}", f"reweigh: {when}")
    with light_car(tmp_path, procedure) as meeting:
        with pytest.raises(InputError) as error:
            weighed(meeting, loads={"total": "585"}, gear="bridge", again="please")
        assert word in error.value.problems[0].message


def test_a_car_weighed_on_gear_that_failed_its_check_may_always_be_weighed_again(tmp_path: Path) -> None:
    procedure = PROCEDURE.replace("when: after a fail", "when: never")
    with a_meeting(tmp_path, procedure=procedure) as meeting:
        weighed(meeting)
        weighed(meeting)
        bad = checked(meeting.gear["pads"], "rear_left", "20 kg", "14 kg")
        meeting.record("TB", lambda _: [bad])
        weighed(meeting, again="pad rear_left failed its check")
        assert len(meeting.car("7").sets(SCRUTINEERING)) == 2


def test_a_re_weighing_for_the_gear_s_sake_is_not_the_entrant_s_one(tmp_path: Path) -> None:
    with light_car(tmp_path) as meeting:
        bad, good = (checked(meeting.gear["bridge"], "", "20", shown) for shown in ("30", "20"))
        meeting.record("TB", lambda _: [bad, good])
        for again in ("the bridge failed its check", "the entrant asks"):
            weighed(meeting, loads={"total": "570"}, gear="bridge", again=again)
            weighed(meeting, loads={"total": "570"}, gear="bridge")
            meeting.record("TB", lambda _: [good])
            meeting.judge_and_record(meeting.car("7"), "TB")
        with pytest.raises(InputError) as error:
            weighed(meeting, loads={"total": "570"}, gear="bridge", again="once more")
        assert "has been re-weighed 1 times" in error.value.problems[0].message


def test_a_first_weighing_cannot_be_a_re_weighing(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting, pytest.raises(InputError) as error:
        weighed(meeting, again="why not")
    assert refused(error) == "MT210"


@pytest.mark.parametrize(
    ("more", "what"),
    [
        ({"fuel": "9 L"}, "fuel"),
        ({"driver": "aboard"}, "driver"),
        ({"wear": "worn"}, "wear"),
        ({"gear": "bridge"}, "gear"),
    ],
)
def test_a_repeat_in_another_state_is_refused(tmp_path: Path, more: dict[str, str], what: str) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        with pytest.raises(InputError) as error:
            weighed(meeting, "7", LOADS, **more)
        assert refused(error) == "MT210"
        assert error.value.problems[0].message.startswith(what)


def test_a_car_not_as_presented_is_weighed_with_a_warning(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        (warning,) = weighed(meeting, wear="worn").warnings
        assert warning.warning
        assert warning.message == "wear is worn; cars are presented with wear new"


@pytest.mark.parametrize(
    ("loads", "code"),
    [
        ({"front_left": "155.0"}, "MT210"),
        ({**LOADS, "total": "590"}, "MT210"),
        ({**LOADS, "front_left": "15x"}, "MT209"),
        ({**LOADS, "front_left": "-155"}, "MT209"),
        ({**LOADS, "front_left": "155 mm"}, "MT209"),
        ({**LOADS, "front_left": "0"}, "RD214"),
        ({"front_let": "1", "front_right": "1", "rear_left": "1", "rear_right": "1"}, "MT210"),
        ({}, "MT210"),
    ],
)
def test_loads_that_cannot_be_are_refused(tmp_path: Path, loads: dict[str, str], code: str) -> None:
    with a_meeting(tmp_path) as meeting:
        with pytest.raises(InputError) as error:
            weighed(meeting, loads=loads)
        assert refused(error) == code
        assert meeting.day.number == 2


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"fuel": "6"}, "MT209"),
        ({"fuel": "six L"}, "MT209"),
        ({"fuel": "60 L"}, "RD214"),
        ({"driver": "in"}, "MT210"),
        ({"pads": "swapped"}, "MT210"),
        ({"tyres": "slick"}, "RD214"),
        ({"gear": "scales"}, "MT211"),
    ],
)
def test_a_state_that_cannot_be_is_refused(tmp_path: Path, more: dict[str, str], code: str) -> None:
    with a_meeting(tmp_path) as meeting:
        with pytest.raises(InputError) as error:
            weighed(meeting, "7", LOADS, **more)
        assert refused(error) == code
        assert meeting.day.number == 2


def test_without_a_word_on_fuel_nothing_is_taken_for_granted(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        with pytest.raises(InputError) as error:
            weigh(meeting, ScaleReading("7", LOADS), "TB")
        assert error.value.problems[0].message == "the fuel on board is not stated"


def test_axles_sides_or_a_total_from_a_weighbridge_will_do(tmp_path: Path) -> None:
    for number, loads in enumerate(
        ({"front": "296", "rear": "294"}, {"left": "308", "right": "282"}, {"total": "590"})
    ):
        with a_meeting(tmp_path, name=f"{number}.meeting") as meeting:
            settled = weighed(meeting, loads=loads, gear="bridge")
            assert settled.content.pads == ""
            assert settled.warnings == ()
            car = meeting.judgement(meeting.car("7")).inspection.car
            assert car.weights().weight("total") == 590


def test_a_car_that_is_not_entered_or_has_withdrawn_is_not_weighed(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text(), "17": car_text("17")}) as meeting:
        with pytest.raises(InputError) as error:
            weigh(meeting, ScaleReading("71", LOADS, fuel="6 L"), "TB")
        assert (refused(error), error.value.problems[0].hint) == ("MT203", "Did you mean '7'?")
        withdraw(meeting, "7", "engine", "KV")
        with pytest.raises(InputError) as error:
            weighed(meeting)
        assert refused(error) == "MT205"


def test_a_correction_stands_in_the_place_of_what_it_corrects(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        first = weighed(meeting)
        second = weighed(meeting)
        corrected = weigh(
            meeting,
            ScaleReading("7", shifted(front_left=1), corrects=first.number, reason="a digit slipped"),
            "TB",
        )
        weighings = meeting.car("7").weighings(SCRUTINEERING)
        assert [record.number for record in weighings] == [corrected.number, second.number]
        assert [record.place for record in weighings] == [first.number, second.number]
        assert corrected.content.pads == "as marked"
        assert meeting.day.gone_by(first.number) == corrected.number
        assert len(meeting.store.entries()) == 5


def test_a_correction_needs_a_reason_and_an_entry_that_counts(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text(), "8": car_text("8", "Knot")}) as meeting:
        first = weighed(meeting)
        for corrects, reason, code in (
            (first.number, " ", "MT206"),
            (99, "why", "MT207"),
            (1, "why", "MT207"),
        ):
            with pytest.raises(InputError) as error:
                weigh(meeting, ScaleReading("7", LOADS, corrects=corrects, reason=reason), "TB")
            assert refused(error) == code
        with pytest.raises(InputError) as error:
            weigh(meeting, ScaleReading("8", LOADS, corrects=first.number, reason="why"), "TB")
        assert refused(error) == "MT207"
        weigh(meeting, ScaleReading("7", LOADS, corrects=first.number, reason="why"), "TB")
        with pytest.raises(InputError) as error:
            weigh(meeting, ScaleReading("7", LOADS, corrects=first.number, reason="again"), "TB")
        assert "no longer counts since entry 5" in error.value.problems[0].message


def test_a_struck_weighing_no_longer_counts(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        first = weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "TB")
        strike(meeting, first.number, "it was car 8", "TB")
        assert meeting.car("7").weighings(SCRUTINEERING) == []
        assert meeting.day.last_judged(meeting.car("7")) is None
        last = meeting.day.record(meeting.day.number)
        assert last is not None
        assert isinstance(last.content, Struck)
        with pytest.raises(InputError) as error:
            strike(meeting, 2, "not this", "TB")
        assert refused(error) == "MT207"


def test_two_officials_cannot_both_make_the_last_weighing(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting, Meeting.open(tmp_path / "day.meeting") as other:
        weighed(meeting)
        weighed(other)
        with pytest.raises(InputError) as error:
            weighed(meeting)
        assert refused(error) == "MT309"
        assert meeting.day.number == other.day.number == 4
