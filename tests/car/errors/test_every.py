"""What moves one thing is found without making all other sources of error, and is the same."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from checker.car.car import Car
from checker.car.errors.every import sources_of
from tests.car.errors.one_by_one import every_source
from tests.car.errors.test_followed import AT_A_LEVEL, uncertain
from tests.car.test_what_rests_on_what import CARS
from tests.examples import examples


def by_all(car: Car, names: frozenset[str], bound: tuple[str, ...]) -> list[tuple[str, str, object]]:
    """Keys, names and variances of those of all sources that move any of these, one by one."""
    return [
        (one.lever.key, one.name, one.variance)
        for one in every_source(car)
        if one.moves in names and (one.moves.partition(".")[0] in names or one.lever.entry in ("", *bound))
    ]


@examples(60)
@given(st.sampled_from([AT_A_LEVEL, *CARS.values()]), st.data())
def test_sources_of_some_names_are_those_of_all_that_move_them(
    declaration: dict[str, Any], data: st.DataObject
) -> None:
    car = uncertain(declaration)
    moves = sorted({one.moves for one in every_source(car)})
    paths = sorted({one.lever.entry for one in every_source(car)})
    names = frozenset(data.draw(st.sets(st.sampled_from([*moves, *car.all_entries, "no.such"]))))
    bound = tuple(data.draw(st.sets(st.sampled_from(paths))))
    found = sources_of(car, names, bound)
    assert [(one.lever.key, one.name, one.variance) for one in found] == by_all(car, names, bound)
