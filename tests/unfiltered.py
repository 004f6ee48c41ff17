"""A switch for tests alone: with the filter of floats closed, the exact engine judges all."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

_USED_BY = (
    "checker.verdict.clause_by_clause.told_by_floats",
    "checker.studies.change.endings.cleared",
    "checker.studies.fleet.swept_floats.told_by_floats",
)


@contextmanager
def filter_closed() -> Iterator[None]:
    """Floats tell nothing meanwhile."""
    with pytest.MonkeyPatch.context() as patch:
        for used in _USED_BY:
            patch.setattr(used, lambda *_, **__: {})
        yield
