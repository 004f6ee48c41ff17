"""What floats clear is what the exact engine says, and what they cannot tell they leave to it."""

from __future__ import annotations

from datetime import date

import pytest

from checker.car.declaration.loading import load_car
from checker.cli.editions import edition_named
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, PASS
from checker.reading.strict_yaml import read_document
from checker.verdict.clause_by_clause import ClauseByClause
from checker.verdict.filtered import cleared
from checker.verdict.inspection import inspect_car
from checker.verdict.run import dated
from tests.building import DAY, car_of, pack_of, pack_of_check
from tests.conftest import ROOT
from tests.deep.test_cleared import attack, told_of
from tests.examples import quick_first
from tests.verdict.test_approvals import CITED, WIDE, with_register

FACTS = (
    "{f.a: {type: number, uncertainty: 0.5}, f.b: {type: number, uncertainty: 0.5}, f.sure: {type: number}}"
)
SAMPLES = sorted(path.name for path in (ROOT / "samples/cars").iterdir())


@pytest.mark.parametrize("sample", quick_first(SAMPLES))
@pytest.mark.parametrize("audience", quick_first(["entrant", "official"], 1))
def test_what_is_cleared_of_a_sample_car_is_what_the_engine_says(sample: str, audience: str) -> None:
    on = date(2026, 7, 5)
    pack = edition_named(str(ROOT / "rulepacks/dunlin/2026.1.yaml"), on)
    document = dated(read_document(ROOT / "samples/cars" / sample, "CD"), on)
    car = load_car(document, pack.vocabulary, audience=audience)
    told = cleared(pack, car, on, audience)
    exact = {one.clause.number: one.outcome for one in inspect_car(pack, car, on, audience).outcomes}
    assert told == {number: exact[number] for number in told}
    assert len(told) >= len(exact) - 10, sorted(exact.keys() - told.keys())


def test_what_is_cleared_of_random_cars_is_what_the_engine_says() -> None:
    assert attack(20)[PASS] > 10


@pytest.mark.parametrize(
    ("check", "facts", "outcome"),
    [
        ("{limit: f.a, at_most: 3}", "a: 2", PASS),
        ("{limit: f.a, at_most: 3}", "a: 4", FAIL),
        ("{limit: f.a, at_most: 3}", "a: 2.2", None),
        ("{limit: f.a, at_most: 3}", "", None),
        ("{limit: f.sure, at_most: 3}", "sure: 3", PASS),
        ("{limit: f.sure, below: 3}", "sure: 3", FAIL),
        ("{limit: f.sure / 3, at_most: 1}", "sure: 3", None),
        ("{limit: f.sure, at_most: 3, when: f.a > 2}", "sure: 4, a: 4", FAIL),
        ("{limit: f.sure, at_most: 3, when: f.a > 2}", "sure: 4, a: 2.5", None),
        ("{limit: f.sure, at_most: 3, when: f.a > 2}", "sure: 4, a: 1", NOT_APPLICABLE),
        ("{any_of: [{limit: f.a, at_most: 3}, {limit: f.b, at_most: 3}]}", "a: 3, b: 1", PASS),
        ("{all_of: [{limit: f.a, at_most: 3}, {limit: f.b, at_most: 3}]}", "a: 3, b: 5", FAIL),
        ("{limit: f.a - f.a, exactly: 0}", "a: 3", None),
        ("{limit: f.sure / (f.a - 1), at_most: 3}", "sure: 1, a: 1", None),
    ],
)
def test_what_floats_tell_of_a_check(check: str, facts: str, outcome: str | None) -> None:
    """Near a limit or an edge, of a margin of nothing that is not exact, and of what is not stated they tell nothing."""
    pack = pack_of_check(check, f"facts: {FACTS}")
    assert cleared(pack, car_of(pack, f"f: {{{facts}}}"), DAY, "entrant").get("1") == outcome


