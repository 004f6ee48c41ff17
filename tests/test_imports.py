"""Imports point one way, and a plain run pays for nothing that it does not use."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

from tests.cli.running import environment
from tests.conftest import ROOT
from tests.examples import each_row, quick_first

FLOW = (
    "reading",
    "quantities",
    "car",
    "kinds",
    "pack",
    "verdict",
    "studies",
    "meeting",
    "report",
    "pages",
    "cli",
)
"""The folders in the order of the flow: an import points to its own folder or to one before it."""

PACKAGE = ROOT / "checker"
MODULES = sorted(PACKAGE.rglob("*.py"))


_IMPORT = re.compile(r"^[ \t]*(?:from|import)[ \t]+([\w.]+)", re.MULTILINE)


@cache
def imported(file: Path) -> tuple[tuple[int, str], ...]:
    """Line and full name of everything of this package that a file imports, wherever in the file."""
    text = file.read_text("utf-8")
    found = [(text.count("\n", 0, one.start(1)) + 1, one[1]) for one in _IMPORT.finditer(text)]
    for line, name in found:
        assert not name.startswith("."), f"{file}:{line} imports by dots; name it in full"
    return tuple((line, name) for line, name in found if name.split(".")[0] == "checker")


def test_there_is_something_to_look_at() -> None:
    folders = {file.relative_to(PACKAGE).parts[0] for file in MODULES if file.parent != PACKAGE}
    assert folders == set(FLOW), "a folder has its place in the flow: add it to FLOW, or take it out"
    assert len(MODULES) > 100


def test_imports_point_one_way() -> None:
    wrong = []
    for file in MODULES:
        if file.parent == PACKAGE:
            continue  # the package itself imports only what it is asked for
        own = FLOW.index(file.relative_to(PACKAGE).parts[0])
        for line, name in imported(file):
            parts = name.split(".")
            if len(parts) > 1 and FLOW.index(parts[1]) > own:
                wrong.append(f"{file.relative_to(ROOT)}:{line} imports {name}")
    assert wrong == []


def parts_of_a_room(room: str) -> dict[str, set[str]]:
    """Each folder of a room, and each file that lies beside them, with those that it imports."""
    found: dict[str, set[str]] = {}
    for file in (PACKAGE / room).rglob("*.py"):
        own = file.relative_to(PACKAGE / room).parts[0].removesuffix(".py")
        for _, name in imported(file):
            inside = name.split(".")[2:] if name.split(".")[1:2] == [room] else None
            if inside is not None and (other := inside[0] if inside else "__init__") != own:
                found.setdefault(own, set()).add(other)
    return found


def in_circles(imports: dict[str, set[str]]) -> set[str]:
    """The parts that come back to themselves by what they import."""

    def reached(start: str) -> set[str]:
        seen: set[str] = set()
        waiting = [start]
        while waiting:
            waiting += (new := imports.get(waiting.pop(), set()) - seen)
            seen |= new
        return seen

    return {part for part in imports if part in reached(part)}


@each_row("room", [room for room in FLOW if (PACKAGE / room).is_dir()])
def test_the_parts_of_a_room_import_each_other_in_no_circle(room: str) -> None:
    """One who follows a value through a room comes back to no folder already left."""
    assert in_circles(parts_of_a_room(room)) == set()


def test_no_files_import_each_other_in_a_circle() -> None:
    """Wherever in the file the import stands. The package's own names lead to everything, when asked for."""
    names = {file: ".".join(file.relative_to(ROOT).with_suffix("").parts) for file in MODULES}
    imports = {names[file]: {name for _, name in imported(file)} for file in MODULES}
    assert in_circles(imports) == set()


def test_a_circle_would_be_seen() -> None:
    assert in_circles({"a": {"b"}, "b": {"c"}, "c": {"b"}}) == {"b", "c"}


def test_the_package_itself_imports_nothing_until_it_is_asked() -> None:
    code = "import sys, checker; print(sorted(m for m in sys.modules if m.startswith('checker.')))"
    assert _python(code) == "[]"


