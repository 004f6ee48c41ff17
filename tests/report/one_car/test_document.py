"""The document of an inspection: its schema, the stories told by it, and what it keeps to."""

from __future__ import annotations

import json
from fractions import Fraction
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from jsonschema_rs import meta

from checker.report.one_car.document import inspection_document
from checker.report.one_car.earlier import read_report
from checker.report.schemas import schema
from tests.building import inspection_of, pack_of, pack_of_check
from tests.examples import each_row, quick_first
from tests.report.documents import NAMES, STORIES, clause_of, document_of, not_met, sample

pytestmark = pytest.mark.usefixtures("at_root")


@each_row("name", NAMES)
def test_the_schemas_are_sound_and_closed(name: str) -> None:
    meta.validate(schema(name))

    def objects(part: Any) -> list[dict[str, Any]]:
        inside = part.values() if isinstance(part, dict) else part if isinstance(part, list) else ()
        found = [o for one in inside for o in objects(one)]
        return [part, *found] if isinstance(part, dict) and part.get("type") == "object" else found

    for part in objects(schema(name)):
        if "properties" not in part:
            assert isinstance(part["additionalProperties"], dict), "a map says what it holds"
            continue
        assert part["additionalProperties"] is False
        optional = {
            key: one
            for key, one in part["properties"].items()
            if key not in part["required"] and key not in ADDED_LATER
        }
        assert all(one["description"].startswith("Results only: ") for one in optional.values())


ADDED_LATER = {
    "there",
    *("taken_as_exact", "covers", "complete", "set_down_differently", "unstated_gear"),
    *("acts", "together", "taken_as", "interpretations"),
    *("steps", "as_far_as_known", "scale", "layout", "mending"),
    *("whole", "left_out", "declined"),
    *("figures_tell", "assumed_sorts", "at", "count", "planned", "reach", "free_ballast", "race"),
    *("unread", "unplanned", "not_counted"),
}
"""Keys that reports from before do not have, which `inspect --since` still reads."""


def test_a_report_from_before_a_key_was_added_is_still_read(tmp_path: Path) -> None:
    document = document_of(sample("light-at-the-flag"))

    def without(part: Any) -> Any:
        if isinstance(part, dict):
            return {key: without(value) for key, value in part.items() if key not in ADDED_LATER}
        return [without(one) for one in part] if isinstance(part, list) else part

    kept = tmp_path / "report.json"
    kept.write_text(json.dumps(without(document)))
    assert read_report(str(kept), "14", "dunlin")["outcomes"]


@pytest.mark.parametrize("name", quick_first(STORIES, 4))
def test_every_sample_is_told_by_the_schema(name: str) -> None:
    document = document_of(sample(name))
    assert json.loads(json.dumps(document)) == document
    assert sum(document["counts"].values()) == len(document["outcomes"]) == 60


def test_story_1_light_at_the_flag() -> None:
    document = document_of(sample("light-at-the-flag"))
    assert not_met(document) == {"3.1": "fail"}
    assert document["complies"] is False
    clause = clause_of(document, "3.1")
    assert clause["value"] == {"value": "581.57", "exact": "58157/100", "unit": "kg"}
    assert clause["bound"] == {"kind": "at_least", "value": "585", "exact": "585/1", "unit": "kg"}
    assert clause["margin"] == {"value": "-3.43", "exact": "-343/100", "unit": "kg"}
    assert clause["condition"]["state"] == "0 L on board, driver out, dry tyres, worn"
    assert clause["crossing"]["fuel"] == {"value": "4.61", "exact": "686/149", "unit": "L"}
    assert clause["crossing"]["text"] == "below the minimum with less than 4.61 L on board"
    assert clause["act"].startswith("add 4.5 kg")


def test_story_2_creeping_inside() -> None:
    document = document_of(sample("creeping-inside"))
    assert not_met(document) == {"3.3": "fail"}
    clause = clause_of(document, "3.3")
    assert Fraction(clause["value"]["exact"]) == Fraction("312.03") / Fraction("585.10") * 100
    assert clause["value"]["value"] == "53.3293"
    assert clause["margin"]["value"] == "-0.33"
    assert clause["crossing"]["text"] == "above the maximum with less than 11.25 L on board"
    assert clause_of(document, "3.1")["margin"]["exact"] == "251/10"


