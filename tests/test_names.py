"""One word, one meaning: no two public classes of the program bear one name; and no file that one reads at no sitting."""

from __future__ import annotations

import ast
from collections import Counter

from tests.conftest import ROOT
from tests.test_imports import MODULES, tree_of


def test_no_two_public_classes_bear_one_name() -> None:
    names = Counter(
        node.name
        for file in MODULES
        for node in tree_of(file).body
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_")
    )
    assert [name for name, times in names.items() if times > 1] == []


def test_no_file_is_longer_than_one_reads_at_a_sitting() -> None:
    lines = {str(file.relative_to(ROOT)): len(file.read_text("utf-8").splitlines()) for file in MODULES}
    assert {name: number for name, number in lines.items() if number > 300} == {}
