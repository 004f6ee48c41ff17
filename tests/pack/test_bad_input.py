"""Whatever stands in a pack, reading it ends in a pack or in named mistakes; word lists stay in the pack's folder."""

from __future__ import annotations

import copy
import json
import os
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.pack.editions.loading import build_pack, load_edition
from checker.pack.model import Pack
from checker.reading.problems import InputError, Problem
from checker.reading.strict_yaml import parse_document, read_document
from tests.examples import examples
from tests.kinds.workbench import HEAD, inspect, problems_in, read_pack
from tests.pack.folders import write

RULES = Path(__file__).parent / "packs" / "language" / "rules.yaml"
NAME = str(RULES)


def _plain(value: Any) -> Any:
    if isinstance(value, Fraction):
        return float(value)
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    return [_plain(inner) for inner in value] if isinstance(value, list) else value


PACK: Any = _plain(read_document(NAME, "PK").data)


def _paths(value: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(place for key, inner in items for place in _paths(inner, (*path, key)))]


def _at(value: Any, path: tuple[str | int, ...]) -> Any:
    for part in path:
        value = value[part]
    return value


PATHS = _paths(PACK)[1:]
JUNK = st.one_of(
    st.sampled_from(
        (None, True, 0, -1, 10**30, [], {}, ["x"], [["x"]], {"holds": True}, {"limit": "weight.total"})
    ),
    st.sampled_from(
        ("", " ", "any", "no limit", "weight.front_left", "5 mm", "-5 %", "2026-03-01", "12", "9" * 600)
    ),
    st.sampled_from(
        ("up to 5 mm", "first(ballast)", "count(ballast)", "run", "a", "(", "1/0", "stated(car.name)")
    ),
    st.sampled_from(PATHS).map(lambda path: _at(PACK, path)),
    st.text(max_size=12),
)


@examples(60)
@given(
    places=st.lists(st.sampled_from(PATHS), min_size=1, max_size=3),
    junk=st.lists(JUNK, min_size=3, max_size=3),
)
def test_junk_in_a_pack_ends_in_a_pack_or_in_named_mistakes(
    places: list[tuple[str | int, ...]], junk: list[Any]
) -> None:
    changed = copy.deepcopy(PACK)
    for path, value in zip(places, junk, strict=False):
        try:
            _at(changed, path[:-1])[path[-1]] = copy.deepcopy(value)
        except (KeyError, IndexError, TypeError):
            continue  # an earlier change took the place away
    found, pack = _read(changed)
    assert all(problem.code.startswith("PK") and problem.message for problem in found)
    if pack is not None:
        inspect(pack)


def _read(data: Any) -> tuple[tuple[Problem, ...], Pack | None]:
    try:
        pack = build_pack(parse_document(json.dumps(data).encode(), NAME, "PK"))
    except InputError as error:
        return error.problems, None
    return pack.warnings, pack


@pytest.mark.parametrize(
    "text",
    ["", "- a\n", "5\n", "pack: \n", "pack\n", "{}\n", "pack: x\nclauses: []\n", "clauses: {'1': 5}\n"],
)
def test_what_is_no_pack(tmp_path: Path, text: str) -> None:
    write(tmp_path, {"pack.yaml": text})
    with pytest.raises(InputError):
        load_edition(str(tmp_path / "pack.yaml"))


def test_everything_missing_from_the_head_is_told_at_once() -> None:
    found = problems_in("{currency: GBP}")
    assert [p.message for p in found] == [
        f"the pack has no `{key}`" for key in ("pack", "edition", "title", "in_force", "clauses")
    ]
    assert all(p.hint for p in found)


# --- word lists ----------------------------------------------------------------------------------------------


def with_words(folder: Path, name: str, **files: str) -> Path:
    head = 'pack: example\nedition: "1"\ntitle: Example\nin_force: {from: 2026-01-01}\n'
    body = f"materials: {{steel: [], exotic: {{words_from: {name}}}}}\nclauses: {{'1': {{check: {{banned: [exotic]}}}}}}\n"
    return write(folder, {"pack.yaml": head + body, **files}) / "pack.yaml"


def test_words_come_from_a_file_beside_the_pack(tmp_path: Path) -> None:
    file = with_words(tmp_path, "exotic.yaml", **{"exotic.yaml": "- titanium\n- beryllium\n"})
    pack = load_edition(str(file))
    assert pack.vocabulary.materials.belongs("Beryllium", "exotic") is True
    before = pack.sha256
    write(tmp_path, {"exotic.yaml": "- titanium\n"})
    assert load_edition(str(file)).sha256 != before, "the digest covers every file that the rules come from"


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("../exotic.yaml", "PK109"),
        ("/etc/passwd", "PK109"),
        ("inner/../../exotic.yaml", "PK109"),
        ("'..\\exotic.yaml'", "PK109"),
        ("link.yaml", "PK109"),
        ("absent.yaml", "PK109"),
        ("broken.yaml", "PK112"),
        ("text.yaml", "PK108"),
        ("numbers.yaml", "PK108"),
        ("5", "PK108"),
        ("[exotic.yaml]", "PK108"),
    ],
)
def test_a_word_list_that_cannot_be_used(tmp_path: Path, name: str, code: str) -> None:
    write(tmp_path, {"exotic.yaml": "- titanium\n"})
    folder = tmp_path / "pack"
    file = with_words(
        folder, name, **{"broken.yaml": "[", "text.yaml": "titanium\n", "numbers.yaml": "- 5\n"}
    )
    os.symlink(tmp_path / "exotic.yaml", folder / "link.yaml")
    with pytest.raises(InputError) as caught:
        load_edition(str(file))
    assert code in [problem.code for problem in caught.value.problems]


def test_families_may_share_members_and_stand_in_each_other() -> None:
    head = (
        HEAD
        + ", materials: {metal: [light metal, steel], light metal: [aluminium], steel: [], hard: [steel]}"
    )
    tree = read_pack(f"{{{head}, clauses: {{'1': {{check: {{banned: [hard]}}}}}}}}").vocabulary.materials
    assert tree.belongs("aluminium", "metal") is True
    assert tree.belongs("steel", "hard") is True
    assert tree.belongs("aluminium", "hard") is False
    assert tree.belongs("alumnium", "metal") is None
