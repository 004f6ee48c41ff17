"""Tab in a shell: commands, options, files, packs and clauses; in the real shell where it is installed."""

from __future__ import annotations

import json
import resource
import shutil
import subprocess
import sys
from importlib import import_module
from pathlib import Path
from typing import Any

import click
import pytest

from checker.cli.completion import TABLE
from checker.cli.main import main
from checker.cli.program import COMMANDS
from tests.cli.running import ROOT, environment, run

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]


FILES = ("FILE", "CAR", "CARS", "DIR", "REPORT", "HOME", "CLUB", "PLACE", "DAY.meeting")
PACKS = ("PATH", "OLD", "NEW")
CLAUSES = ("CLAUSE", "NUMBER")


def takes(parameter: click.Parameter, command: str) -> str:
    """What a parameter takes, from the word that its help calls it by."""
    word = (parameter.metavar or "").strip("[].")
    if parameter.type is not click.STRING or (command.startswith("meeting") and word in ("CAR", *CLAUSES)):
        return ""  # a car of a meeting is its number
    if word in FILES:
        return "file"
    if word in PACKS and parameter.name != "at":
        return "pack"
    return "clause" if word in CLAUSES else ""


def told(parameter: click.Parameter, command: str) -> dict[str, Any]:
    """A parameter as the table tells it."""
    if isinstance(parameter, click.Option):
        names = [*parameter.opts, *parameter.secondary_opts]
        one: dict[str, Any] = {
            "option": names,
            "help": parameter.help,
            "flag": parameter.is_flag,
            "multiple": parameter.multiple,
        }
    else:
        one = {"argument": parameter.name, "nargs": parameter.nargs}
    choices = list(parameter.type.choices) if isinstance(parameter.type, click.Choice) else None
    return {
        key: value
        for key, value in {**one, "takes": takes(parameter, command), "choices": choices}.items()
        if value
    }


def test_the_table_tells_what_every_command_takes(request: pytest.FixtureRequest) -> None:
    commands = {name: import_module(f"checker.cli.{file}").command for name, file in COMMANDS.items()}
    table = {
        name: {
            "help": one.get_short_help_str(limit=200),
            "params": [told(param, name) for param in one.params],
        }
        for name, one in commands.items()
    }
    if request.config.getoption("--accept"):
        lines = ",\n".join(
            f"{json.dumps(name)}: {json.dumps(one, ensure_ascii=False)}" for name, one in table.items()
        )
        TABLE.write_text(f"{{\n{lines}\n}}\n", "utf-8")
    assert json.loads(TABLE.read_text("utf-8")) == table, "pytest --accept renews it"


def processor_s(code: str, **more: str) -> float:
    """Of a program of Python's, the least of three runs."""
    runs = []
    for _ in range(3):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(
            [sys.executable, "-c", code], env=environment(more), cwd=ROOT, capture_output=True, check=True
        )
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        runs.append(after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime)
    return min(runs)


@pytest.mark.deep
@pytest.mark.parametrize(
    ("words", "typed"),
    [
        ("checker pack", "sw"),
        ("checker inspect", "--read"),
        ("checker pack show", "rulep"),
        ("checker explain samples/cars/legal.yaml", "3."),
    ],
)
def test_it_takes_about_as_long_as_a_bare_start(words: str, typed: str) -> None:
    bare = processor_s("import yaml, click")
    asked = {"_CHECKER_COMPLETE": "bash_complete", "COMP_WORDS": words, "COMP_CWORD": typed}
    asked["COMP_WORDS"], asked["COMP_CWORD"] = f"{words} {typed}", str(len(words.split()))
    assert (
        processor_s("import sys; sys.argv[1:] = []; from checker.cli.main import run; run()", **asked)
        < 2.5 * bare
    )


def test_nothing_that_judges_is_loaded() -> None:
    code = (
        "import sys; from checker.cli.main import main; main(()); "
        "print(sorted({m.split('.')[1] for m in sys.modules if m.startswith('checker.')}), file=sys.stderr)"
    )
    for words in ("checker pack s", "checker pack show r", "checker explain samples/cars/legal.yaml 3."):
        asked = {
            "_CHECKER_COMPLETE": "bash_complete",
            "COMP_WORDS": words,
            "COMP_CWORD": str(words.count(" ")),
        }
        command = [sys.executable, "-c", code]
        done = subprocess.run(
            command, env=environment(asked), cwd=ROOT, capture_output=True, text=True, check=True
        )
        assert done.stdout
        assert set(json.loads(done.stderr.replace("'", '"'))) <= {"cli", "pack", "quantities", "reading"}


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


@pytest.mark.parametrize(
    "words", [{}, {"COMP_WORDS": 'checker "', "COMP_CWORD": "x"}, {"COMP_WORDS": "checker"}]
)
def test_what_no_shell_asks_is_no_mistake_of_the_program(
    words: dict[str, str], capsys: Capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("_CHECKER_COMPLETE", "bash_complete")
    for name, value in words.items():
        monkeypatch.setenv(name, value)
    assert main([]) == 2
    assert "mistake of its own" not in capsys.readouterr().err
