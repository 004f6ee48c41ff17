"""A pack that was kept is the pack that was read, and counts only as long as its files are what they were."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from copy import copy
from datetime import date
from hashlib import sha256
from io import BytesIO
from itertools import groupby, product
from operator import itemgetter
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.pack.editions.finding import PackFolder, open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.keeping import freezing, kept, thawing
from checker.pack.model import Pack
from checker.reading.problems import InputError
from checker.reading.strict_yaml import read_document
from checker.report.one_car.document import inspection_document
from checker.report.one_car.explanation import explanation_document
from checker.studies.change.comparison import compare
from checker.verdict.run import dated, day_for, inspect_document
from tests.conftest import ROOT
from tests.examples import examples, quick_first
from tests.judged.cases import PACKS, Case, cases

DUNLIN = ROOT / "rulepacks" / "dunlin"
LANGUAGE = ROOT / "tests" / "pack" / "packs" / "language"
CARS = sorted((ROOT / "samples" / "cars").glob("*.yaml"))
ON = date(2026, 5, 3)


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of the test's own, and nothing in memory."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "scrutineering-checker"


@pytest.fixture(autouse=True)
def read_back(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What comes of each look in the cache folder: "kept", or "new"."""
    found: list[str] = []
    really = kept._from_disk

    def noted(*asked: Any) -> Any:
        pack = really(*asked)
        found.append("new" if pack is None else "kept")
        return pack

    monkeypatch.setattr(kept, "_from_disk", noted)
    return found


def as_another_run(folder: Path, on: date = ON) -> Pack:
    """The pack as a run gives it that has nothing in memory."""
    kept._in_memory.clear()
    return kept.pack_on(open_folder(folder), on)


def frozen(pack: Pack) -> Pack:
    thawed = thawing.thaw(
        BytesIO(freezing.freeze("state", ("a", "b"), pack)), lambda *found: found == ("state", ("a", "b"))
    )
    assert thawed is not None
    return thawed[2]


def judged(pack: Pack, car: Path, audience: str) -> Any:
    """The document of a car and how each of its clauses is explained."""
    document = read_document(str(car), "CD")
    on = day_for(document, None, None)
    inspection = inspect_document(pack, dated(document, on), on, audience)
    return inspection_document(inspection), [
        explanation_document(inspection, number) for number in pack.clauses
    ]


@pytest.mark.parametrize(("car", "audience"), quick_first(product(CARS, ["entrant", "official"]), 1))
def test_every_sample_is_judged_alike(car: Path, audience: str, at_root: Path) -> None:  # noqa: ARG001
    on = day_for(read_document(str(car), "CD"), None, None)
    pack = load_pack(open_folder("rulepacks/dunlin"), on)
    assert judged(frozen(pack), car, audience) == judged(pack, car, audience)


def test_every_shape_of_rule_is_kept() -> None:
    pack = load_pack(open_folder(LANGUAGE), ON)
    car = LANGUAGE / "car.yaml"
    assert judged(frozen(pack), car, "entrant") == judged(pack, car, "entrant")


def of_each_pack_one_first() -> list[Case]:
    """Every case, so that the first of them are of different packs."""
    placed = [pair for _, group in groupby(cases(), lambda case: case.pack) for pair in enumerate(group)]
    return [case for _, case in sorted(placed, key=itemgetter(0))]


@pytest.mark.parametrize("case", quick_first(of_each_pack_one_first(), 2))
def test_every_case_of_the_judged_packs_is_judged_alike(case: Case, monkeypatch: pytest.MonkeyPatch) -> None:
    def outcome(made: Callable[[Pack], Pack]) -> Any:
        monkeypatch.setattr("tests.judged.cases.pack_on", lambda folder, on: made(load_pack(folder, on)))
        return inspection_document(case.inspect())

    assert outcome(frozen) == outcome(lambda pack: pack)


