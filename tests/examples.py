"""How many examples a law is tried on: all in a deep run, a tenth in the quick one; always the same, unless `--anew`.

A build that fails by what was drawn that day tells nothing of the change it judges; the search is a run of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import settings

ANEW, DEEP, QUICK = "anew", "deep", "quick"
_ALL, _FEW = 100, 10

settings.register_profile(ANEW, deadline=None, max_examples=_ALL)  # how long one takes depends on the machine
settings.register_profile(DEEP, deadline=None, max_examples=_ALL, derandomize=True)
settings.register_profile(QUICK, deadline=None, max_examples=_FEW, derandomize=True)


def examples(number: int) -> settings:
    """For a law that wants another number of examples than 100 in a deep run, and so another in the quick one."""
    return settings(max_examples=max(5, number * settings().max_examples // _ALL))


def quick_first(values: Iterable[Any], quick: int = 2) -> list[Any]:
    """Parameters of a long test, the first of which are tried in the quick run too and the rest in the deep one."""
    every = [one if isinstance(one, tuple) else (one,) for one in values]
    return [
        pytest.param(*one, marks=() if place < quick else pytest.mark.deep) for place, one in enumerate(every)
    ]
