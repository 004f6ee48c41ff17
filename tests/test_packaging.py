"""What is installed is what is in the tree: every package, the schemas, the rule packs."""

from __future__ import annotations

import fnmatch
import tomllib
from typing import Any

from tests.conftest import ROOT


def project() -> dict[str, Any]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def test_every_folder_with_code_is_installed() -> None:
    named = project()["tool"]["setuptools"]["packages"]
    folders = {file.parent.relative_to(ROOT) for file in (ROOT / "checker").rglob("*.py")}
    assert named == sorted({".".join(folder.parts) for folder in folders} | {"checker.rulepacks"})


def test_every_file_that_is_no_code_is_carried() -> None:
    data = project()["tool"]["setuptools"]["package-data"]
    for package, top in (
        ("checker.rulepacks", "rulepacks"),
        ("checker.report.schemas", "checker/report/schemas"),
    ):
        files = [f for f in (ROOT / top).rglob("*") if f.is_file() and f.suffix not in (".py", ".pyc")]
        assert files
        for file in files:
            name = file.relative_to(ROOT / top).as_posix()
            patterns = [pattern.removeprefix("**/") for pattern in data[package]]
            assert any(fnmatch.fnmatch(name.rpartition("/")[2], pattern) for pattern in patterns), name
    others = [
        f
        for f in (ROOT / "checker").rglob("*")
        if f.is_file() and f.suffix not in (".py", ".pyc", ".json", ".typed")
    ]
    assert others == [], "a new kind of file needs an entry in package-data"


def test_the_project_and_the_package_have_one_version() -> None:
    from checker import __version__

    assert project()["project"]["version"] == __version__
