"""The bar is for people at a terminal only, and leaves nothing behind."""

from __future__ import annotations

import pytest

from checker.cli import progress
from checker.cli.progress import each

Capsys = pytest.CaptureFixture[str]


def test_nothing_is_printed_where_no_terminal_is(capsys: Capsys) -> None:
    assert list(each(range(3))) == [0, 1, 2]
    assert capsys.readouterr() == ("", "")


def test_a_terminal_sees_how_far_it_is_and_then_a_clear_line(
    capsys: Capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(progress, "stderr_is_terminal", lambda: True)
    assert list(each(range(4))) == [0, 1, 2, 3]
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "[############............] 2 of 4" in printed.err
    assert printed.err.endswith("\r\x1b[K")


def test_a_single_car_has_no_bar(capsys: Capsys, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(progress, "stderr_is_terminal", lambda: True)
    assert list(each(["car"])) == ["car"]
    assert capsys.readouterr().err == ""
