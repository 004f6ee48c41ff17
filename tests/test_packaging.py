"""What is installed is what is in the tree: every package, the schemas, the rule packs."""

from __future__ import annotations

import fnmatch
import importlib.util
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import ROOT


def project() -> dict[str, Any]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def test_every_folder_with_code_is_installed() -> None:
    named = project()["tool"]["setuptools"]["packages"]
    folders = {file.parent.relative_to(ROOT) for file in (ROOT / "checker").rglob("*.py")}
    assert named == sorted({".".join(folder.parts) for folder in folders} | {"checker.rulepacks"})


def test_every_file_that_is_no_code_is_carried() -> None:
    data = project()["tool"]["setuptools"]["package-data"]
    tops = {"checker.rulepacks": ROOT / "rulepacks"}
    tops |= {package: ROOT / package.replace(".", "/") for package in data if package not in tops}
    carried = {
        file
        for package, top in tops.items()
        for file in (one for one in top.rglob("*") if one.is_file())
        for pattern in data[package]
        if fnmatch.fnmatch(file.relative_to(top).as_posix(), pattern.removeprefix("**/"))
    }
    there = {
        file
        for top in (ROOT / "checker", ROOT / "rulepacks")
        for file in top.rglob("*")
        if file.is_file() and file.suffix not in (".py", ".pyc")
    }
    assert there
    assert there - carried == set(), "a new kind of file needs an entry in package-data"


def test_the_project_and_the_package_have_one_version() -> None:
    from checker import __version__

    assert project()["project"]["version"] == __version__


@pytest.mark.deep
@pytest.mark.skipif(importlib.util.find_spec("pip") is None, reason="pip is not installed")
def test_a_folder_made_as_the_readme_says_installs_without_the_internet(tmp_path: Path) -> None:
    """And what it installs works outside the tree, with the packs that come with it called by name."""
    assert "pip wheel -w checker-offline ." in (ROOT / "README.md").read_text("utf-8")
    tree = tmp_path / "tree"
    shutil.copytree(ROOT, tree, ignore=shutil.ignore_patterns(".*", "build", "*.egg-info", "__pycache__"))
    made = ran(tree, sys.executable, "-m", "pip", "wheel", "-w", "checker-offline", ".")
    assert "Warning" not in made
    ran(tmp_path, sys.executable, "-m", "venv", "laptop")
    pip = (str(tmp_path / "laptop/bin/python"), "-m", "pip", "install", "--no-index", "--find-links")
    ran(tmp_path, *pip, str(tree / "checker-offline"), "scrutineering-checker")
    checker = str(tmp_path / "laptop/bin/checker")
    assert "Minimum weight" in ran(tmp_path, checker, "pack", "show", "dunlin", "--clause", "3.1")
    car = str(tree / "samples/cars/legal.yaml")
    assert "complies with every clause" in " ".join(ran(tmp_path, checker, "inspect", car).split())


def ran(folder: Path, *command: str) -> str:
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=600)
    assert done.returncode == 0, done.stderr
    return done.stdout
