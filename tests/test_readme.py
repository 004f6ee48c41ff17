"""Every command that the README shows is run, and prints what the README says it prints.

A line of three dots stands for lines left out. `pytest --accept` puts in what is printed now; of an output with
lines left out it keeps the stretches that begin and end most like those that were shown.
"""

from __future__ import annotations

import re
import shlex
from difflib import SequenceMatcher
from importlib import import_module
from itertools import groupby
from pathlib import Path
from typing import Any

import pytest

from checker.cli.program import COMMANDS
from tests.cli.running import run
from tests.conftest import ROOT

pytestmark = pytest.mark.usefixtures("at_root")

README = ROOT / "README.md"
_BLOCK = re.compile(r"```console\n\$ (checker .*)\n((?:.*\n)*?)```")
_DOTS = "..."


def shown() -> list[tuple[str, str]]:
    """Each command with the output shown below it."""
    return [(match[1], match[2]) for match in _BLOCK.finditer(README.read_text("utf-8"))]


def expanded(command: str) -> list[str]:
    """The arguments as a shell would hand them over."""
    words: list[str] = []
    for word in shlex.split(command)[1:]:
        words += sorted(str(Path(path)) for path in Path().glob(word)) if "*" in word else [word]
    return words


def agrees(expected: str, printed: str) -> bool:
    """Whether what was printed is what is shown, lines left out aside."""
    pattern = "".join(
        r"(?:.*\n)*?" if line == _DOTS else re.escape(line) + r"\n" for line in expected.splitlines()
    )
    return re.fullmatch(pattern, printed) is not None


def renewed(expected: str, printed: str) -> str:
    """What was printed, with about the same lines left out as in what was shown."""
    lines, kept, at = printed.splitlines(), [], 0
    for dots, stretch in groupby(expected.splitlines(), lambda line: line == _DOTS):
        if dots:
            kept.append(_DOTS)
            continue
        shown_before = list(stretch)
        begin = _likest(shown_before[0], lines, at)
        at = _likest(shown_before[-1], lines, begin + min(1, len(shown_before) - 1)) + 1
        kept += lines[begin:at]
    return "".join(f"{line}\n" for line in kept)


def _likest(wanted: str, lines: list[str], start: int) -> int:
    """Where, from `start` on, the line stands that is most like `wanted`; the first of several."""
    return max(
        range(start, len(lines)), key=lambda at: (SequenceMatcher(None, wanted, lines[at]).ratio(), -at)
    )


def _parameters() -> list[Any]:
    """A command for all samples, or that plans with a shelf, takes long and is left to the deep run."""
    return [
        pytest.param(*one, id=one[0], marks=[pytest.mark.deep] if re.search(r"\*|--shelf", one[0]) else [])
        for one in shown()
    ]


@pytest.mark.parametrize(("command", "expected"), _parameters())
def test_a_command_prints_what_is_shown(
    command: str, expected: str, capsys: pytest.CaptureFixture[str], request: pytest.FixtureRequest
) -> None:
    ran = run(capsys, *expanded(command))
    assert ran.code in (0, 1, 3, 4)
    printed = ran.out.replace("\r\n", "\n")  # CSV
    if agrees(expected, printed):
        return
    if request.config.getoption("--accept"):
        text = README.read_text("utf-8")
        output = renewed(expected, ran.out) if expected else ran.out
        old, new = f"$ {command}\n{expected}```", f"$ {command}\n{output}```"
        README.write_text(text.replace(old, new, 1), encoding="utf-8")
        return
    assert printed.splitlines() == expected.splitlines()


def test_an_output_is_renewed_with_the_same_lines_left_out() -> None:
    printed = "car 1\nrules\nweight 580 kg\nfuel 14 L\nwear 2 kg\nresult\n"
    assert renewed("car 1\n...\nweight 581 kg\nfuel 13 L\n...\n", printed) == (
        "car 1\n...\nweight 580 kg\nfuel 14 L\n...\n"
    )
    assert renewed("...\nresult\n", printed) == "...\nresult\n"


def test_lines_left_out_are_just_that() -> None:
    assert agrees("a\n...\nd\n", "a\nb\nc\nd\n")
    assert agrees("a\n...\n", "a\n")
    assert not agrees("a\n...\nd\n", "a\nb\n")
    assert not agrees("a.c\n", "abc\n")


_TABLE = re.compile(r"(<!-- made by pytest --accept -->\n\|.*\n\|.*\n)((?:\|.*\n)*)(<!-- end -->)")


def commands_table() -> str:
    """A row for each command, from its own help."""
    rows = []
    for words, file in COMMANDS.items():
        command = import_module(f"checker.cli.{file}").command
        rows.append(f"| `checker {words}` | {command.get_short_help_str(limit=200)} |\n")
    return "".join(rows)


def test_every_command_stands_in_the_readme(request: pytest.FixtureRequest) -> None:
    text = README.read_text("utf-8")
    if request.config.getoption("--accept"):
        text = _TABLE.sub(lambda found: found[1] + commands_table() + found[3], text)
        README.write_text(text, encoding="utf-8")
    found = _TABLE.search(text)
    assert found is not None
    assert found[2] == commands_table()


def test_the_build_runs_what_the_readme_tells_to_run() -> None:
    inspect, tests = re.findall(r"```sh\n(.*)\n```", README.read_text("utf-8"))
    build = (ROOT / ".ci" / "run").read_text("utf-8")
    assert inspect in build
    assert tests in build


def test_every_file_that_is_named_is_there() -> None:
    named = re.findall(r"(?:samples|rulepacks|checker|tests)/[\w./-]*\w", README.read_text("utf-8"))
    assert named
    for name in named:
        assert (ROOT / name).exists(), name
