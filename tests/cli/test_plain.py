"""`inspect CAR` without options takes a shorter way, and nobody can tell."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from checker.cli.main import is_plain
from tests.cli.running import environment, finish, run, start
from tests.conftest import ROOT
from tests.examples import quick_first

CARS = sorted(f"samples/cars/{file.name}" for file in (ROOT / "samples" / "cars").glob("*.yaml"))
OTHERS = [
    "rulepacks/dunlin/2026.1.yaml",
    "samples/cars",
    "no-such.yaml",
    "",
    "README.md",
    "samples/cars/legal.yam",
]


@pytest.mark.parametrize("car", quick_first([*OTHERS, *CARS], len(OTHERS) + 2))
def test_it_prints_and_ends_as_the_command_with_an_option_that_changes_nothing(
    car: str, capsys: pytest.CaptureFixture[str], at_root: Path
) -> None:
    assert at_root.is_dir()
    assert is_plain(["inspect", car])
    assert run(capsys, "inspect", car) == run(capsys, "inspect", car, "--for", "entrant")


@pytest.mark.parametrize(
    "arguments", [["inspect"], ["inspect", "-h"], ["inspect", "a", "b"], ["explain", "a"], []]
)
def test_everything_else_is_read_by_the_library(arguments: list[str]) -> None:
    assert not is_plain(arguments)


@pytest.mark.deep
def test_a_process_ends_with_the_code_and_all_that_it_printed(
    capsys: pytest.CaptureFixture[str], at_root: Path
) -> None:
    assert at_root.is_dir()
    for car in (CARS[0], "no-such.yaml"):
        plain = finish(start("inspect", car))
        assert plain == run(capsys, "inspect", car, "--for", "entrant")
    assert "no-such.yaml" in plain.err


NEVER = {
    "click",
    "inspect",
    "dataclasses",
    "jsonschema",
    "rich",
    "mpmath",
    "icalendar",
    "pkgutil",
    "statistics",
    "random",
    "textwrap",
    "checker.report.one_car.document",
    "checker.report.one_car.missing",
    "checker.report.one_car.not_met",
    "checker.report.acts",
    "checker.report.words.findings",
    "checker.studies.one_car.missing",
    "checker.kinds.frame.legal_fuel",
    "checker.kinds.frame.in_floats",
    "checker.kinds.limiting.comparing",
    "checker.kinds.limiting.in_floats",
}
ONLY_TO_COMPILE = {
    "checker.pack.editions.in_force",
    "checker.pack.editions.finding",
    "checker.pack.editions.folder_files",
    "checker.pack.editions.file_heads",
    "checker.pack.keeping.freezing",
    "checker.kinds.limiting.reading",
    "checker.pack.editions.consolidation",
    "checker.pack.editions.loading",
    "checker.pack.sections.clauses",
    "checker.pack.sections.facts",
    "checker.pack.sections.tables",
    "pathlib",
    "pickle",
    "urllib.parse",
}


def test_what_is_not_needed_is_not_loaded(tmp_path: Path) -> None:
    code = (
        "import sys\nbefore = set(sys.modules)  # by the way in which this program is installed\n"
        "from checker.cli.main import main\nmain(['inspect', 'samples/cars/legal.yaml'])\n"
        f"asked = {sorted(NEVER | ONLY_TO_COMPILE)!r}\n"
        "print([[n for n in asked if n in before], [n for n in asked if n in sys.modules and n not in before]])"
    )
    loaded = []
    for _ in ("compiled", "kept"):
        done = subprocess.run(
            [sys.executable, "-c", code],
            cwd=ROOT,
            env=environment({"XDG_CACHE_HOME": str(tmp_path)}),
            capture_output=True,
            text=True,
            check=True,
        )
        loaded.append(ast.literal_eval(done.stdout.splitlines()[-1]))
    before = set(loaded[0][0])
    assert [after for _, after in loaded] == [sorted(ONLY_TO_COMPILE - before), []]
