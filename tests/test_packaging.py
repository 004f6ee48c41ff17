"""What is built is what is in the tree, and it installs and works elsewhere."""

from __future__ import annotations

import importlib.util
import re
import shutil
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from pathlib import Path
from typing import Any

import pytest

from tests.cli.running import environment
from tests.conftest import ROOT

LEFT_OUT = shutil.ignore_patterns(
    ".git", ".*_cache", ".venv*", ".hypothesis", ".coverage", "build", "dist", "*.egg-info", "__pycache__"
)


def project() -> dict[str, Any]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def test_the_project_and_the_package_have_one_version() -> None:
    from checker import __version__

    assert project()["project"]["version"] == __version__


def files_of(folder: Path) -> set[str]:
    return {file.relative_to(folder).as_posix() for file in folder.rglob("*") if file.is_file()}


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the tree with what `python -m build` makes of it in `dist`."""
    tree = tmp_path_factory.mktemp("build") / "tree"
    shutil.copytree(ROOT, tree, ignore=LEFT_OUT)
    done = subprocess.run(
        [sys.executable, "-m", "build"], cwd=tree, capture_output=True, text=True, timeout=600
    )
    assert done.returncode == 0, done.stderr
    assert "warning" not in (done.stdout + done.stderr).lower()
    return tree


needs_build = pytest.mark.skipif(importlib.util.find_spec("build") is None, reason="build is not installed")


@pytest.mark.deep
@needs_build
def test_the_source_distribution_holds_the_whole_tree_and_its_tests_run(built: Path, tmp_path: Path) -> None:
    [source] = (built / "dist").glob("*.tar.gz")
    with tarfile.open(source) as packed:
        packed.extractall(tmp_path, filter="data")
    [unpacked] = tmp_path.iterdir()
    in_tree = {name for name in files_of(built) if not name.startswith("dist/")}
    assert files_of(unpacked) == {*in_tree, "PKG-INFO"}
    tests = (
        "tests/test_imports.py",
        "tests/test_readme.py",
        "tests/cli/test_inspect.py",
        "tests/quantities/test_units.py",
    )
    command = (sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", *tests)
    env = environment({"PYTHONPATH": str(unpacked)})
    done = subprocess.run(command, cwd=unpacked, env=env, capture_output=True, text=True, timeout=600)
    assert done.returncode == 0, done.stdout


@pytest.mark.deep
@needs_build
def test_the_wheel_holds_every_file_of_the_program_and_its_packs(built: Path) -> None:
    [wheel] = (built / "dist").glob("*.whl")
    with zipfile.ZipFile(wheel) as packed:
        names = {name for name in packed.namelist() if ".dist-info/" not in name}
    packs = {f"checker/rulepacks/{name}" for name in files_of(built / "rulepacks")}
    assert names == {f"checker/{name}" for name in files_of(built / "checker")} | packs
    assert "checker/py.typed" in names


@pytest.mark.deep
@needs_build
@pytest.mark.skipif(importlib.util.find_spec("twine") is None, reason="twine is not installed")
def test_an_index_would_take_what_is_built(built: Path) -> None:
    files = [str(file) for file in (built / "dist").iterdir()]
    assert "warning" not in ran(built, sys.executable, "-m", "twine", "check", "--strict", *files).lower()


@pytest.mark.deep
@pytest.mark.skipif(importlib.util.find_spec("pip") is None, reason="pip is not installed")
def test_a_folder_made_as_the_readme_says_installs_without_the_internet(tmp_path: Path) -> None:
    """And what it installs works outside the tree, with the packs that come with it called by name."""
    assert "pip wheel -w checker-offline ." in (ROOT / "README.md").read_text("utf-8")
    tree = tmp_path / "tree"
    shutil.copytree(ROOT, tree, ignore=LEFT_OUT)
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


def oldest() -> list[str]:
    """The oldest version that is stated of everything the program itself uses, extras too, for pip."""
    stated = project()["project"]
    needed = [
        *stated["dependencies"],
        *stated["optional-dependencies"]["sign"],
        *stated["optional-dependencies"]["sheets"],
    ]
    return [re.sub(">=", "==", one) for one in needed]


@pytest.mark.deep
@needs_build
def test_with_the_oldest_stated_dependencies_the_program_says_the_same(built: Path, tmp_path: Path) -> None:
    if sys.version_info >= (3, 12):
        pytest.skip("some of the oldest are built for Python 3.11 only")
    [wheel] = (built / "dist").glob("*.whl")
    ran(tmp_path, sys.executable, "-m", "venv", "old")
    ran(tmp_path, str(tmp_path / "old/bin/pip"), "install", "-q", *oldest(), str(wheel))
    car, lapsing, meetings = (
        str(built / "samples" / name)
        for name in ("cars/legal.yaml", "cars/belts-between-meetings.yaml", "season/meetings.yaml")
    )
    ics, xlsx = str(tmp_path / "a.ics"), str(tmp_path / "a.xlsx")
    season = ("calendar", lapsing, "--meetings", meetings, "--on", "2026-03-20", "--ics", ics)
    for words, codes in (
        (("inspect", car, "--format", "json"), {0}),
        (("inspect", car, "--xlsx", "--output", xlsx), {0}),
        (("explain", car, "3.1", "--pack", str(built / "rulepacks/dunlin")), {0}),
        (season, {0, 1}),
        (("pack", "lint", str(built / "rulepacks/dunlin")), {0}),
        (("meeting", "weigh", "absent.meeting"), {3}),
        (("--help",), {0}),
    ):
        now, then = (
            subprocess.run(
                [python, "-m", "checker", *words], cwd=tmp_path, env=env, capture_output=True, text=True
            )
            for python, env in ((sys.executable, environment()), (str(tmp_path / "old/bin/python"), None))
        )
        assert now.returncode in codes, now.stderr
        assert (then.returncode, then.stdout, then.stderr) == (now.returncode, now.stdout, now.stderr)
    assert Path(ics).stat().st_size
    assert Path(xlsx).stat().st_size
