"""Every sort of file in a pack's folder, corrupted in every way: what it says is read as before, or it is refused."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.meeting.taking.opening import Opening, open_meeting
from checker.pack.editions.edition import newest
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.lint.everything import lint
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.studies.cases.casebook import read_cases
from checker.verdict.run import inspect_document
from tests.examples import quick_first
from tests.pack.editions.test_folder_files import NARROWER, ON, READ, REFUSED, Corruption
from tests.pack.folders import EDITION, bulletin, write

WORDS, CASES, ANSWERS = "exotic.yaml", "cases.yaml", "answers.yaml"
FILES = {
    "old.yaml": EDITION.replace('"1"\n', '"0"\n', 1).replace("2026-", "2025-"),
    "e.yaml": EDITION.replace(
        "clauses:\n",
        f"categories: [frame]\nmaterials: {{exotic: {{words_from: {WORDS}}}, steel: []}}\ncases: {CASES}\nclauses:\n"
        '  "3": {title: Exotic, check: {banned: [exotic]}}\n',
    ),
    "b.yaml": bulletin(NARROWER),
    "register.yaml": "approvals:\n  - {reference: A-1, clauses: ['10'], from: 2026-01-01, reason: For a test}\n",
    "procedure.yaml": "procedure: kart\nweighings: 2\nreweigh: {when: never}\n",
    ANSWERS: "interpretations:\n  - {number: I-1, clauses: ['1'], asked: 2026-02-01, question: Why, decided: 2026-03-01,"
    " by: The club, answer: 'So.'}\n",
    WORDS: "- beryllium\n- lithium\n",
    CASES: "cases:\n  - {name: wide, set: {frame.width: 1401 mm}, expect: {'1': fail}}\n",
}  # fmt: skip
CAR = b"""{formula: kart, car: {number: '27'}, frame: {width: 1350 mm}, engine: {capacity: 130 cc}, approvals: [A-1],
components: [{name: tube, category: frame, materials: [beryllium]}]}"""

WAYS: dict[str, Corruption] = {
    **{name: corrupt for name, (corrupt, _) in REFUSED.items()},
    **READ,
    "in braces": lambda file: file.write_text(json.dumps(yaml.safe_load(file.read_text()), default=str)),
    "its first word in capitals": lambda file: _first_word(file, str.capitalize),
    "its first word misspelt": lambda file: _first_word(file, lambda word: word[:-2] + word[-1]),
    "its first word in quotes": lambda file: _first_word(file, lambda word: f'"{word}"'),
    "its last line lost": lambda file: file.write_text(file.read_text().rstrip("\n").rpartition("\n")[0]),
}


def _first_word(file: Path, change: Callable[[str], str]) -> None:
    word, colon, rest = file.read_text().partition(":")
    first, _, others = word.rpartition("- ") if word.startswith("- ") else ("", "", word)
    file.write_text(f"{first}{change(others)}{colon}{rest}")


def everything(folder: Path, scratch: Path) -> Any:
    """All that the folder's files say to those who ask: verdicts, the day's procedure, answers, cases."""
    pack = load_pack(open_folder(folder), ON)
    car = parse_document(CAR, "car.yaml", "CD")
    outcomes = {o.clause.number: o.outcome for o in inspect_document(pack, car, ON, "entrant").outcomes}
    older = load_pack(open_folder(folder), ON.replace(year=2025))
    with open_meeting(
        scratch / f"{len(list(scratch.iterdir()))}", Opening(str(folder), ON.isoformat(), ("KV",))
    ) as day:
        procedure = day.procedure
    cases = read_cases(newest(open_folder(folder))).cases
    answers = [(one.number, one.answer) for clause in pack.clauses.values() for one in clause.interpretations]
    return outcomes, older.edition, procedure, answers, [case.name for case in cases]


def says_other(before: bytes, after: bytes) -> bool:
    """Whether what is there is sound and says something else in so many words, which is another rule."""
    try:
        old, new = (yaml.load(text, yaml.CSafeLoader) for text in (before, after))
    except yaml.YAMLError:
        return False
    return (
        bool(new)
        and type(old) is type(new)
        and old != new
        and (isinstance(old, list) or set(new) <= set(old))
    )


@pytest.mark.parametrize("name", quick_first(FILES, 3))
def test_every_file_bears_on_what_the_folder_says(tmp_path: Path, name: str) -> None:
    """Else the law below would hold of it whatever was done."""
    folder = write(tmp_path / "kart", FILES)
    (scratch := tmp_path / "m").mkdir()
    before = everything(folder, scratch)
    assert before[0] == {"1": "fail", "2": "not_shown", "3": "fail", "10": "dispensation"}
    (folder / name).unlink()
    with contextlib.suppress(InputError):
        assert everything(folder, scratch) != before


@pytest.mark.parametrize("way", quick_first(["its first word misspelt", ".yaml.txt", *WAYS], 1))
@pytest.mark.parametrize("name", FILES)
def test_a_corrupted_file_is_refused_or_read_as_before(tmp_path: Path, name: str, way: str) -> None:
    folder = write(tmp_path / "kart", FILES)
    (scratch := tmp_path / "m").mkdir()
    before, text = everything(folder, scratch), (folder / name).read_bytes()
    WAYS[way](folder / name)
    try:
        after = everything(folder, scratch)
    except InputError:
        if name != "procedure.yaml" and "procedure" not in way:  # which is read when a meeting is opened
            assert [p for p in lint(folder) if not p.warning], "lint finds nothing"
        return
    if after != before:
        assert (folder / name).is_file(), f"{way}: {name} is gone, and nothing is said"
        assert says_other(text, (folder / name).read_bytes())


@pytest.mark.parametrize("name", FILES)
def test_a_file_that_may_not_be_read_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    folder = write(tmp_path / "kart", FILES)
    (scratch := tmp_path / "m").mkdir()
    whole = open

    def locked(file: Any, *arguments: Any, **named: Any) -> Any:
        if str(file).endswith(name):
            raise PermissionError(13, "Permission denied")
        return whole(file, *arguments, **named)

    monkeypatch.setattr("builtins.open", locked)
    with pytest.raises(InputError) as caught:
        everything(folder, scratch)
    assert any("not allowed" in problem.message for problem in caught.value.problems)
