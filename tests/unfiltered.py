"""A switch for tests alone: with the filter of floats closed, the exact engine judges all."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from checker.kinds.contract.writing import OPEN


@contextmanager
def filter_closed() -> Iterator[None]:
    """Floats tell nothing meanwhile, whoever asks them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("checker.verdict.filtered._of_clause", lambda *_: OPEN)
        yield
