from __future__ import annotations

from pathlib import Path

import pytest

from tests.judged.broken import BROKEN, differences, expected


@pytest.mark.parametrize("file", sorted(BROKEN.rglob("*.yaml")), ids=lambda file: file.stem)
def test_every_mistake_is_told_where_it_stands_and_nothing_else_is(file: Path) -> None:
    assert list(expected(file.read_text(encoding="utf-8"))), "the file's comments expect nothing"
    assert differences(file) == []
