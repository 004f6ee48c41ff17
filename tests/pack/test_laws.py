"""Laws of judging: what must not matter does not, and what must make it harder or less certain does."""

from __future__ import annotations

import copy
import json
import re
from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, PASS, Assessment
from checker.pack.model import Pack
from checker.reading.printer import to_yaml
from tests.car.cars import made_up_cars
from tests.examples import examples
from tests.kinds.workbench import inspect, read_pack
from tests.strategies import CATEGORIES, FACTS, LISTS, MATERIALS, bounds, cars, checks, length_formulas

Data = dict[str, Any]
MANY = examples(80)


def document(clauses: Data, facts: Data | None = None) -> Data:
    """A pack as plain data."""
    return {
        "pack": "example",
        "edition": "1",
        "title": "Example",
        "in_force": {"from": "2026-01-01"},
        "course": "anticlockwise",
        "facts": FACTS if facts is None else facts,
        "lists": LISTS,
        "categories": CATEGORIES,
        "materials": MATERIALS,
        "clauses": clauses,
    }


def pack_of(clauses: Data, facts: Data | None = None) -> Pack:
    return read_pack(json.dumps(document(clauses, facts)))


def judged(check: Data, car: Data) -> Assessment:
    return inspect(pack_of({"1": {"check": check}}), car).outcomes[0].assessment


def essence(assessment: Assessment) -> tuple[str, Any, str]:
    """What an official reads off an assessment."""
    return assessment.outcome, assessment.margin_value, assessment.item


