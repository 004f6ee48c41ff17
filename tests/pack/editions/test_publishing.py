from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.editions.loading import build_pack
from checker.pack.editions.publishing import as_yaml
from checker.pack.model import Pack
from checker.reading.strict_yaml import parse_document
from tests.building import inspection_of
from tests.examples import examples, quick_first
from tests.pack.folders import EDITION, bulletin, loaded, write

ON = date(2026, 7, 1)
CHANGES = (
    '{change: "1", at: check.at_most, for: 1400 mm, read: 1390 mm}',
    '{withdraw: "10"}',
    '{add: "3", read: {title: Short, check: {limit: frame.length, at_least: 900 mm}}}',
    '{change: tables.longest, at: "rows[1].value", for: 1900 mm, read: 1910 mm}',
    '{change: "2", at: severity, read: advisory}',
    '{change: "1", at: earlier, read: [{before: 2024-01-01, until: 2026-12-31, check: none}]}',
)


def read_back(pack: Pack) -> Pack:
    return build_pack(parse_document(as_yaml(pack, ON).encode(), "printed.yaml", "PK"))


def test_comments_tell_what_a_bulletin_did(tmp_path: Path) -> None:
    text = as_yaml(loaded(tmp_path, B1=bulletin("\n".join(CHANGES))), ON)
    lines = [line.strip() for line in text.splitlines()]
    assert lines[0] == "# Kart rules, edition 1, as in force on 2026-07-01."
    assert lines[1] == "# With bulletin B1, in force from 2026-06-01: For a test"
    days = "bulletin B1, in force from 2026-06-01"
    assert lines[lines.index("at_most: 1390 mm") - 1] == f"# changed by {days}; before: 1400 mm"
    assert lines[lines.index("value: 1910 mm") - 1] == f"# changed by {days}; before: 1900 mm"
    assert lines[lines.index('"3":') - 1] == f"# added by {days}"
    gone = lines[lines.index("clauses:") - 1]
    assert gone.startswith(f"# clause 10 withdrawn by {days}; before: title: Engine check:")


def test_words_of_other_files_stand_in_it_and_cases_do_not(tmp_path: Path) -> None:
    more = "materials: {exotic: {words_from: exotic.yaml}}\ncases: cases.yaml\n"
    write(tmp_path, {"edition.yaml": EDITION + more, "exotic.yaml": "[titanium, magnesium]\n"})
    pack = load_pack(open_folder(tmp_path), ON)
    text = as_yaml(pack, ON)
    assert "words_from" not in text
    assert "cases" not in text
    assert read_back(pack).vocabulary.materials.families("titanium") == ("exotic",)


def test_a_word_in_quotes_stays_a_word(tmp_path: Path) -> None:
    table = 'rows:\n      - {kind: "3 door", value: 1 kg}\n      - {kind: any, value: 2 kg}\n'
    more = f"  doors:\n    by: [kind]\n    {table}"
    write(tmp_path, {"edition.yaml": EDITION.replace("clauses:", f"{more}clauses:")})
    pack = load_pack(open_folder(tmp_path), ON)
    assert [row["kind"] for row in read_back(pack).tables["doors"].rows] == ["3 door", "any"]


@settings(examples(30), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    chosen=st.sets(st.integers(0, len(CHANGES) - 1), min_size=1),
    width=st.integers(1380, 1410),
    length=st.integers(890, 1920),
    capacity=st.sampled_from([80, 100, 101, 126]),
    built=st.sampled_from(["2023-12-31", "2024-01-01"]),
)
def test_what_is_printed_judges_every_car_alike(
    tmp_path: Path, chosen: set[int], width: int, length: int, capacity: int, built: str
) -> None:
    pack = loaded(tmp_path, B1=bulletin("\n".join(CHANGES[place] for place in sorted(chosen))))
    car = (
        f'car: {{number: "7", chassis_built: {built}}}\n'
        f"frame: {{width: {width} mm, length: {length} mm}}\nengine: {{capacity: {capacity} cc}}\n"
    ).replace("formula: test", "")
    said = [
        [(o.clause.number, o.outcome, o.assessment.margin) for o in inspection_of(one, car, ON).outcomes]
        for one in (_renamed(pack), _renamed(read_back(pack)))
    ]
    assert said[0] == said[1]


def _renamed(pack: Pack) -> Pack:
    """The pack under the name that the cars of these tests are declared for."""
    from dataclasses import replace

    return replace(pack, vocabulary=replace(pack.vocabulary, pack="test"))


@pytest.mark.parametrize("on", quick_first(["2025-05-01", "2026-05-01", "2026-07-05", "2026-08-01"], 1))
def test_every_text_of_the_dunlin_formula_reads_back(on: str) -> None:
    from checker.studies.change.comparison import compare

    day = date.fromisoformat(on)
    pack = load_pack(open_folder(Path(__file__).parents[3] / "rulepacks/dunlin"), day)
    again = build_pack(parse_document(as_yaml(pack, day).encode(), "printed.yaml", "PK"))
    assert compare(pack, again) == ()
    assert again.document.get(("clauses", "3.3")) == pack.document.get(("clauses", "3.3"))