@pytest.mark.parametrize(
    "folder", quick_first([*sorted(PACKS.iterdir()), DUNLIN], 2), ids=lambda folder: folder.name
)
def test_what_is_asked_of_its_formulas_and_places_is_answered_alike(folder: Path) -> None:
    pack = (
        load_pack(open_folder(folder), ON)
        if folder == DUNLIN
        else next(load_pack(open_folder(folder), case.on) for case in cases() if case.pack == folder.name)
    )
    again = frozen(pack)
    assert compare(pack, again) == compare(pack, pack) == ()
    for number in pack.clauses:
        path = ("clauses", number, "check")
        assert again.document.span(path) == pack.document.span(path)
    assert again.origins == pack.origins
    for number, clause in pack.clauses.items():
        assert again.clauses[number].span == clause.span
        assert [check.sentence() for check in again.clauses[number].checks] == [
            c.sentence() for c in clause.checks
        ]
        for before, after in zip(clause.checks, again.clauses[number].checks, strict=True):
            for (_, one), (_, other) in zip(before.expressions(), after.expressions(), strict=True):
                assert (one.text, one.uses, one.form) == (other.text, other.uses, other.form)
                assert (one.tree is None) == (other.tree is None)
                if one.tree is not None and other.tree is not None:
                    assert (one.tree.lead, one.tree.prepared) == (other.tree.lead, other.tree.prepared)


