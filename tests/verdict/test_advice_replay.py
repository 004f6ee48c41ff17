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
from checker.kinds.judging.acts import Act, Acts, Advice, Do
from checker.kinds.judging.assessment import FAIL, TOO_CLOSE
from checker.quantities.units import parse_unit
from checker.report.acts import acts_data
from checker.report.one_car.document import outcome_data
from checker.report.words.acts import act_words
from checker.verdict.advice import advised
from checker.verdict.axes import (
    axis_of,
    done,
)
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
        axes = [axis_of(act, it.car) for act in way]
        if any(act.enough is False for act in way):
            assert any(
                "helps" in (words := act_words(act)) or "not enough" in words or "settles" in words
                for act in way
            )
            tried += 1
        elif None in axes:
            untried += 1
            assert all(act.enough is None for act in way)
        else:
            amounts = {axis: as_read(act) for axis, act in zip(axes, way, strict=True) if axis is not None}
            car = done(it.car, amounts)
            (after,) = (
                o
                for o in inspect_car(it.pack, car, it.on, it.audience, only=[number]).outcomes
                if o.clause.number == number
            )
            assert all(act.enough for act in way)
            assert after.outcome not in (FAIL, TOO_CLOSE), f"{number}: {'; '.join(map(act_words, way))}"
            tried += 1
    _parts_agree(outcome)
    return tried, untried


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


@pytest.mark.parametrize("name", quick_first(STORIES, 4))
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
