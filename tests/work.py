"""How much work something is, counted in calls: the same on every machine, at every hour."""

from __future__ import annotations

import sys
from collections.abc import Callable

from checker.reading.problems import InputError


def operations_of(work: Callable[[], object]) -> int:
    """Calls of functions, those in C too, that the work makes; what it refuses counts as done."""
    count = 0

    def one_more(_frame: object, event: str, _argument: object) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    sys.setprofile(one_more)
    try:
        work()
    except InputError:
        pass
    finally:
        sys.setprofile(None)
    return count
