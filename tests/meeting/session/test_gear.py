from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.described.instrument import Instrument, Permissible
from checker.car.described.standard import WHEELS
from checker.car.gear.pad_checks import factor_of
from checker.meeting.record.car_contents import Weighed
from checker.meeting.record.contents import GearChecked
from checker.meeting.session.gear import checked, doubts, kg, named_gear, notices, read_mass, scales_of
from checker.meeting.session.session import Meeting
from checker.meeting.taking.correcting import strike
from checker.meeting.taking.entering import enter, handed_in
from checker.meeting.taking.opening import Opening, open_meeting
from checker.quantities.rounding import round_to
from checker.reading.problems import InputError
from tests.meeting.days import DAY, a_meeting, car_text, pack_folder, refused, weighed

CARS = {number: car_text(number, f"Bird {number}") for number in ("7", "8", "9")}


def check(meeting: Meeting, pad: str, applied: str, shown: str) -> int:
    content = checked(meeting.gear["pads"], pad, applied, shown)
    return meeting.record("TB", lambda _: [content])[0].number


def in_doubt(meeting: Meeting) -> list[str]:
    return [doubt.car for doubt in doubts(meeting.day)]


@pytest.mark.parametrize(
    ("applied", "shown", "good"),
    [
        ("0", "0.0", True),
        ("20", "20.5", True),
        ("20", "19.5", True),
        ("20", "21.0", False),
        ("0 kg", "1.0 kg", False),
    ],
)
def test_a_check_is_good_within_the_permissible_error_itself(
    tmp_path: Path, applied: str, shown: str, good: bool
) -> None:
    with a_meeting(tmp_path, {}) as meeting:
        found = checked(meeting.gear["pads"], "Rear left", applied, shown)
        assert (found.pad, found.allowed, found.good) == ("rear_left", "0.75 kg", good)


def test_a_pad_that_is_not_there_is_told(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {}) as meeting, pytest.raises(InputError) as error:
        checked(meeting.gear["pads"], "rear_lft", "0", "0")
    assert (refused(error), error.value.problems[0].hint) == ("MT211", "Did you mean 'rear_left'?")


