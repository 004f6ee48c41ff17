"""Leaving out clauses that two packs certainly judge alike, and no others."""

from __future__ import annotations

from typing import Any

import pytest

from checker.pack.editions.loading import build_pack
from checker.reading.strict_yaml import parse_document
from checker.studies.change.relevance import may_differ, same_vocabulary
from checker.verdict.run import inspect_document
from tests.building import pack_of
from tests.examples import each_row
from tests.studies.packs import DAY, PACK, car_document, pack

EVERY = ["1", "2", "3", "4", "5", "6", "7", "8", "9"]

CHANGES: list[tuple[dict[str, Any], list[str]]] = [
    ({}, []),
    ({'clauses."1".check.at_most': "1380 mm"}, ["1"]),
    ({'clauses."1".text': "Other words"}, []),
    ({"tables.longest.rows[0].value": "1780 mm"}, ["2"]),
    ({"derived.area.formula": "frame.width * frame.width"}, ["3"]),
    ({'facts."engine.capacity".default': "110 cc"}, ["2"]),
    ({'facts."frame.width".measured_with': "tape"}, ["1", "3"]),
    ({"lists.joints.fields.overlap.formula": "bore - washer"}, ["4"]),
    ({"lists.joints.fields.washer": {"unit": "mm", "measured_with": "tape"}}, ["4"]),
    ({"lists.joints.known_by": None}, ["4"]),
    ({'facts."fuel.unusable"': {"unit": "L", "default": "1 L"}}, ["8", "9"]),
    ({"materials.steel": ["spring steel"]}, EVERY),
    ({"instruments.tape.resolution": "2 mm"}, EVERY),
    ({"decision": {"official": "strict"}}, EVERY),
    ({"gear.floor_out_of_level": "0.3 deg"}, ["8", "9"]),
    ({"gear.centre_of_gravity_height": "400 mm"}, ["8", "9"]),
    ({"edition": "2", "title": "Other", "in_force.until": "2027-01-01"}, []),
    ({'facts."spare.size".default': "3 mm"}, []),
]


@each_row(("changes", "numbers"), CHANGES)
def test_only_clauses_that_rest_on_what_changed_are_judged(
    changes: dict[str, Any], numbers: list[str]
) -> None:
    assert [pair.number for pair in may_differ(pack(), pack(changes))] == numbers


@pytest.mark.parametrize("car", [{}, {"engine": None, "frame.width": "1395 mm", "body": None}])
@pytest.mark.parametrize(("changes", "numbers"), CHANGES)
def test_what_is_left_out_is_judged_the_same(
    changes: dict[str, Any], numbers: list[str], car: dict[str, Any]
) -> None:
    old, new = pack(), pack(changes)
    before, after = (inspect_document(p, car_document(car), DAY, "entrant") for p in (old, new))
    for one, other in zip(before.outcomes, after.outcomes, strict=True):
        if one.clause.number not in numbers:
            assert (one.outcome, one.assessment.margin) == (other.outcome, other.assessment.margin)


def test_a_clause_that_another_may_set_aside_is_judged_with_it() -> None:
    text = '"1": {check: {holds: true}}\n"2": {check: {holds: %s}, instead_of: ["1"]}\n"3": {check: {holds: true}}'
    pairs = may_differ(pack_of(text % "true"), pack_of(text % "false"))
    assert [pair.number for pair in pairs] == ["1", "2"]


def test_one_reading_serves_both_packs_unless_the_words_differ() -> None:
    assert same_vocabulary(pack(), pack({'clauses."1".check.at_most': "1380 mm"}))
    assert not same_vocabulary(pack(), pack({'facts."spare.size".default': "3 mm"}))
    assert not same_vocabulary(pack(), pack({"materials.steel": ["spring steel"]}))
    assert not same_vocabulary(pack(), pack({"gear.floor_out_of_level": "0.3 deg"}))


def test_a_word_list_in_a_file_of_its_own_counts(tmp_path: Any) -> None:
    packs = []
    for place, words in enumerate(("[a, b]", "[a, b, c]")):
        folder = tmp_path / str(place)
        folder.mkdir()
        (folder / "exotic.yaml").write_text(words)
        text = PACK.replace("steel: []", "steel: {words_from: exotic.yaml}")
        packs.append(build_pack(parse_document(text.encode(), str(folder / "pack.yaml"), "PK")))
    assert [pair.number for pair in may_differ(*packs)] == EVERY
    assert not same_vocabulary(*packs)