def test_story_3_ballast_by_another_name() -> None:
    assert not_met(document_of(sample("ballast-by-another-name"))) == {}
    readings = "samples/readings/ballast-by-another-name.yaml"
    document = document_of(sample("ballast-by-another-name", readings=readings, audience="official"))
    assert document["for"] == "official"
    assert document["readings"] == {"sha256": sha256(Path(readings).read_bytes()).hexdigest()}
    clause = clause_of(document, "3.6")
    assert clause["outcome"] == "fail"
    assert clause["value"]["value"] == "27.5"
    assert clause["margin"]["exact"] == "-3/2"


def test_story_4_price_rise() -> None:
    before = document_of(sample("price-rise", on="2026-06-21"))
    after = document_of(sample("price-rise", on="2026-06-22"))
    assert before["complies"] is True
    assert clause_of(before, "5.1")["margin"] == {"value": "8.00", "exact": "8/1", "unit": "GBP"}
    assert not_met(after) == {"5.1": "fail"}
    assert clause_of(after, "5.1")["margin"] == {"value": "-8.00", "exact": "-8/1", "unit": "GBP"}


def test_story_5_hidden_and_misspelt_alloy() -> None:
    hidden = document_of(sample("hidden-alloy"))
    assert not_met(hidden) == {"5.8": "fail"}
    (item,) = clause_of(hidden, "5.8")["items"]
    assert (item["item"], item["outcome"], item["count"]) == ("pivot bracket", "fail", 1)
    misspelt = document_of(sample("misspelt-alloy"))
    assert not_met(misspelt) == {"5.8": "not_shown"}
    assert misspelt["complies"] is None
    assert "titanum" in clause_of(misspelt, "5.8")["not_shown"][0]


def test_story_6_belts_between_meetings() -> None:
    may = clause_of(document_of(sample("belts-between-meetings", on="2026-05-24")), "9.1")
    june = document_of(sample("belts-between-meetings", on="2026-06-07"))
    assert may["margin"] == {"value": "7", "exact": "7/1", "unit": "days"}
    assert may["bound"] == {"kind": "valid_until", "value": "2026-05-31", "exact": None, "unit": None}
    assert not_met(june) == {"9.1": "fail"}
    assert clause_of(june, "9.1")["margin"]["exact"] == "-7/1"


def test_story_9_all_legal_comfortably() -> None:
    document = document_of(sample("legal"))
    assert document["complies"] is True
    assert not_met(document) == {}
    assert Fraction(clause_of(document, "3.3")["value"]["exact"]) <= Fraction("51.8")
    assert document["most_pressing"][:3] == [
        "4.3",
        "3.1",
        "3.4",
    ]  # 8 mm of 2190, 4.65 kg of 585, 0.6 % of 50.5


def test_the_same_inputs_give_the_same_document() -> None:
    first, second = (json.dumps(inspection_document(sample("legal"))) for _ in range(2))
    assert first == second


def test_it_carries_what_is_needed_to_repeat_it() -> None:
    document = document_of(sample("legal"))
    assert document["readings"] is None
    assert document["car"]["sha256"] == sha256(Path("samples/cars/legal.yaml").read_bytes()).hexdigest()
    assert document["pack"]["edition"] == "2026.1"
    assert document["pack"]["because"] == "2026-05-03 lies within 2026-03-01 to further notice"
    assert (document["on"], document["for"], document["what_if"]) == ("2026-05-03", "entrant", [])
    assert "fuel.unusable is taken as 0 L, as it is not stated" not in document["assumed"]
    light = document_of(sample("light-at-the-flag"))
    assert "fuel.unusable is taken as 0 L, as it is not stated" in light["assumed"]


