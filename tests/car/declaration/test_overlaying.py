"""What officials measured, laid over what an entrant declared."""

from __future__ import annotations

from typing import Any

from checker.car.described.stated import ACROSS, ALONG, DECLARED, READINGS
from checker.quantities.kind import Unknown
from tests.car.cars import COMPLETE, loaded, problems, varied
from tests.examples import each_row

OFFICIAL: dict[str, Any] = {"formula": "dunlin"}


def origin(stated: Any) -> str:
    assert stated is not None
    return str(stated.origin)


def test_an_officials_fact_counts_before_the_declared_one() -> None:
    car = loaded(COMPLETE, {**OFFICIAL, "dimensions": {"rear_width_over_tyres": "1770 mm"}})
    assert car.value("dimensions.rear_width_over_tyres") == 1770
    assert origin(car.stated("dimensions.rear_width_over_tyres")) == READINGS
    assert origin(car.stated("dimensions.front_width_over_tyres")) == DECLARED


def test_structure_is_overridden_piece_by_piece() -> None:
    readings = {
        **OFFICIAL,
        "tyres": {"dry": {"rear": {"mass": "15.0 kg"}}, "slick": {"front": {"mass": "13 kg"}}},
        "fuel": {"at": {"right_of_centre": "10 mm"}},
        "instruments": {"weigh-in pads": {"resolution": "0.1 kg"}},
    }
    car = loaded(COMPLETE, readings)
    assert car.value("tyres.dry.rear.mass") == 15
    assert car.value("tyres.dry.rear.section") == 225
    assert car.tyre_sets == ("dry", "wet", "slick")
    assert car.value("fuel.at.left_of_centre") == -10
    assert car.value("fuel.at.behind_front_axle") == 2050
    assert car.instrument("weigh-in pads") is not None


def test_a_weighing_replaces_the_declared_one_as_a_whole() -> None:
    weighing = {"readings": [{"total": "590 kg"}], "driver": "out"}
    car = loaded(COMPLETE, {**OFFICIAL, "weighing": weighing})
    assert car.weights().weight("total") == 590
    assert isinstance(car.weights().weight("left"), Unknown)
    assert car.value("weighing.fuel") == Unknown(absent=("weighing.fuel",))
    assert car.value("weighing.driver") == "out"
    assert origin(car.stated("weighing.wear")) == "default"


def test_without_a_weighing_in_the_readings_the_declared_one_stands() -> None:
    assert loaded(COMPLETE, {**OFFICIAL, "weighing": None}).weights().weight("total") == 587


DECLARED_LISTS = varied(
    {
        "components": [
            {
                "name": "pedal assembly",
                "category": "controls/pedals",
                "materials": ["steel"],
                "parts": [{"name": "bracket", "materials": ["steel"]}],
            }
        ],
        "ballast": [
            {
                "label": "B1",
                "mass": "6.0 kg",
                "fixings": 2,
                "at": {"behind_front_axle": "1900 mm", "left_of_centre": "520 mm"},
            }
        ],
        "holes": [{"width": "9 mm"}],
    }
)


def labels(car: Any, name: str) -> list[str]:
    return [entry.label for entry in car.entries(name, parts=True)]


def test_an_entry_of_the_same_label_is_overridden_field_by_field() -> None:
    ballast = [{"label": "b1", "mass": "6.4 kg", "count": 2, "at": {"left_of_centre": "500 mm"}}]
    (piece,) = loaded(DECLARED_LISTS, {**OFFICIAL, "ballast": ballast}).lists["ballast"]
    assert piece.label == "B1"
    assert piece.value("mass") * 10 == 64
    assert origin(piece.stated("mass")) == READINGS
    assert piece.value("fixings") == 2
    assert origin(piece.stated("fixings")) == DECLARED
    assert piece.count == 2
    assert (piece.value(ALONG), piece.value(ACROSS)) == (1900, 500)


def test_an_entry_of_another_label_is_added() -> None:
    ballast = [{"label": "seat plate", "mass": "3.5 kg"}]
    car = loaded(DECLARED_LISTS, {**OFFICIAL, "ballast": ballast})
    assert labels(car, "ballast") == ["B1", "seat plate"]
    assert str(car.lists["ballast"][1].span).startswith("readings.yaml")


def test_a_list_that_only_officials_state_is_declared_by_that() -> None:
    assert labels(loaded(COMPLETE, {**OFFICIAL, "ballast": [{"label": "B9"}]}), "ballast") == ["B9"]
    assert labels(loaded(COMPLETE, {**OFFICIAL, "ballast": []}), "ballast") == []


