"""Tab in zsh and fish themselves, driven as a user drives them; bash stands with the other tests of completion."""

from __future__ import annotations

import os
import re
import select
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.cli.running import ROOT, environment

pytestmark = pytest.mark.client

LINES = {
    "checker pack sw": "sweep",
    "checker inspect --for off": "official",
    "checker inspect --read": "--readings",
    "checker pack show rulep": "rulepacks/dunlin",
    "checker pack show rulepacks/dunlin --clause 3.10": "3.10",
    "checker explain samples/cars/legal.yaml 4.": "4.1",
    "checker inspect samples/cars/leg": "samples/cars/legal.yaml",
}
"""By what is typed: what is among the answers."""


@pytest.fixture
def env(tmp_path: Path) -> dict[str, str]:
    """An environment in which `checker` is this tree's."""
    program = tmp_path / "bin" / "checker"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec {sys.executable} -m checker "$@"\n')
    program.chmod(0o755)
    return environment(
        {"PATH": f"{program.parent}:{os.environ['PATH']}", "HOME": str(tmp_path), "TERM": "dumb"}
    )


@pytest.mark.skipif(shutil.which("fish") is None, reason="fish is not installed")
@pytest.mark.parametrize("line", LINES)
def test_fish_completes(env: dict[str, str], line: str) -> None:
    script = f"_CHECKER_COMPLETE=fish_source checker | source; complete -C '{line}'"
    done = subprocess.run(
        ["fish", "--no-config", "-c", script], env=env, cwd=ROOT, capture_output=True, text=True, timeout=60
    )
    assert done.stderr == ""
    assert LINES[line] in [answer.partition("\t")[0] for answer in done.stdout.splitlines()]


@pytest.mark.skipif(shutil.which("zsh") is None, reason="zsh is not installed")
@pytest.mark.parametrize("line", LINES)
def test_zsh_completes(env: dict[str, str], line: str) -> None:
    """In a terminal, as zsh completes only there; what Tab leaves on the line is printed back."""
    import pty

    child, terminal = pty.fork()
    if child == 0:
        os.chdir(ROOT)
        os.execvpe("zsh", ["zsh", "-f", "-i"], env)
    try:
        tell(terminal, "PS1='ready> '; unsetopt zle_bracketed_paste; bindkey -e; setopt menu_complete\n")
        tell(terminal, "autoload -Uz compinit && compinit -u && echo begun''\n")
        shown(terminal, "begun\r")
        tell(terminal, "eval \"$(_CHECKER_COMPLETE=zsh_source checker)\"; echo learnt''\n")
        shown(terminal, "learnt\r")
        tell(terminal, f"{line}\t")
        assert LINES[line].removeprefix(line.rpartition(" ")[2]) in shown(terminal, LINES[line])
    finally:
        os.close(terminal)
        os.waitpid(child, 0)


def tell(terminal: int, text: str) -> None:
    os.write(terminal, text.encode())


def shown(terminal: int, awaited: str) -> str:
    """What the terminal shows until a text stands there, or for twenty seconds."""
    told, end = "", time.monotonic() + 20
    while awaited not in told and time.monotonic() < end:
        if select.select([terminal], [], [], 0.2)[0]:
            told += re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", os.read(terminal, 65536).decode("utf-8", "replace"))
    return told
