"""Whatever stands in a file, the reader answers with a car or with problems that have a place."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from checker.car.weights.states import BUILT_IN
from checker.car.weights.weights import PAIRS
from checker.reading.problems import InputError, Problem
from tests.car.cars import COMPLETE, loaded, varied
from tests.car.declaration.test_loading import PARTS, RESERVED

FULL = varied(
    {
        **PARTS,
        **RESERVED,
        "ballast": [{"label": "B1", "mass": "6 kg", "at": {"left_of_centre": "5 mm"}}],
        "documents": [{"kind": "log book", "expires": "2026-12"}],
        "approvals": ["A-1"],
        "instruments": {"pads": {"resolution": "0.5 kg"}},
        "engine": {"capacity": {"value": "1450 cc", "with": "tape"}, "seals": ["a", "b"], "compression": 11},
        "body": {"panel": ["2 mm", "3 mm"], "share": "50 %"},
        "seat": {"made": "2021"},
        "holes": [{"width": "9 mm"}],
    }
)

WORDS = [
    "",
    " ",
    "0 kg",
    "-3 kg",
    "1e9 kg",
    "5 L",
    "99 %",
    "2026-13-01",
    "nan",
    "mid",
    "dry",
    "∞ kg",
    "x" * 200,
]
SCALARS = st.one_of(st.none(), st.booleans(), st.integers(-(10**9), 10**9), st.sampled_from(WORDS), st.text())
JUNK = st.recursive(
    SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(
            st.sampled_from(["value", "with", "at", "name", "count", "parts", "x"]), inner, max_size=3
        ),
    ),
    max_leaves=5,
)


def places(data: Any, here: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every path of the data but the root."""
    if isinstance(data, dict):
        inside = list(data.items())
    elif isinstance(data, list):
        inside = list(enumerate(data))
    else:
        return []
    return [path for key, value in inside for path in ((*here, key), *places(value, (*here, key)))]


def with_junk(data: Any, path: tuple[Any, ...], junk: Any) -> Any:
    if not path:
        return junk
    copy = dict(data) if isinstance(data, dict) else list(data)
    copy[path[0]] = with_junk(copy[path[0]], path[1:], junk)
    return copy


def judge(declaration: Any, readings: Any = None) -> None:
    """Load and weigh the car, or be told with a place what is wrong."""
    found: tuple[Problem, ...] = ()
    try:
        car = loaded(declaration, readings)
    except InputError as error:
        found = error.problems
    if found:
        assert all(problem.message and problem.span for problem in found)
        return
    for state in (None, *car.states(BUILT_IN["any"])):
        weights = car.weights(state)
        for name in PAIRS:
            weights.percentage(name)
        left, right, total = (weights.weight(name) for name in ("left", "right", "total"))
        if isinstance(left, Fraction) and isinstance(right, Fraction):
            assert left + right == total


@given(path=st.sampled_from(places(FULL)), junk=JUNK)
def test_junk_anywhere_in_a_declaration(path: tuple[Any, ...], junk: Any) -> None:
    judge(with_junk(FULL, path, junk))


@given(path=st.sampled_from(places(FULL)), junk=JUNK)
def test_junk_anywhere_in_readings(path: tuple[Any, ...], junk: Any) -> None:
    judge(COMPLETE, with_junk(FULL, path, junk))


@given(junk=JUNK)
def test_junk_for_a_file(junk: Any) -> None:
    judge(junk if isinstance(junk, dict) else {"formula": "dunlin", "car": junk})