def test_an_empty_list_of_an_official_takes_nothing_away() -> None:
    assert labels(loaded(DECLARED_LISTS, {**OFFICIAL, "ballast": []}), "ballast") == ["B1"]


def test_a_part_is_found_by_its_name_wherever_it_stands() -> None:
    readings = {**OFFICIAL, "components": [{"name": "bracket", "materials": ["titanium"]}]}
    car = loaded(DECLARED_LISTS, readings)
    assert labels(car, "components") == ["pedal assembly", "bracket"]
    every = car.entries("components", parts=True)
    assert not isinstance(every, Unknown)
    assert every[1].value("materials") == ("titanium",)


def test_a_part_that_officials_find_is_added_to_its_component() -> None:
    pedals = {"name": "pedal assembly", "parts": [{"name": "bush"}, {"name": "bracket", "mass": "1 kg"}]}
    car = loaded(DECLARED_LISTS, {**OFFICIAL, "components": [pedals]})
    every = car.entries("components", parts=True)
    assert not isinstance(every, Unknown)
    assert [entry.label for entry in every] == ["pedal assembly", "bracket", "bush"]
    assert every[2].value("category") == "controls/pedals"
    assert every[1].value("mass") == 1


def test_entries_that_officials_add_have_paths_of_their_own() -> None:
    """Entries are told apart by their paths, wherever they were written."""
    pedals = {"name": "pedal assembly", "parts": [{"name": "bush", "parts": [{"name": "pin"}]}]}
    added = {"name": "seat", "parts": [{"name": "rail"}]}
    car = loaded(DECLARED_LISTS, {**OFFICIAL, "components": [added, pedals]})
    paths = {entry.label: entry.path for entry in car.every_entry("components")}
    assert paths == {
        "pedal assembly": "components[0]",
        "bracket": "components[0].parts[0]",
        "bush": "components[0].parts[1]",
        "pin": "components[0].parts[1].parts[0]",
        "seat": "components[1]",
        "rail": "components[1].parts[0]",
    }


def test_a_list_without_names_is_replaced() -> None:
    car = loaded(DECLARED_LISTS, {**OFFICIAL, "holes": [{"width": "8 mm"}, {"width": "7 mm"}]})
    assert [hole.value("width") for hole in car.lists["holes"]] == [8, 7]


def test_approvals_of_both_files_are_cited() -> None:
    car = loaded(varied({"approvals": ["A-1"]}), {**OFFICIAL, "approvals": ["A-2", "A-1"]})
    assert car.approvals == ("A-1", "A-2")


TWINS = varied({"ballast": [{"label": "B1"}, {"label": "b1"}]})


@each_row(
    ("declaration", "readings", "code", "message"),
    [
        (COMPLETE, {"formula": "sandpiper"}, "RD211", "the pack is that of 'dunlin'"),
        (COMPLETE, {"car": {"number": "27"}}, "RD211", "does not say by which formula"),
        (
            COMPLETE,
            {**OFFICIAL, "car": {"number": "72"}},
            "RD212",
            "of car '72', the declaration is of car '27'",
        ),
        (COMPLETE, {**OFFICIAL, "fuel": {"capacity": "22"}}, "RD203", "22 has no unit"),
        (COMPLETE, {**OFFICIAL, "weighing": {"fuel": "30 L"}}, "RD214", "more than the tank holds"),
        (COMPLETE, {**OFFICIAL, "weighing": {"tyres": "slick"}}, "RD214", "no tyre set 'slick'"),
        (COMPLETE, {**OFFICIAL, "ballast": [{"mass": "1 kg"}]}, "RD215", "which entry it is about"),
        (TWINS, {**OFFICIAL, "ballast": [{"label": "B1"}]}, "RD215", "2 declared entries are called 'B1'"),
    ],
)
def test_a_mistake_in_readings_has_its_own_code(
    declaration: dict[str, Any], readings: dict[str, Any], code: str, message: str
) -> None:
    (problem,) = [problem for problem in problems(declaration, readings) if not problem.warning]
    assert problem.code == code
    assert message in problem.message
    assert problem.span is not None
    assert problem.span.file == "readings.yaml"


def test_mistakes_of_both_files_are_told_together() -> None:
    found = problems(varied({"fuel.capacity": 22}), {**OFFICIAL, "fuel": {"density": "1"}})
    assert [problem.code for problem in found] == ["CD203", "RD203"]