def test_a_margin_of_words_is_of_the_car_it_is_told_of() -> None:
    """Found once for the same words, however often the entry stands that has them."""
    facts = "lists: {rods: {known_by: name, fields: {name: {type: text}}}}\ncategories: [frame]\nmaterials: {tin: []}"
    pack = pack_of(
        """
        "1": {check: {banned: [r1], of: rods}}
        "2": {check: {any_of: [{within: frame, banned: [tin]}, {within: frame, limit: mass, above: 9 kg}]}}
        """,
        facts,
    )
    for count in (3, 1, 2):
        made = f"{{name: r1, category: frame, mass: 1 kg, materials: [tin], count: {count}}}"
        car = car_of(pack, f"rods: [{{name: r1, count: {count}}}]\ncomponents: [{made}]")
        told = ClauseByClause(pack, car, DAY, "entrant")
        exact = inspect_car(pack, car, DAY, "entrant").outcomes
        assert [told.measured(n).margin for n in "12"] == [one.assessment.margin for one in exact]


def test_what_is_met_by_no_limit_has_its_value_beside_it() -> None:
    table = "tables: {most: {by: [x], rows: [{x: up to 2, value: no limit}, {x: above 2, value: 3}]}}"
    pack = pack_of_check("{limit: f.sure, at_most: most(f.sure)}", f"facts: {FACTS}\n{table}")
    car = car_of(pack, "f: {sure: 1}")
    told = ClauseByClause(pack, car, DAY, "entrant").measured("1")
    assert told_of(told) == told_of(inspect_car(pack, car, DAY, "entrant").outcomes[0].assessment)
    assert told.value is not None
    assert told.margin is None


def test_a_clause_in_anothers_place_is_told_by_both() -> None:
    pack = pack_of(
        """
        "1": {check: {limit: f.sure, at_most: 3}}
        "2": {instead_of: ["1"], check: {limit: f.sure, at_most: 9, when: f.a > 2}}
        """,
        f"facts: {FACTS}",
    )

    def told(a: str) -> dict[str, str]:
        return dict(cleared(pack, car_of(pack, f"f: {{sure: 4, a: {a}}}"), DAY, "entrant"))

    assert told("4") == {"1": NOT_APPLICABLE, "2": PASS}
    assert told("1") == {"1": FAIL, "2": NOT_APPLICABLE}
    assert told("2.1") == {}


def test_what_an_approval_may_change_is_left_to_the_engine() -> None:
    pack = with_register('reference: A-1, clauses: ["4.2"], cars: ["7"], until: 2026-12-31, reason: Old')
    assert "4.2" in cleared(pack, car_of(pack, WIDE), DAY, "entrant")
    assert "4.2" not in cleared(pack, car_of(pack, CITED + WIDE), DAY, "entrant")


def test_text_of_a_pack_is_never_code() -> None:
    pack = pack_of_check(
        """{limit: "count(c for c in f.words if c == 'x: import os')", at_most: 0, when: "f.kind == '\\"); 1/0 #'"}""",
        "facts: {f.words: {type: text, several: true}, f.kind: {type: text}}",
    )
    car = car_of(pack, "f: {words: [a], kind: b}")
    assert cleared(pack, car, DAY, "entrant") == {"1": NOT_APPLICABLE}


@pytest.mark.parametrize("grown", ["d{} + 1", "d{0} + d{0}"])
def test_names_that_rest_on_many_names_are_told_or_left_to_the_engine(grown: str) -> None:
    derived = ", ".join(f"d{at + 1}: {{formula: {grown.format(at)}}}" for at in range(40))
    pack = pack_of_check(
        "{limit: d40, at_least: 3}", f"facts: {FACTS}\nderived: {{d0: {{formula: f.sure}}, {derived}}}"
    )
    assert cleared(pack, car_of(pack, "f: {sure: 9}"), DAY, "entrant").get("1") in (PASS, None)