def test_a_what_if_is_marked() -> None:
    document = document_of(sample("light-at-the-flag", what_if=("engine.capacity=1290 cc",)))
    assert document["what_if"] == ["engine.capacity=1290 cc"]
    assert clause_of(document, "3.1")["margin"]["exact"] == "2157/100"


WIDTHS = "facts: {body.front: {unit: mm}, body.rear: {unit: mm}, body.sound: {type: truth}}"


def test_advice_never_counts_and_is_counted_alone() -> None:
    pack = pack_of(
        """
        "1": {title: A, check: {limit: body.front, at_most: 100 mm}, severity: advisory}
        "2": {title: B, check: {limit: body.rear, at_most: 100 mm}}
        """,
        WIDTHS,
    )
    document = document_of(inspection_of(pack, "body: {front: 120 mm, rear: 90 mm}"))
    assert document["complies"] is True
    assert document["counts"]["advice"] == 1
    assert document["counts"]["fail"] == 0
    assert clause_of(document, "1")["outcome"] == "fail"
    assert document["most_pressing"] == ["2"]


def test_each_part_that_is_not_met_is_listed_with_its_own_margin() -> None:
    check = "{all_of: [{limit: body.front, at_most: 100 mm}, {limit: body.rear, at_most: 100 mm}, {holds: body.sound}]}"
    document = document_of(inspection_of(pack_of_check(check, WIDTHS), "body: {front: 120 mm, rear: 130 mm}"))
    clause = clause_of(document, "1")
    assert [item["outcome"] for item in clause["items"]] == ["fail", "fail", "not_shown"]
    assert [item["margin"] and item["margin"]["exact"] for item in clause["items"]] == [
        "-20/1",
        "-30/1",
        None,
    ]
    assert clause["margin"]["exact"] == "-30/1"
    assert clause["not_shown"] == ["body.sound is not stated"]


def test_a_clause_of_one_limit_has_no_items() -> None:
    check = "{limit: body.front, at_most: 100 mm}"
    document = document_of(inspection_of(pack_of_check(check, WIDTHS), "body: {front: 120 mm}"))
    assert clause_of(document, "1")["items"] == []


def test_consequences_stand_only_where_the_clause_fails() -> None:
    pack = pack_of(
        '"1": {title: A, check: {holds: body.sound}, consequence: Out., interpretation: By eye.}', WIDTHS
    )
    good, bad = (document_of(inspection_of(pack, f"body: {{sound: {word}}}")) for word in ("true", "false"))
    assert clause_of(good, "1")["consequence"] == ""
    assert clause_of(bad, "1")["consequence"] == "Out."
    assert clause_of(good, "1")["interpretation"] == "By eye."


def test_the_most_pressing_stand_first_and_counted_things_last() -> None:
    pack = pack_of(
        """
        "1": {title: counted, check: {limit: body.bolts, at_least: 3}}
        "2": {title: near, check: {limit: body.front, at_most: 100 mm}}
        "3": {title: far, check: {limit: body.front, at_most: 200 mm}}
        "4": {title: short, check: {limit: body.rear, at_least: 50 mm}}
        "5": {title: shorter, check: {limit: body.rear, at_least: 80 mm}}
        "6": {title: unknown, check: {holds: body.sound}}
        "7": {title: a list, check: {allowed: [red], of: body.colour}}
        """,
        "facts: {body.front: {unit: mm}, body.rear: {unit: mm}, body.sound: {type: truth}, body.bolts: {type: count},"
        " body.colour: {type: text}}",
    )
    car = "body: {front: 99 mm, rear: 40 mm, bolts: 3, colour: red}"
    assert document_of(inspection_of(pack, car))["most_pressing"] == ["5", "4", "6", "2", "3", "1"]


def test_a_run_that_judged_nothing_complies_with_nothing() -> None:
    check = "{when: body.sound, limit: body.front, at_most: 100 mm}"
    document = document_of(inspection_of(pack_of_check(check, WIDTHS), "body: {sound: false}"))
    assert document["complies"] is None
    assert document["counts"]["not_applicable"] == 1