@pytest.mark.parametrize("source", [DUNLIN, LANGUAGE], ids=lambda source: source.name)
def test_a_file_that_is_written_while_it_is_compiled_counts_at_the_next_question(
    source: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A list of words too, whose name only the pack itself tells."""
    folder = tmp_path / source.name
    shutil.copytree(source, folder)

    def and_then_somebody_saves(opened: PackFolder, on: date) -> Pack:
        pack = load_pack(opened, on)
        file = Path(list(pack.files)[-1])
        file.write_text(file.read_text("utf-8") + "# saved\n", encoding="utf-8")
        return pack

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr("checker.pack.editions.in_force.load_pack", and_then_somebody_saves)
        before = kept.pack_on(open_folder(folder), ON)
    now = load_pack(open_folder(folder), ON).sha256
    assert before.sha256 != now
    assert kept.pack_on(open_folder(folder), ON).sha256 == as_another_run(folder).sha256 == now


@pytest.mark.parametrize("in_memory", [False, True])
def test_a_list_of_words_that_leads_elsewhere_by_now_is_refused(in_memory: bool, tmp_path: Path) -> None:
    folder, outside = tmp_path / "language", tmp_path / "exotic.yaml"
    shutil.copytree(LANGUAGE, folder)
    as_another_run(folder)
    (folder / "words").mkdir()
    shutil.move(folder / "exotic.yaml", folder / "words" / "exotic.yaml")
    rules = folder / "rules.yaml"
    rules.write_text(rules.read_text("utf-8").replace("exotic.yaml", "words/exotic.yaml"), "utf-8")
    assert outcome(lambda: as_another_run(folder).sha256) == load_pack(open_folder(folder), ON).sha256
    shutil.move(folder / "words" / "exotic.yaml", outside)
    (folder / "words" / "exotic.yaml").symlink_to(outside)
    told = outcome(
        lambda: (kept.pack_on(open_folder(folder), ON) if in_memory else as_another_run(folder)).sha256
    )
    assert told == outcome(lambda: load_pack(open_folder(folder), ON).sha256)
    assert "leads out" in told[0].message


def test_the_second_run_reads_what_the_first_kept(read_back: list[str]) -> None:
    first, second = as_another_run(DUNLIN), as_another_run(DUNLIN)
    assert read_back == ["new", "kept"]
    assert second is not first
    assert second.sha256 == first.sha256


def outcome(action: Callable[[], Any]) -> Any:
    """The car's document, or what is wrong with the pack."""
    try:
        return action()
    except InputError as error:
        return error.problems


@pytest.mark.parametrize(
    ("source", "cars"), quick_first([(PACKS / "lorry", [PACKS / "lorry" / "car.yaml"]), (DUNLIN, CARS)], 1)
)
@settings(examples(40), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_a_byte_that_changes_in_any_file_is_noticed(
    source: Path, cars: list[Path], data: st.DataObject, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Whatever the pack then comes to, that is told: never what was kept."""
    folder = tmp_path_factory.mktemp("pack") / source.name
    shutil.copytree(source, folder)
    car = data.draw(st.sampled_from(cars))
    assert outcome(lambda: judged(as_another_run(folder), car, "entrant")) is not None
    file = data.draw(st.sampled_from(sorted(f for f in folder.rglob("*") if f.is_file())))
    written = bytearray(file.read_bytes())
    at = data.draw(st.integers(0, len(written) - 1))
    written[at] = data.draw(st.integers(0, 255))
    state = file.stat()
    file.write_bytes(written)
    os.utime(file, ns=(state.st_atime_ns, state.st_mtime_ns))  # a clock that stands still hides nothing
    fresh = outcome(lambda: judged(load_pack(open_folder(folder), ON), car, "entrant"))
    assert outcome(lambda: judged(as_another_run(folder), car, "entrant")) == fresh


GONE = ("materials.yaml", "register.yaml", "bulletin.yaml", "cases.yaml")


@pytest.mark.parametrize(("name", "in_memory"), quick_first(product(GONE, [False, True]), 1))
def test_a_file_that_is_gone_is_told_as_if_nothing_had_been_kept(
    name: str, in_memory: bool, tmp_path: Path
) -> None:
    folder = tmp_path / "dunlin"
    shutil.copytree(DUNLIN, folder)
    edition = folder / "2026.1.yaml"
    words = folder / "materials.yaml"
    words.write_text("- unobtainium\n")
    text = edition.read_text("utf-8")
    assert "materials:\n" in text
    edition.write_text(
        text.replace("materials:\n", "materials:\n  strange: {words_from: materials.yaml}\n", 1)
    )
    names = {
        "materials.yaml": words,
        "register.yaml": folder / "approvals.yaml",
        "bulletin.yaml": folder / "2026-B1.yaml",
        "cases.yaml": folder / "2026.1.cases.yaml",
    }
    assert as_another_run(folder).clauses
    names[name].unlink()

    def again() -> Pack:
        return kept.pack_on(open_folder(folder), ON) if in_memory else as_another_run(folder)

    told = outcome(lambda: judged(again(), CARS[0], "entrant"))
    assert told == outcome(lambda: judged(load_pack(open_folder(folder), ON), CARS[0], "entrant"))


def test_a_change_of_the_program_is_noticed(monkeypatch: pytest.MonkeyPatch, read_back: list[str]) -> None:
    as_another_run(DUNLIN)
    sources = kept._sources()
    assert len(sources) > 400
    assert any(name.endswith("limit.py") for name, _, _ in sources)
    name, size, written = sources[7]
    monkeypatch.setattr(kept, "_sources", lambda: [*sources[:7], (name, size, written + 1), *sources[8:]])
    as_another_run(DUNLIN)
    assert read_back == ["new", "new"]


def test_nothing_is_kept_where_that_is_not_wanted(
    monkeypatch: pytest.MonkeyPatch, own_cache: Path, read_back: list[str]
) -> None:
    monkeypatch.setenv(kept.NO_CACHE, "1")
    as_another_run(DUNLIN)
    assert not own_cache.exists()
    monkeypatch.delenv(kept.NO_CACHE)
    as_another_run(DUNLIN)
    monkeypatch.setenv(kept.NO_CACHE, "1")
    as_another_run(DUNLIN)
    assert read_back == ["new", "new", "new"]


def test_what_cannot_be_kept_is_compiled_by_every_run(
    monkeypatch: pytest.MonkeyPatch, own_cache: Path, read_back: list[str]
) -> None:
    def refuse(*_: object) -> bytes:
        raise freezing.CannotFreezeError

    monkeypatch.setattr(freezing, "freeze", refuse)
    as_another_run(DUNLIN)
    as_another_run(DUNLIN)
    assert read_back == ["new", "new"]
    assert not own_cache.exists()


def test_an_object_that_is_only_itself_is_not_kept() -> None:
    pack = copy(load_pack(open_folder(DUNLIN), ON))
    object.__setattr__(pack, "because", object())
    with pytest.raises(freezing.CannotFreezeError):
        freezing.freeze("", (), pack)


@pytest.mark.parametrize(
    "damage", quick_first(["cut", "turned", "empty", "foreign", "other pickle", "no pickle"], 1)
)
def test_a_damaged_file_is_made_anew(damage: str, own_cache: Path, read_back: list[str]) -> None:
    as_another_run(DUNLIN)
    (file,) = own_cache.iterdir()
    whole = file.read_bytes()
    damaged = {
        "cut": whole[:-100],
        "turned": whole[:5000] + bytes([whole[5000] ^ 1]) + whole[5001:],
        "empty": b"",
        "foreign": b"#!/bin/sh\n",
        "other pickle": whole[32:],
        "no pickle": sha256(b"nonsense").digest() + b"nonsense",
    }
    file.write_bytes(damaged[damage])
    as_another_run(DUNLIN)
    as_another_run(DUNLIN)
    assert read_back == ["new", "new", "kept"]
