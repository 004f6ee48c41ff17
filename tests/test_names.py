"""What is told apart by its name is, and what by its place only is short: classes, arguments, files."""

from __future__ import annotations

import ast
import re
from collections import Counter
from functools import cache
from pathlib import Path

from tests.conftest import ROOT
from tests.test_imports import MODULES, PACKAGE

MOST = 7
"""Arguments that a constructor takes by their place; more are given by their names."""


_CLASS = re.compile(r"^class ([A-Za-z]\w*)", re.MULTILINE)


@cache
def tree_of(file: Path) -> ast.Module:
    """A module as a tree, read once for all that look through it."""
    return ast.parse(file.read_text("utf-8"))


def test_no_two_public_classes_bear_one_name() -> None:
    names = Counter(name for file in MODULES for name in _CLASS.findall(file.read_text("utf-8")))
    assert len(names) > 100
    assert [name for name, times in names.items() if times > 1] == []


def test_no_file_is_longer_than_one_reads_at_a_sitting() -> None:
    lines = {str(file.relative_to(ROOT)): len(file.read_text("utf-8").splitlines()) for file in MODULES}
    assert {name: number for name, number in lines.items() if number > 300} == {}


def positional(made: ast.ClassDef) -> int:
    """How many arguments of a dataclass may be given by their place."""
    decorators = [told for told in map(ast.unparse, made.decorator_list) if "dataclass" in told]
    if not decorators or any("kw_only=True" in one for one in decorators):
        return 0
    fields = [one for one in made.body if isinstance(one, ast.AnnAssign)]
    names = [ast.unparse(one.annotation) for one in fields]
    before = names.index("KW_ONLY") if "KW_ONLY" in names else len(names)
    own = (one for one in fields[:before] if "init=False" not in ast.unparse(one))
    return sum("ClassVar" not in ast.unparse(one.annotation) for one in own)


def test_no_constructor_takes_many_arguments_by_their_place() -> None:
    made = [
        (file.relative_to(PACKAGE), one)
        for file in PACKAGE.rglob("*.py")
        if "@dataclass" in file.read_text("utf-8")
        for one in ast.walk(tree_of(file))
        if isinstance(one, ast.ClassDef)
    ]
    assert sum(positional(one) > 0 for _, one in made) > 100
    assert [f"{file}: {one.name}" for file, one in made if positional(one) > MOST] == []


def test_no_command_is_handed_its_options_one_by_one() -> None:
    """What belongs together comes as one value (`checker.cli.options.handed`)."""
    commands = {
        str(file.relative_to(PACKAGE)): len(one.args.args) + len(one.args.kwonlyargs)
        for file in (PACKAGE / "cli").rglob("*.py")
        for one in tree_of(file).body
        if isinstance(one, ast.FunctionDef) and one.name == "command"
    }
    assert len(commands) > 30
    assert {name: number for name, number in commands.items() if number > 11} == {}
