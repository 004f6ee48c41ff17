"""Runs the command line in this process, as its entry point does."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from checker.cli.main import main

ROOT = Path(__file__).resolve().parent.parent.parent


@dataclass(frozen=True)
class Ran:
    """How a command ended, and what it printed."""

    code: int
    out: str
    err: str


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> Ran:
    """Run a command line in this process."""
    code = main(arguments)
    printed = capsys.readouterr()
    return Ran(code, printed.out, printed.err)


def environment(more: Mapping[str, str] | None = None) -> dict[str, str]:
    """This process's environment with the source tree first among the packages."""
    kept = {
        key: value for key, value in os.environ.items() if not key.startswith(("PYTHONIOENCODING", "LC_"))
    }
    return {**kept, "PYTHONPATH": str(ROOT), **(more or {})}


def start(*arguments: str, **more: object) -> subprocess.Popen[bytes]:
    """Start the program as a process of its own, in the root of the source tree."""
    command = [sys.executable, "-m", "checker.cli.main", *arguments]
    options: dict[str, object] = {
        "stdout": subprocess.PIPE,
        "stderr": subprocess.PIPE,
        "cwd": ROOT,
        "env": environment(),
    }
    return subprocess.Popen(command, **{**options, **more})  # type: ignore[call-overload,no-any-return]


def finish(process: subprocess.Popen[bytes]) -> Ran:
    """Wait for its end."""
    out, err = process.communicate(timeout=60)
    return Ran(
        process.returncode, (out or b"").decode("utf-8", "replace"), (err or b"").decode("utf-8", "replace")
    )
