"""No module but a kind's own knows of the kind: what is asked of a check goes through its contract."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from checker.kinds import all_kinds
from tests.test_imports import MODULES, PACKAGE, imported

KINDS = PACKAGE / "kinds"

ENGLISH = {
    ("report", "limit"): "a bound, in a sentence, over a column or beside a line of a drawing",
    ("report/meeting/board.py", "allowed"): "what the stewards decided of a protest",
    ("report/meeting/document.py", "allowed"): "the difference that two weighings may show",
    ("report/words/findings.py", "banned"): "what a word is that offends, in a sentence",
    (
        "studies/change/days_in_formulas.py",
        "valid",
    ): "the role of a last day; what has another role is tried both ways",
    ("studies/change/foundation_changes.py", "allowed"): "whether a fact may have several values",
}
"""Words that happen to be the name of a kind too, with the file or the room that says them."""


@cache
def folders_of_kinds() -> dict[str, set[str]]:
    """For each folder of the room the kinds whose own file imports it."""
    found: dict[str, set[str]] = {}
    for key in all_kinds():
        for _, name in imported(KINDS / f"{key}.py"):
            parts = name.split(".")
            if parts[:2] == ["checker", "kinds"] and (KINDS / parts[2]).is_dir():
                found.setdefault(parts[2], set()).add(key)
    return found


def own(file: Path, key: str) -> bool:
    """Whether a file is a kind's own: of its name, or in a folder that it alone imports."""
    inside = file.relative_to(KINDS).parts if file.is_relative_to(KINDS) else ()
    return inside == (f"{key}.py",) or (len(inside) > 1 and folders_of_kinds()[inside[0]] == {key})


def words_in(tree: ast.Module) -> Iterator[str]:
    """Every text of a module but keys of JSON Schema, which has a word `required` of its own."""
    schema: set[int] = set()
    texts: list[ast.Constant] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant):
            texts.append(node)
        elif isinstance(node, ast.Dict):
            schema.update(map(id, node.keys))
        elif isinstance(node, ast.Call) and node.args:
            schema.add(id(node.args[0]))
        elif isinstance(node, ast.Subscript):
            schema.add(id(node.slice))
    for node in texts:
        if isinstance(node.value, str) and not (node.value == "required" and id(node) in schema):
            yield node.value


def named_outside() -> set[tuple[str, str]]:
    found = set()
    named = re.compile(rf"\b(?:{'|'.join(all_kinds())})\b")
    for file in MODULES:
        text = file.read_text("utf-8")
        for word in words_in(ast.parse(text)) if named.search(text) else ():
            if word in all_kinds() and not own(file, word):
                place = file.relative_to(PACKAGE)
                room = place.parts[0]
                found.add((room if (room, word) in ENGLISH else place.as_posix(), word))
    return found


@pytest.mark.deep
def test_no_module_but_its_own_names_a_kind() -> None:
    assert named_outside() == set(ENGLISH)


@pytest.mark.deep
@pytest.mark.parametrize("key", all_kinds())
def test_no_module_but_the_search_imports_a_kind(key: str) -> None:
    wanted = f"checker.kinds.{key}"
    assert [str(file) for file in MODULES if any(name == wanted for _, name in imported(file))] == []
