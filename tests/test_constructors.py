"""What is told apart by its place only is short: more than seven arguments are given by their names."""

from __future__ import annotations

import ast

from tests.test_imports import PACKAGE

MOST = 7


def positional(made: ast.ClassDef) -> int:
    """How many arguments of a dataclass may be given by their place."""
    decorators = [ast.unparse(one) for one in made.decorator_list if "dataclass" in ast.unparse(one)]
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
        for one in ast.walk(ast.parse(file.read_text("utf-8")))
        if isinstance(one, ast.ClassDef)
    ]
    assert sum(positional(one) > 0 for _, one in made) > 100
    assert [f"{file}: {one.name}" for file, one in made if positional(one) > MOST] == []
