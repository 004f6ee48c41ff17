"""One clause explained: the numbers that went in, where each was read, and how they make the result."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from checker.report.one_car.explain import explanation_text
from checker.report.one_car.explanation import MOST_PARTS, explanation_document
from checker.report.page import Page
from checker.verdict.inspection import Inspection
from checker.verdict.run import Request, inspect_request
from tests.building import inspection_of, pack_of, pack_of_check
from tests.examples import quick_first
from tests.report.documents import STORIES, explained, sample

pytestmark = pytest.mark.usefixtures("at_root")


def printed(inspection: Inspection, clause: str, width: int = 80) -> str:
    page = Page(width)
    explanation_text(explained(inspection, clause), page)
    return page.text()


def places(part: dict[str, Any]) -> dict[str, str]:
    """Where each value of a part was read, as file:line."""
    return {
        one["name"]: f"{one['place']['file']}:{one['place']['line']}"
        for one in part["read"]
        if one["place"] is not None
    }


def test_what_was_read_is_told_on_its_side_and_with_gear_that_somebody_named() -> None:
    text = printed(sample("legal"), "3.3")
    assert "fuel.at.right_of_centre 60 mm " in text, "as it is declared, though levers count to the left"
    assert "fuel.density 0.750 kg/L  " in text, (
        "with the pack's hydrometer for all that is known, but nobody says so"
    )


def test_tyres_of_which_nobody_says_that_they_were_fitted_are_told_set_by_set(tmp_path: Path) -> None:
    car = tmp_path / "car.yaml"
    car.write_text(Path("samples/cars/legal.yaml").read_text().replace("  tyres: dry\n", ""))
    text = printed(inspect_request(Request(str(car))), "3.3")
    lines = [" ".join(line.split()) for line in text.splitlines()]
    assert "weighing.tyres is not stated" in lines
    assert "dry tyres not known" in lines
    read = [line.split()[0] for line in lines if line.startswith("tyres.")]
    assert read == [f"tyres.{name}.{axle}.section" for axle in ("front", "rear") for name in ("dry", "wet")]


@pytest.mark.parametrize(
    ("name", "clause"),
    [("light-at-the-flag", "3.1"), ("hidden-alloy", "5.8"), ("legal", "2.4"), ("pads-that-disagree", "3.1")],
)
def test_a_clause_reads_as_accepted(name: str, clause: str, golden: Callable[[str, str], None]) -> None:
    golden(f"explain-{name}-{clause}.txt", printed(sample(name), clause))


@pytest.mark.parametrize("name", quick_first(STORIES, 1))
def test_every_clause_of_every_sample_can_be_explained(name: str) -> None:
    inspection = sample(name)
    for outcome in inspection.outcomes:
        wide = [
            line for line in printed(inspection, outcome.clause.number, 40).splitlines() if len(line) > 40
        ]
        assert all(re.fullmatch(r"      samples/cars/\S+", line) for line in wide), wide


def test_an_unknown_clause_is_none_of_its_business() -> None:
    with pytest.raises(KeyError):
        explanation_document(sample("legal"), "99.9")


def test_a_weight_is_made_up_of_the_weighing_and_what_differs() -> None:
    (part,) = explained(sample("light-at-the-flag"), "3.1")["parts"]
    (weight,) = part["weights"]
    assert weight["state"] == "0 L on board, driver out, dry tyres, worn"
    assert [step["words"] for step in weight["steps"]] == [
        "as weighed",
        "fuel from 14 L to 0 L",
        "tyres and brakes worn",
    ]
    assert [step["weight"]["exact"] for step in weight["steps"]] == ["594/1", "-1043/100", "-2/1"]
    total = sum(Fraction(step["weight"]["exact"]) for step in weight["steps"])
    assert total == Fraction(weight["sum"]["exact"]) == Fraction("581.57")


def test_a_percentage_shows_both_of_its_weights() -> None:
    (part,) = explained(sample("creeping-inside"), "3.3")["parts"]
    assert [(w["name"], w["sum"]["value"]) for w in part["weights"]] == [
        ("weight.inside", "312.03"),
        ("weight.total", "585.1"),
    ]


def test_every_value_is_shown_where_it_was_read(at_root: Any) -> None:
    (part,) = explained(sample("light-at-the-flag"), "3.1")["parts"]
    lines = (at_root / "samples/cars/light-at-the-flag.yaml").read_text().splitlines()
    read = {one["name"]: one for one in part["read"]}
    for name in ("weighing.readings[0].front_left", "fuel.density", "wear.rear_right", "engine.capacity"):
        line = lines[read[name]["place"]["line"] - 1]
        assert name.rpartition(".")[2] in line
        assert read[name]["written"] in line


def test_the_formula_stands_with_numbers_in_place() -> None:
    (part,) = explained(sample("legal"), "2.4")["parts"]
    workings = {working["role"]: working for working in part["workings"]}
    ratio = workings["compression_ratio"]
    assert ratio["with_numbers"] == "(357 cc + 36.5 cc) / 36.5 cc"
    assert Fraction(ratio["result"]["exact"]) == Fraction("393.5") / Fraction("36.5")
    assert workings["at_most"]["result"]["value"] == "11.2"


def test_a_component_is_shown_by_its_own_line_and_a_default_as_one() -> None:
    (part,) = explained(sample("hidden-alloy"), "5.8")["parts"]
    assert part["item"] == "pivot bracket"
    found = places(part)
    assert (
        found["pivot bracket: materials"] != found["pivot bracket: category"]
    )  # the category is its assembly's
    default = next(one for one in part["read"] if one["name"] == "pivot bracket: original_casting")
    assert (default["written"], default["origin"], default["place"]) == ("false", "default", None)


def test_who_stated_a_value_is_marked() -> None:
    readings = "samples/readings/ballast-by-another-name.yaml"
    inspection = sample("ballast-by-another-name", readings=readings, what_if=("results.carried_over=1 kg",))
    (part,) = explained(inspection, "3.6")["parts"]
    ruling = next(one for one in part["read"] if one["name"] == "rulings.ballast_parts_mass")
    assert (ruling["origin"], ruling["place"]["file"]) == ("readings", readings)
    assert "(an official's)" in printed(inspection, "3.6")
    (part,) = explained(inspection, "3.9")["parts"]
    assert next(o for o in part["read"] if o["name"] == "results.carried_over")["origin"] == "what-if"
    assert "(what if)" in printed(inspection, "3.9")


FACTS = """
facts: {body.a: {unit: mm}, body.b: {unit: mm}}
lists: {rods: {known_by: name, fields: {name: {type: text}, bore: {unit: mm}}}}
"""


def test_what_is_not_stated_is_named() -> None:
    inspection = inspection_of(pack_of_check("{limit: body.a, at_most: 10 mm}", FACTS))
    (part,) = explained(inspection, "1")["parts"]
    assert part["workings"][0]["result"] is None
    assert part["workings"][0]["not_shown"] == ["body.a is not stated"]
    assert part["read"][0] == {
        "name": "body.a",
        "written": None,
        "origin": None,
        "instrument": None,
        "instrument_named": False,
        "place": None,
    }
    text = printed(inspection, "1")
    assert "not known: body.a is not stated" in text


def test_of_a_long_list_only_what_decides_is_explained() -> None:
    pack = pack_of_check("{each: rods, limit: bore, at_most: 10 mm}", FACTS)
    rods = ", ".join(f"{{name: rod {n}, bore: {n} mm}}" for n in range(1, 10))
    met = explained(inspection_of(pack, f"rods: [{rods}]"), "1")
    assert [part["item"] for part in met["parts"]] == ["rod 9"]
    assert met["other_parts"] == 8
    over = ", ".join(f"{{name: rod {n}, bore: {n} mm}}" for n in range(4, 20))
    failing = explained(inspection_of(pack, f"rods: [{over}]"), "1")
    assert len(failing["parts"]) == MOST_PARTS
    assert all(part["outcome"] == "fail" for part in failing["parts"])
    assert failing["other_parts"] == 16 - MOST_PARTS


def test_a_sum_over_a_list_names_the_entries_that_went_in() -> None:
    pack = pack_of_check("{limit: sum(r.bore for r in rods), at_most: 10 mm}", FACTS)
    inspection = inspection_of(pack, "rods:\n  - {name: left, bore: 4 mm}\n  - {name: right, bore: 5 mm}")
    (part,) = explained(inspection, "1")["parts"]
    found = places(part)
    left, right = (int(found[f"{side}: bore"].rpartition(":")[2]) for side in ("left", "right"))
    assert right == left + 1


def test_pairs_show_both_entries() -> None:
    pack = pack_of_check("{pairs: rods, limit: abs(a.bore - b.bore), at_most: 3 mm}", FACTS)
    inspection = inspection_of(pack, "rods: [{name: left, bore: 4 mm}, {name: right, bore: 5 mm}]")
    (part,) = explained(inspection, "1")["parts"]
    assert {"left: bore", "right: bore"} <= set(places(part))
    assert part["workings"][0]["with_numbers"] == "abs(4 mm - 5 mm)"


def test_guards_and_names_made_for_a_check_are_shown() -> None:
    check = "{when: body.b > 1 mm, let: {half: body.a / 2}, limit: half, at_most: 10 mm}"
    inspection = inspection_of(pack_of_check(check, FACTS), "body: {a: 16 mm, b: 2 mm}")
    (part,) = explained(inspection, "1")["parts"]
    workings = {working["role"]: working for working in part["workings"]}
    assert workings["when"]["with_numbers"] == "2 mm > 1 mm"
    assert workings["half"]["with_numbers"] == "16 mm / 2"
    assert workings["limit"]["result"]["exact"] == "8/1"


def test_a_clause_that_does_not_apply_says_why() -> None:
    check = "{when: body.b > 1 mm, limit: body.a, at_most: 10 mm}"
    text = printed(inspection_of(pack_of_check(check, FACTS), "body: {a: 16 mm, b: 1 mm}"), "1")
    assert "does not apply: 1 mm > 1 mm is false" in text


def test_a_clause_outside_its_days_has_no_parts() -> None:
    pack = pack_of('"1": {title: A, check: {limit: body.a, at_most: 1 mm}, since: 2027-01-01}', FACTS)
    document = explained(inspection_of(pack, "body: {a: 16 mm}"), "1")
    assert (document["parts"], document["other_parts"], document["rule"]["check"]) == ([], 0, "")