def test_the_guard_against_ctrl_c_stands_before_anything_else_is_loaded() -> None:
    code = "import sys; before = set(sys.modules); import checker.cli.main; print(sorted(set(sys.modules) - before))"
    assert set(ast.literal_eval(_python(code))) <= {
        "__future__",
        "checker",
        "checker.cli",
        "checker.cli.main",
    }


JUDGES = {"checker.verdict.decision", "checker.kinds.judging.ranking", "checker.kinds.judging.spread"}
"""Where outcomes are decided, ranked and their uncertainty is worked out."""


def test_report_and_cli_judge_nothing() -> None:
    """No comparison of exact numbers with each other: they take outcomes and margins as they are."""
    for folder in ("report", "cli"):
        for file in (PACKAGE / folder).rglob("*.py"):
            judges = {name for _, name in imported(file)} & JUDGES
            ranks = (
                {"checker.kinds.judging.ranking"} if file.name == "pressing.py" else set()
            )  # an order to show
            assert judges <= ranks, f"{file.relative_to(ROOT)} imports {judges}"


SLOW = (
    "jsonschema",
    "referencing",
    "rich",
    "jinja2",
    "mpmath",
    "difflib",
    "sqlite3",
    "highspy",
    "numpy",
    "checker.studies.planning.planner",
    "starlette",
    "uvicorn",
    "textwrap",
)


@pytest.mark.parametrize(
    ("arguments", "spared"),
    quick_first(
        [
            (["inspect", "samples/cars/legal.yaml"], SLOW[:-1]),
            (
                ["inspect", "samples/cars/legal.yaml", "--format", "json"],
                (*SLOW, "checker.report.one_car.text"),
            ),
            (["--version"], (*SLOW, "yaml", "checker.reading.strict_yaml")),
            (["inspect", "samples/cars/creeping-inside.yaml", "--for", "official"], SLOW[:-1]),
        ],
        2,
    ),
    ids=["text", "json", "version", "official"],
)
def test_a_plain_run_does_not_load_what_it_does_not_need(
    arguments: list[str], spared: tuple[str, ...]
) -> None:
    code = (
        "import sys, io, contextlib\n"
        "from checker.cli.main import main\n"
        "with contextlib.redirect_stdout(io.StringIO()):\n"
        f"    code = main({arguments!r})\n"
        "print(code, [name for name in sys.modules])"
    )
    ended, _, loaded = _python(code).partition(" ")
    assert ended == ("1" if "official" in arguments else "0")
    assert {name for name in spared if f"'{name}'" in loaded} == set()


def _python(code: str) -> str:
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, cwd=ROOT, env=environment(), capture_output=True, text=True, check=True)
    return done.stdout.strip()


def test_json_is_written_in_one_place() -> None:
    """Else a name could move the cursor of who looks at a document."""
    writers = [file for room in ("cli", "report") for file in sorted((PACKAGE / room).rglob("*.py"))]
    assert [f.name for f in writers if "json.dumps" in f.read_text("utf-8")] == ["json_text.py"]


def test_data_classes_are_the_quick_ones() -> None:
    """Those of the standard library cost a third of the start: import `checker.reading.quick_dataclasses` instead."""
    standard = [file for file in MODULES if "from dataclasses import dataclass" in file.read_text("utf-8")]
    assert [str(file.relative_to(PACKAGE)) for file in standard] == ["reading/quick_dataclasses.py"]


def test_packs_are_compiled_in_two_places() -> None:
    """Whoever asks for the pack of a day gets the one that is kept; a record's frozen files lie there for a moment."""
    compiling = [file for file in MODULES if re.search(r"import .*\bload_pack\b", file.read_text("utf-8"))]
    assert [str(file.relative_to(PACKAGE)) for file in compiling] == [
        "meeting/record/frozen.py",
        "pack/keeping/kept.py",
    ]
