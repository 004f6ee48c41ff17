"""A meeting under test, as officials type it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import Ran, run

FOUR = ("155.0", "141.0", "153.0", "141.0")


class Day:
    """A meeting under test: commands without the words that are always the same."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder = folder
        self.file = str(folder / "day.meeting")
        self.capsys = capsys

    def __call__(self, command: str, *arguments: str) -> Ran:
        return run(self.capsys, "meeting", command, self.file, *arguments)

    def put(self, name: str, text: str) -> str:
        (self.folder / name).write_text(text)
        return str(self.folder / name)
