"""A weigh-in for each test, at the end of which its pages have made no mistake of their own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.pages.weigh_in.devices import WeighIn


@pytest.fixture
def weigh_in(tmp_path: Path) -> Iterator[WeighIn]:
    made = WeighIn(tmp_path)
    yield made
    made.office.close()
    assert made.mistakes == []
