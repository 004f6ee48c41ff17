"""Tab in a shell: commands, options, files, packs and clauses; in the real shell where it is installed."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from checker.cli.main import main
from tests.cli.running import ROOT, environment, run

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]


def offered(capsys: Capsys, monkeypatch: pytest.MonkeyPatch, line: str) -> list[str]:
    """What is offered behind a line, as fish is answered: kind, value and help."""
    words = line.split(" ")
    monkeypatch.setenv("_CHECKER_COMPLETE", "fish_complete")
    monkeypatch.setenv("COMP_WORDS", " ".join(words[:-1]))
    monkeypatch.setenv("COMP_CWORD", words[-1])
    assert main(()) == 0
    printed = capsys.readouterr()
    assert printed.err == ""
    return printed.out.splitlines()


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("checker insp", "plain,inspect\tJudge cars by every clause: met or not, by how much, what to do."),
        (
            "checker pack sw",
            "plain,sweep\tHow many cars fail at each value of a limit, to choose the number.",
        ),
        ("checker inspect --for ", "plain,official"),
        ("checker inspect samples/ca", "file,samples/ca"),
        ("checker inspect car.yaml --readings r", "file,r"),
        ("checker pack show rule", "plain,rulepacks/dunlin\tdunlin"),
        ("checker inspect --pack rule", "plain,rulepacks/dunlin\tdunlin"),
        ("checker explain samples/cars/legal.yaml 3.1", "plain,3.1\tMinimum weight"),
        ("checker explain absent.yaml --pack rulepacks/dunlin 3.1", "plain,3.1\tMinimum weight"),
        ("checker pack show rulepacks/dunlin@2026-05-03 --clause 3.1", "plain,3.1\tMinimum weight"),
        ("checker meeting board d", "file,d"),
    ],
)
def test_what_is_offered(capsys: Capsys, monkeypatch: pytest.MonkeyPatch, line: str, wanted: str) -> None:
    found = offered(capsys, monkeypatch, line)
    assert any(one == wanted or one.startswith(f"{wanted}\t") for one in found), found


@pytest.mark.parametrize(
    "line", ["checker explain absent.yaml 3", "checker pack sweep absent 3", "checker meeting rule day 27 3"]
)
def test_nothing_is_offered_where_nothing_is_known(
    capsys: Capsys, monkeypatch: pytest.MonkeyPatch, line: str
) -> None:
    assert "".join(offered(capsys, monkeypatch, line)) == ""


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_each_shell_gets_its_script(capsys: Capsys, monkeypatch: pytest.MonkeyPatch, shell: str) -> None:
    monkeypatch.setenv("_CHECKER_COMPLETE", f"{shell}_source")
    ran = run(capsys)
    assert ran.code == 0
    assert f"_CHECKER_COMPLETE={shell}_complete" in ran.out


@pytest.mark.skipif(shutil.which("bash") is None, reason="bash is not installed")
def test_bash_itself_completes(tmp_path: Path) -> None:
    program = tmp_path / "checker"
    program.write_text(f'#!/bin/sh\nexec {sys.executable} -m checker "$@"\n')
    program.chmod(0o755)
    script = (
        'eval "$(_CHECKER_COMPLETE=bash_source checker)"\n'
        "COMP_WORDS=(checker pack sh); COMP_CWORD=2\n"
        "_checker_completion checker sh pack\n"
        'printf "%s\\n" "${COMPREPLY[@]}"; complete -p checker\n'
    )
    env = environment()
    env["PATH"] = f"{tmp_path}:{env['PATH']}"
    done = subprocess.run(
        ["bash", "-c", script], env=env, cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[0] == "show"
    assert "-F _checker_completion checker" in done.stdout
