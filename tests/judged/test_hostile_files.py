from __future__ import annotations

import os
from pathlib import Path

import pytest

from checker.pack.editions.loading import load_edition
from checker.pack.lint.everything import lint
from checker.reading.problems import InputError

PACK = """\
pack: hostile
edition: "1"
title: Hostile
in_force: {from: 2026-01-01}
facts: {body.width: {unit: mm}}
clauses: {"1": {check: {limit: body.width, at_most: 3 mm}}}
"""
BOMB = "bomb:\n" + "".join(
    f"  b{i}: &b{i} [{', '.join(['x' if i == 1 else f'*b{i - 1}'] * 10)}]\n" for i in range(1, 12)
)


def refused(folder: Path, more: str) -> list[str]:
    """The codes of everything reported, in order; [] where the pack is read."""
    file = folder / "rules.yaml"
    file.write_text(PACK + more, encoding="utf-8")
    try:
        load_edition(str(file))
    except InputError as error:
        return [problem.code for problem in error.problems]
    return []


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A pack's folder, a secret beside it, and links that lead to it."""
    (tmp_path / "secret.yaml").write_text("- titanium\n", encoding="utf-8")
    inside = tmp_path / "pack"
    (inside / "lists").mkdir(parents=True)
    (inside / "lists" / "exotic.yaml").write_text("- titanium\n", encoding="utf-8")
    (inside / "map.yaml").write_text("titanium: 1\n", encoding="utf-8")
    (inside / "link.yaml").symlink_to(tmp_path / "secret.yaml")
    (inside / "way").symlink_to(tmp_path)
    (inside / "loop.yaml").symlink_to("loop.yaml")
    os.mkfifo(inside / "pipe.yaml")
    return inside


@pytest.mark.parametrize(
    ("name", "codes"),
    [
        ("lists/exotic.yaml", []),
        ("../secret.yaml", ["PK109"]),
        ("lists/../../secret.yaml", ["PK109"]),
        ("link.yaml", ["PK109"]),
        ("way/secret.yaml", ["PK109"]),
        ("..\\secret.yaml", ["PK109"]),
        ("/etc/hostname", ["PK109"]),
        ("loop.yaml", ["PK109"]),
        ("pipe.yaml", ["PK109"]),
        ("lists", ["PK109"]),
        (".", ["PK109"]),
        ("absent.yaml", ["PK109"]),
        ("map.yaml", ["PK108"]),
    ],
)
def test_word_lists_are_ordinary_files_of_the_packs_own_folder(
    folder: Path, name: str, codes: list[str]
) -> None:
    assert refused(folder, f"materials: {{exotic: {{words_from: '{name}'}}}}\n") == codes


@pytest.mark.parametrize("name", ["../secret.yaml", "link.yaml", "pipe.yaml", "lists", "absent.yaml"])
def test_cases_are_an_ordinary_file_of_the_packs_own_folder(folder: Path, name: str) -> None:
    file = folder / "rules.yaml"
    file.write_text(f"{PACK}cases: {name}\n", encoding="utf-8")
    (code,) = {problem.code for problem in lint(file) if problem.span and problem.span.file == str(file)}
    assert code == "PK109"


@pytest.mark.parametrize(
    ("more", "code"),
    [
        (BOMB, "PK115"),
        ("x: &r [*r]\n", "PK115"),
        ("defaults: {<<: {condition: any}}\n", "PK115"),
        (f"x: {'[' * 5000}{']' * 5000}\n", "PK117"),
        (f"x: {'{a: ' * 3000}{'}' * 3000}\n", "PK117"),
        (f"derived: {{x: {{formula: {'1+' * 300}1}}}}\n", "PK103"),
        (f"derived: {{x: {{formula: 1{'0' * 5000}}}}}\n", "PK118"),
        ("derived: {x: {formula: 1e999999}}\n", "PK118"),
        ("x: !!python/object/apply:os.system [ls]\n", "PK114"),
        ("title: again\n", "PK113"),
        ("---\npack: other\n", "PK116"),
    ],
)
def test_text_that_is_made_to_harm_is_refused_with_one_report(tmp_path: Path, more: str, code: str) -> None:
    assert refused(tmp_path, more) == [code]
