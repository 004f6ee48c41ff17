"""Whatever cars are told to do, in text and in JSON, is done on them as told; then the clause is met, or it says not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.car.car import Car
from checker.car.described.standard import WHEELS
from checker.kinds.judging.acts import Act, Acts, Advice, Do, Untried
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, PASS, TOO_CLOSE
from checker.quantities.units import parse_unit
from checker.report.acts import acts_data
from checker.report.one_car.document import outcome_data
from checker.report.words.acts import act_words
from checker.verdict.advice import advised
from checker.verdict.axes import Axis, axis_of, done
from checker.verdict.deeds import deed_of, materials_tried
from checker.verdict.inspection import Inspection, Outcome, inspect_car
from tests.examples import examples, quick_first
from tests.report.documents import STORIES, sample

pytestmark = pytest.mark.usefixtures("at_root")
_UP = (Do.ADD, Do.RAISE, Do.SPEND_MORE)
_MORE = Fraction(1, 10**9)


def ways(advice: Advice | None) -> Iterator[list[Act]]:
    """Each way that is told to be enough, with all that it asks for."""
    if isinstance(advice, Acts) and advice.any_one:
        for one in advice.acts:
            yield from ways(one)
    elif isinstance(advice, Acts):
        below = [list(ways(one)) for one in advice.acts]
        yield [act for one in below for act in one[0]]  # of a choice among several things to do, the first
    elif advice is not None:
        yield [advice]


def as_read(act: Act) -> Fraction:
    """The amount as JSON gives it, which the text says too, in base units and with its sign."""
    (data,) = acts_data(act)
    amount = data["amount"]
    assert amount["value"] in act_words(act)
    assert (data["from"], data["to"]) == (act.start or None, act.end or None)
    read = Fraction(amount["value"]) * (parse_unit(amount["unit"], "GBP").factor if amount["unit"] else 1)
    if act.do is Do.MOVE:
        rises = act.end in ("left", "inside", "front")
    elif act.do is Do.SHIFT_LOAD:
        rises = act.end.startswith("front outside")
    else:
        rises = act.do in _UP
    return (read + (_MORE if act.more else 0)) * (1 if rises else -1)


def replayed(it: Inspection, outcome: Outcome) -> tuple[int, int]:
    """How many ways were done, and how many could not be; each holds what it says."""
    number, tried, untried = outcome.clause.number, 0, 0
    for way in ways(outcome.assessment.act):
        assert all((act.enough is None) == (act.untried is not None) for act in way)
        if any(act.enough is False for act in way):
            assert any(any(so in act_words(act) for so in ("helps", "not enough", "settles")) for act in way)
            tried += 1
        elif any(act.untried not in (None, Untried.OPEN) for act in way):
            untried += 1
            assert all(act.enough is None and "not tried" in act_words(act) for act in way)
        else:
            after = {
                judged(it, number, done(car, amounts))
                for amounts in with_amounts(it.car, way)
                for car in with_deeds(it.car, way)
            }
            says = f"{number}: {'; '.join(map(act_words, way))}"
            if all(act.enough for act in way):
                assert after & {PASS, NOT_APPLICABLE}, says
            else:
                assert not after & {PASS, NOT_APPLICABLE, FAIL, TOO_CLOSE}, says
                assert "as far as is known" in says
            tried += 1
    _parts_agree(outcome)
    return tried, untried


def with_amounts(car: Car, way: list[Act]) -> Iterator[dict[Axis, Fraction]]:
    """What is done along each axis; once for each entry that a sum is made of."""
    summed = next((act.summed for act in way if act.summed is not None), None)
    entries = [e.path for e in car.every_entry(summed[0])] if summed else [""]
    for path in entries:
        amounts = {}
        for act in way:
            axis = axis_of(act, car)
            if act.summed is not None:
                axis = (act.summed[0], path, act.summed[1])
            if axis is not None:
                amounts[axis] = as_read(act)
        yield amounts


def with_deeds(car: Car, way: list[Act]) -> Iterator[Car]:
    """The car with all done that is no amount; once for each material that may take another's place."""
    for material in materials_tried(way, car):
        changed = car
        for act in way:
            deed = deed_of(act, changed, material)
            changed = changed if deed is None else deed(changed)
        yield changed


def judged(it: Inspection, number: str, car: Car) -> str:
    outcomes = inspect_car(it.pack, car, it.on, it.audience, only=[number]).outcomes
    return next(o.outcome for o in outcomes if o.clause.number == number)


def _parts_agree(outcome: Outcome) -> None:
    """What an entry is told to do is what was tried for the whole clause."""
    whole = {_bare(one): one["enough"] for one in _flat(acts_data(outcome.assessment.act))}
    for item in outcome_data(outcome)["items"]:
        for one in _flat(item["acts"]):
            assert one["enough"] == whole.get(_bare(one), one["enough"])
            if one["amount"] is not None and _bare(one) not in whole:
                assert one["enough"] is None


def _flat(acts: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for one in acts:
        if one["do"] == "one_of":
            for way in one["ways"]:
                yield from _flat(way)
        else:
            yield one


def _bare(one: dict[str, Any]) -> str:
    return repr({key: value for key, value in one.items() if key not in ("item", "enough")})


def replay(it: Inspection) -> int:
    """All that an inspection tells to do is done; how much of it could be."""
    after = advised(it)
    found = [replayed(after, o) for o in after.outcomes if o.outcome in (FAIL, TOO_CLOSE)]
    return sum(tried for tried, _ in found)


@pytest.mark.parametrize("name", quick_first(STORIES))
def test_what_a_sample_car_is_told_to_do_holds(name: str) -> None:
    replay(sample(name))


def near(car: Car, loads: tuple[int, ...], pieces: int, fuel: int) -> Car:
    """A car with other loads on its wheels, heavier ballast, and other fuel on board."""
    if car.weighing.shape == WHEELS:
        shift = {wheel: Fraction(kg, 2) for wheel, kg in zip(WHEELS, loads, strict=True)}
        car = car.with_weighing(car.weighing.shifted([shift] * car.weighings))
    for entry in car.every_entry("ballast"):
        if entry.stated("mass") is not None:
            car = car.with_field("ballast", entry.path, "mass", None, Fraction(pieces, 4))
    if car.stated("weighing.fuel") is not None:
        car = car.with_value("weighing.fuel", None, Fraction(fuel, 10) * 10**6)
    return car


_SHIFT = st.integers(-24, 24)


@pytest.mark.deep
@settings(examples(60))
@given(
    st.sampled_from(STORIES),
    st.tuples(_SHIFT, _SHIFT, _SHIFT, _SHIFT),
    st.integers(0, 20),
    st.integers(0, 20),
    st.sampled_from(["entrant", "official"]),
)
def test_what_cars_near_their_limits_are_told_to_do_holds(
    name: str, loads: tuple[int, ...], pieces: int, fuel: int, audience: str
) -> None:
    it = sample(name)
    car = near(it.car, loads, pieces, fuel)
    replay(replace(inspect_car(it.pack, car, it.on, audience), what_if=()))


def test_the_law_tries_what_it_is_about() -> None:
    """A car that fails on weights is told what can be done as data."""
    it = sample("light-at-the-flag")
    heavy = near(it.car, (20, -10, 20, -10), 20, 0)
    assert replay(inspect_car(it.pack, heavy, it.on, "entrant")) >= 2
