"""Results in a file: all at once, or not at all."""

from __future__ import annotations

import json
import os
import stat
from pathlib import Path

import pytest

from checker.cli import output


def test_letters_and_signs_have_an_ascii_form() -> None:
    signs = "≤ ≥ ± – — × 15 °C … → ‘x’ “y” é ß Ł 鷹"
    shown = signs.encode("ascii", errors="checker.ascii").decode()
    assert shown == "<= >= +/- - - x 15 deg C ... -> 'x' \"y\" e ss \\u0141 \\u9df9"


@pytest.mark.parametrize(("told", "width"), [("60", 60), ("150", 150), ("", 80), ("0", 80), ("wide", 80)])
def test_a_pipe_is_as_wide_as_columns_says(monkeypatch: pytest.MonkeyPatch, told: str, width: int) -> None:
    monkeypatch.setenv("COLUMNS", told)
    assert output.width_of_terminal() == width


def test_the_name_of_a_file_that_is_no_text_does_no_harm(tmp_path: Path) -> None:
    file = tmp_path / "report.json"
    output.deliver('{"file": "caf\udce9.yaml"}', str(file))
    assert json.loads(file.read_text("utf-8")) == {"file": "caf\udce9.yaml"}


def test_a_file_is_put_in_its_place_in_one_step(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "report.txt"
    file.write_text("before")

    def fails(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fails)
    with pytest.raises(output.NotWrittenError, match="No space left on device"):
        output.deliver("after", str(file))
    assert file.read_text() == "before"
    assert [path.name for path in tmp_path.iterdir()] == ["report.txt"]


def test_a_file_keeps_its_permissions_and_a_link_its_target(tmp_path: Path) -> None:
    file, link = tmp_path / "report.txt", tmp_path / "latest.txt"
    file.write_text("before")
    file.chmod(0o640)
    link.symlink_to(file)
    output.deliver("after", str(link))
    assert file.read_text() == "after"
    assert link.is_symlink()
    assert stat.S_IMODE(file.stat().st_mode) == 0o640


def test_a_device_is_written_to_and_never_replaced(tmp_path: Path) -> None:
    output.deliver("gone", os.devnull)
    assert not Path(os.devnull).is_file()
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    output.deliver("through", str(pipe))
    assert os.read(reader, 20) == b"through"
    os.close(reader)
    with pytest.raises(output.NotWrittenError, match="nobody reads this pipe"):
        output.deliver("waiting for ever", str(pipe))
    assert stat.S_ISFIFO(pipe.stat().st_mode)


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(output.NotWrittenError, match="No such file or directory"):
        output.deliver("text", str(tmp_path / "absent" / "report.txt"))