def places(value: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Every value that can be taken away without taking away an entry."""
    if isinstance(value, dict):
        return [place for key, inner in value.items() for place in places(inner, (*path, key))]
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return [place for at, inner in enumerate(value) for place in places(inner, (*path, at))]
    return [path] if len(path) > 1 else []


def without(car: Data, path: tuple[str | int, ...]) -> Data:
    changed = copy.deepcopy(car)
    at: Any = changed
    for part in path[:-1]:
        at = at[part]
    del at[path[-1]]
    return changed


@MANY
@given(check=checks(), car=cars(), data=st.data())
def test_removing_facts_never_turns_anything_into_a_pass(check: Data, car: Data, data: st.DataObject) -> None:
    before = judged(check, car).outcome
    for _ in range(data.draw(st.integers(1, 3))):
        car = without(car, data.draw(st.sampled_from(places(car))))
    after = judged(check, car).outcome
    if after in (PASS, NOT_APPLICABLE):
        assert before in (PASS, NOT_APPLICABLE)
    if after == FAIL:
        assert before == FAIL


@MANY
@given(check=checks(), car=cars())
def test_taking_a_whole_list_away_never_turns_anything_into_a_pass(check: Data, car: Data) -> None:
    before = judged(check, car).outcome
    for name in ("holes", "components"):
        after = judged(check, {key: value for key, value in car.items() if key != name}).outcome
        assert after not in (PASS, NOT_APPLICABLE) or before in (PASS, NOT_APPLICABLE)


@MANY
@given(some=st.lists(checks(), min_size=2, max_size=4), car=cars(), data=st.data())
def test_the_order_of_clauses_does_not_matter(some: list[Data], car: Data, data: st.DataObject) -> None:
    clauses = {str(number): {"check": check} for number, check in enumerate(some)}
    mixed = {number: clauses[number] for number in data.draw(st.permutations(list(clauses)))}
    one = {o.clause.number: essence(o.assessment) for o in inspect(pack_of(clauses), car).outcomes}
    other = {o.clause.number: essence(o.assessment) for o in inspect(pack_of(mixed), car).outcomes}
    assert one == other


@MANY
@given(check=checks(), car=cars())
def test_renaming_facts_consistently_changes_nothing(check: Data, car: Data) -> None:
    def renamed(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: renamed(inner) for key, inner in value.items()}
        if isinstance(value, list):
            return [renamed(inner) for inner in value]
        return re.sub(r"\bf\.([a-z]+)", r"frame.new_\1", value) if isinstance(value, str) else value

    facts = {renamed(name): attributes for name, attributes in FACTS.items()}
    section = {f"new_{name}": value for name, value in car["f"].items()}
    other = {"frame": section, **{name: car[name] for name in ("holes", "components")}}
    changed = inspect(pack_of({"1": {"check": renamed(check)}}, facts), other).outcomes[0].assessment
    assert essence(changed) == essence(judged(check, car))


@MANY
@given(check=checks(), car=cars())
def test_the_unit_that_a_car_is_declared_in_does_not_matter(check: Data, car: Data) -> None:
    before, after = judged(check, car), judged(check, in_inches(car))
    assert essence(before) == essence(after)


WEIGHTS = (
    {"limit": "weight.total", "at_least": "600 kg", "condition": "any"},
    {"limit": "percentage.inside", "at_most": "53 %", "condition": "any_without_driver"},
    {"limit": "weight.front", "at_most": "1200 lb", "condition": "as_weighed"},
)


@examples(20)
@given(car=made_up_cars(), check=st.sampled_from(WEIGHTS))
def test_kilograms_or_pounds_give_the_same_verdict_and_margin(car: Data, check: Data) -> None:
    declared = {key: value for key, value in car.items() if key not in ("formula", "car")}
    before, after = judged(check, declared), judged(check, in_inches(declared))
    assert (essence(before), before.state) == (essence(after), after.state)


def in_inches(value: Any) -> Any:
    """The same car in inches and pounds, exactly: 25.4 mm are one inch, 0.45359237 kg one pound."""
    if isinstance(value, dict):
        return {key: in_inches(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [in_inches(inner) for inner in value]
    for unit, other, size in ((" mm", "in", "25.4"), (" kg", "lb", "0.45359237")):
        if isinstance(value, str) and value.endswith(unit):
            converted = Fraction(value.removesuffix(unit)) / Fraction(size)
            return f"{converted.numerator}/{converted.denominator} {other}"
    return value


@MANY
@given(check=checks(), car=cars())
def test_the_unit_that_a_bound_is_written_in_does_not_matter(check: Data, car: Data) -> None:
    def metres(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: metres(inner) for key, inner in value.items()}
        if isinstance(value, list):
            return [metres(inner) for inner in value]
        if isinstance(value, str) and value.endswith(" mm") and value[0].isdigit():
            return f"{int(value.removesuffix(' mm')) / 1000:.3f} m"
        return value

    before, after = judged(check, car), judged(metres(check), car)
    assert before.outcome == after.outcome
    if '"0 mm"' not in json.dumps(check):  # a zero bound counts as 1 in the unit it is written in
        assert essence(before) == essence(after)


@MANY
@given(car=cars(), limit=length_formulas(), bound=bounds(), by=st.integers(0, 3))
def test_a_tighter_bound_never_turns_a_fail_into_a_pass(car: Data, limit: str, bound: Data, by: int) -> None:
    def moved(sense: str, text: str) -> str:
        number = int(text.removesuffix(" mm"))
        return f"{number + by if sense in ('at_least', 'above') else number - by} mm"

    strict = {"at_least": "above", "at_most": "below"}
    tighter = {
        sense: moved(sense, text) if sense in ("at_least", "above", "at_most", "below") else text
        for sense, text in bound.items()
    }
    stricter = {strict.get(sense, sense): text for sense, text in bound.items()}
    narrower = {sense: text for sense, text in bound.items() if sense != "tolerance"}
    before = judged({"limit": limit, **bound}, car)
    for harder in (tighter, stricter, narrower):
        after = judged({"limit": limit, **harder}, car)
        assert not (before.outcome == FAIL and after.outcome == PASS)
        if harder is not stricter and before.margin_value is not None and after.margin_value is not None:
            assert after.margin_value <= before.margin_value


@MANY
@given(some=st.lists(checks(), min_size=1, max_size=3), car=cars())
def test_printing_a_pack_and_reading_it_again_is_the_same_pack(some: list[Data], car: Data) -> None:
    pack = pack_of({str(number): {"title": "T", "check": check} for number, check in enumerate(some)})
    again = read_pack(to_yaml(pack.document.data))
    assert again.document.data == pack.document.data
    assert [c.check.sentence() for c in again.clauses.values()] == [
        c.check.sentence() for c in pack.clauses.values()
    ]
    one = [essence(o.assessment) for o in inspect(pack, car).outcomes]
    assert [essence(o.assessment) for o in inspect(again, car).outcomes] == one


@MANY
@given(check=checks())
def test_every_check_can_be_said_and_compared_with_itself(check: Data) -> None:
    first, second = (pack_of({"1": {"check": check}}).clauses["1"].check for _ in range(2))
    assert first.sentence() == second.sentence() != ""
    assert first.compared_with(second).change == "same"
