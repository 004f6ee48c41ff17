"""Every reader against changed input, by chance; `tests.deep.fuzzing` does the same guided by coverage."""

from __future__ import annotations

import random

import pytest

from tests.deep.fuzzing import TARGETS, WORDS, changed, seeds_of, tried
from tests.examples import quick_first

SEED = 20260503
TRIED = {"record": 400, "pack": 400, "car": 800}
OTHERS = 3000


@pytest.mark.deep
@pytest.mark.parametrize("target", TARGETS)
def test_changed_input_is_read_or_refused_with_its_place_and_in_time(target: str) -> None:
    rnd = random.Random(SEED)
    pool = list(seeds_of(target))
    assert pool
    for _ in range(TRIED.get(target, OTHERS)):
        data = rnd.choice(pool)
        for _ in range(rnd.randint(1, 4)):
            data = changed(data, rnd, WORDS)
        tried(target, data)


@pytest.mark.parametrize("target", quick_first(TARGETS, 3))
def test_what_a_run_begins_with_is_sound(target: str) -> None:
    for seed in seeds_of(target):
        TARGETS[target](seed)