def test_a_failed_check_names_the_cars_weighed_since_the_last_good_one(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        check(meeting, "rear_left", "20", "20")
        weighed(meeting, "7")
        check(meeting, "rear_left", "20", "20")
        weighed(meeting, "8")
        check(meeting, "front_left", "20", "20")
        weighed(meeting, "9")
        assert in_doubt(meeting) == []
        failed = check(meeting, "rear_left", "20", "14")
        record = meeting.day.record(failed)
        assert record is not None
        assert isinstance(record.content, GearChecked)
        assert in_doubt(meeting) == ["8", "9"]


def test_without_a_good_check_before_every_car_is_in_doubt(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        weighed(meeting, "7")
        check(meeting, "rear_left", "20", "14")
        weighed(meeting, "8")
        assert in_doubt(meeting) == ["7", "8"]


def test_a_car_weighed_again_on_good_gear_is_out_of_doubt(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        check(meeting, "rear_left", "20", "20")
        weighed(meeting, "7")
        check(meeting, "rear_left", "20", "14")
        check(meeting, "rear_left", "20", "20")
        assert in_doubt(meeting) == ["7"]
        weighed(meeting, "7", again="the pad was bad")
        check(meeting, "rear_left", "20", "20")
        assert in_doubt(meeting) == []


def test_a_good_zero_does_not_make_up_for_a_bad_test_weight(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        weighed(meeting, "7")
        check(meeting, "rear_left", "0", "0")
        check(meeting, "rear_left", "20", "14")
        check(meeting, "rear_left", "0", "0")
        assert in_doubt(meeting) == ["7"]


def test_other_gear_is_not_put_in_doubt(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        weighed(meeting, "7", {"total": "590"}, gear="bridge")
        check(meeting, "rear_left", "20", "14")
        assert in_doubt(meeting) == []


def test_a_check_that_was_written_down_wrongly_can_be_struck(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        weighed(meeting, "7")
        failed = check(meeting, "rear_left", "20", "14")
        strike(meeting, failed, "the weight stood on the edge", "TB")
        assert in_doubt(meeting) == []


@pytest.mark.parametrize(
    ("text", "recorded"),
    [
        ("158.5", "158.5 kg"),
        ("158,5", "158.5 kg"),
        (" 158 ", "158 kg"),
        ("349 lb", "349 lb"),
        ("1 lb 4 oz", "1 lb 4 oz"),
    ],
)
def test_a_bare_number_is_in_what_the_display_shows(tmp_path: Path, text: str, recorded: str) -> None:
    with a_meeting(tmp_path, {}) as meeting:
        assert read_mass(text, meeting.gear["pads"]) == recorded


@pytest.mark.parametrize("text", ["", "1,234,5", "12a", "1e3", "=1+1", "158.5 mm", "-3", "158.5 kgs"])
def test_what_is_no_mass_is_told(tmp_path: Path, text: str) -> None:
    with a_meeting(tmp_path, {}) as meeting, pytest.raises(InputError) as error:
        read_mass(text, meeting.gear["pads"])
    assert refused(error) == "MT209"


def test_without_gear_a_mass_needs_its_unit() -> None:
    with pytest.raises(InputError):
        read_mass("158.5", None)
    assert kg(read_mass("158.5 kg", None)) == kg("158500 g")


def test_the_meeting_s_own_gear_goes_before_the_pack_s(tmp_path: Path) -> None:
    file = tmp_path / "gear.yaml"
    file.write_text(
        "instruments: {pads: {resolution: 1 lb, permissible_error: 2 lb}, dip stick: {resolution: 1 L}}\n"
    )
    opening = Opening(str(pack_folder(tmp_path)), DAY, ("KV",), gear=str(file))
    with open_meeting(tmp_path / "day.meeting", opening) as meeting:
        pads = named_gear(meeting.gear, "PADS")
        assert meeting.scales == pads
        assert pads.allowance(kg("20 lb")) == kg("2 lb") + kg("1 lb") / 2
        assert read_mass("349", pads) == "349 lb"
        assert not meeting.gear["dip stick"].weighs
        with pytest.raises(InputError) as error:
            named_gear(meeting.gear, "pats")
        assert error.value.problems[0].hint == "Did you mean 'pads'?"


@pytest.mark.parametrize(
    "text",
    [
        "pads: {resolution: 0.5 kg}",
        "instruments: {pads: 0.5 kg}",
        "instruments: {pads: {resolution: 0.5}}",
        "instruments: {pads: {resolutions: 0.5 kg}}",
        "instruments: {pads: {resolution: 0.5 kgs}}",
        "instruments: {pads: {resolution: 0.5 kg, permissible_error: 1 mm}}",
        "instruments: {pads: {resolution: 2026-01-01}}",
        "instruments: {}",
    ],
)
def test_gear_that_is_not_described_is_told(tmp_path: Path, text: str) -> None:
    file = tmp_path / "gear.yaml"
    file.write_text(text + "\n")
    opening = Opening(str(pack_folder(tmp_path)), DAY, ("KV",), gear=str(file))
    with pytest.raises(InputError) as error:
        open_meeting(tmp_path / "day.meeting", opening)
    assert refused(error) == "MT211"
    assert not (tmp_path / "day.meeting").exists()


def test_gear_by_its_class_shows_steps_of_its_interval_and_may_be_out_by_its_table(tmp_path: Path) -> None:
    """Class III, interval 0.1 kg, in service: twice 0.5 intervals up to 500 of them (OIML R 76-1, 3.5.1, 3.5.2)."""
    file = tmp_path / "gear.yaml"
    file.write_text(
        "instruments: {club pads: {permissible_error: {class: III, interval: 0.1 kg}, common_error: 0.1 %}}\n"
    )
    opening = Opening(str(pack_folder(tmp_path)), DAY, ("KV",), gear=str(file))
    with open_meeting(tmp_path / "day.meeting", opening) as meeting:
        (pads,) = (gear for name, gear in meeting.gear.items() if name == "club pads")
        assert meeting.scales == pads
        assert pads.weighs
        assert pads.allowance(kg("20 kg")) == kg("0.1 kg") + kg("0.02 kg") + kg("0.05 kg")


def test_the_meeting_s_gear_is_what_cars_are_judged_by(tmp_path: Path) -> None:
    file = tmp_path / "gear.yaml"
    file.write_text("instruments: {pads: {resolution: 0.5 kg, offset: {front_left: -2 kg}}}\n")
    folder = str(pack_folder(tmp_path))
    with open_meeting(
        tmp_path / "day.meeting", Opening(folder, DAY, ("KV", "TB"), gear=str(file))
    ) as meeting:
        (tmp_path / "car.yaml").write_text(car_text())
        enter(meeting, handed_in(meeting, [tmp_path / "car.yaml"]), "KV")
        file.unlink()
        weighed(meeting)
        car = meeting.judgement(meeting.car("7")).inspection.car
        assert car.weights().weight("total") == 588


def test_scales_are_pads_where_there_are_some_and_none_where_nothing_weighs(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {}) as meeting:
        gear = meeting.gear
        assert scales_of(gear, None) == gear["pads"]
        assert scales_of({"bridge": gear["bridge"]}, None) == gear["bridge"]
        assert scales_of({"caliper": gear["caliper"]}, None) is None


def test_an_official_can_say_since_when_a_pad_was_out(tmp_path: Path) -> None:
    """The clock of these tests goes on by a second with each entry: cars 7, 8 and 9 are weighed at 7, 9 and 10 s."""
    with a_meeting(tmp_path, CARS) as meeting:
        check(meeting, "rear_left", "20", "20")
        weighed(meeting, "7")
        check(meeting, "rear_left", "20", "20")
        weighed(meeting, "8")
        weighed(meeting, "9")
        times = {car.number: weighing.at for car in meeting.day.cars.values() for weighing in car.of(Weighed)}
        for since, cars in (("", ["8", "9"]), (times["9"], ["9"]), (times["7"], ["7", "8", "9"])):
            content = checked(meeting.gear["pads"], "rear_left", "20", "11", since)
            number = meeting.record("TB", lambda _, content=content: [content])[0].number  # type: ignore[misc]
            assert in_doubt(meeting) == cars
            strike(meeting, number, "another way to say it", "TB")
        assert in_doubt(meeting) == []


@pytest.mark.parametrize(
    ("shown", "since", "word"),
    [
        ("11", "noon", "no time"),
        ("11", "2026-05-03T12:40:00", "does not say its zone"),
        ("20", "2026-05-03T12:40:00Z", "never out"),
    ],
)
def test_since_when_gear_was_out_is_a_time_and_only_of_a_bad_check(
    tmp_path: Path, shown: str, since: str, word: str
) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        content = checked(meeting.gear["pads"], "rear_left", "20", shown, since)
        with pytest.raises(InputError) as error:
            meeting.record("TB", lambda _: [content])
    assert refused(error) == "MT307"
    assert word in error.value.problems[0].message


# -- a whole set that is out -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("applied", "shown", "told"),
    [
        ("100", dict.fromkeys(WHEELS, "98.5"), "-3/200"),
        ("100", dict.fromkeys(WHEELS, "102"), "1/50"),
        ("100", dict.fromkeys(WHEELS[:3], "98.5"), "-3/200"),
        ("100", dict.fromkeys(WHEELS[:2], "98.5"), None),  # by chance
        ("100", {**dict.fromkeys(WHEELS, "98.5"), "rear_left": "100"}, None),
        ("100", {"": "98.5"}, "-3/200"),
        ("100", dict.fromkeys(WHEELS, "99.5"), None),  # a step of the display
    ],
)
def test_a_set_that_is_out_by_one_part_is_noticed_at_the_desk_as_at_home(
    tmp_path: Path, applied: str, shown: dict[str, str], told: str | None
) -> None:
    with a_meeting(tmp_path, {}) as meeting:
        for pad, kg_shown in shown.items():
            check(meeting, pad, "0", "0")
            check(meeting, pad, applied, kg_shown)
        found = notices(meeting.day, meeting.gear)
        assert [str(one.amount.value) for one in found if one.amount] == ([told] if told else [])
        if told:
            for pad in shown:
                check(meeting, pad, applied, applied)  # adjusted
            assert notices(meeting.day, meeting.gear) == []


@given(st.lists(st.integers(-5, 5), min_size=4, max_size=4), st.integers(20, 200))
def test_pads_that_show_what_they_should_to_half_a_step_are_never_accused_as_a_set(
    steps: list[int], applied: int
) -> None:
    """The load is not a multiple of the step; each display rounds it, with its zero anywhere within its own half."""
    gear = Instrument("pads", Fraction(1, 2), Permissible(Fraction(1, 2)))
    shown = {}
    for pad, tenth in zip(WHEELS, steps, strict=True):
        zero, load = Fraction(tenth, 20), applied + Fraction(tenth, 20)
        shown[pad] = {
            Fraction(0): round_to(zero, Fraction(1, 2), "half_up"),
            Fraction(applied): round_to(load, Fraction(1, 2), "half_up"),
        }
    assert factor_of(shown, gear) is None
