"""Questions and answers beside a pack: what stands on which day, what ends it, and what is wrong with one."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checker.meeting.record.frozen import freeze, thaw
from checker.pack.editions.beside import read_beside
from checker.pack.editions.edition import newest
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.lint.everything import lint
from checker.reading.problems import InputError, Problem
from checker.report.interpretations import open_questions
from checker.report.rulebook.whole import rulebook
from checker.studies.cases.casebook import read_cases
from checker.studies.cases.running import run_cases
from checker.studies.cases.sound import lint_with_cases
from checker.studies.change.history import history
from checker.studies.change.notice import notice
from tests.pack.folders import EDITION, bulletin, write

ANSWERED = """\
  - number: I-1
    clauses: ["1"]
    asked: 2026-02-01
    question: Is the paint part of the width?
    decided: 2026-03-01
    by: Technical committee
    answer: No.
    settled_by: B1
"""
OPEN = '  - {number: I-2, clauses: ["1", "10"], asked: 2026-05-01, question: And the lacquer?}\n'
SETTLING = bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1401 mm}')


def folder(place: Path, *entries: str, **more: str) -> Path:
    answers = f"interpretations:\n{''.join(entries)}" if entries else "interpretations: []\n"
    return write(place, {"edition.yaml": EDITION, "b1.yaml": SETTLING, "answers.yaml": answers, **more})


def standing(place: Path, on: str, clause: str = "1") -> list[tuple[str, str]]:
    pack = load_pack(open_folder(place), date.fromisoformat(on))
    return [(one.number, one.answer) for one in pack.clauses[clause].interpretations]


@pytest.mark.parametrize(
    ("on", "stands"),
    [
        ("2026-01-31", []),
        ("2026-02-01", [("I-1", "")]),
        ("2026-02-28", [("I-1", "")]),
        ("2026-03-01", [("I-1", "No.")]),
        ("2026-05-31", [("I-1", "No."), ("I-2", "")]),
        ("2026-06-01", [("I-2", "")]),
    ],
)
def test_a_question_is_open_until_it_is_answered_and_an_answer_holds_until_a_bulletin_settles_it(
    tmp_path: Path, on: str, stands: list[tuple[str, str]]
) -> None:
    assert standing(folder(tmp_path, ANSWERED, OPEN), on) == stands


def test_it_stands_under_each_clause_that_it_names(tmp_path: Path) -> None:
    place = folder(tmp_path, OPEN)
    assert standing(place, "2026-07-01", "10") == [("I-2", "")]
    pack = load_pack(open_folder(place), date(2026, 7, 1))
    assert [one.number for one in open_questions(pack)] == ["I-2"]


def test_it_ends_with_its_edition(tmp_path: Path) -> None:
    later = EDITION.replace('edition: "1"', 'edition: "2"').replace(
        "from: 2026-01-01, until: 2026-12-31", "from: 2027-01-01"
    )
    place = folder(tmp_path, OPEN, **{"later.yaml": later})
    assert standing(place, "2026-12-31") == [("I-2", "")]
    assert standing(place, "2027-01-01") == []


def test_the_digest_and_a_meeting_hold_it(tmp_path: Path) -> None:
    on = date(2026, 4, 1)
    place = folder(tmp_path, ANSWERED)
    before = load_pack(open_folder(place), on)
    frozen = thaw(freeze(open_folder(place)), on)
    assert (frozen.sha256, [i.answer for i in frozen.clauses["1"].interpretations]) == (
        before.sha256,
        ["No."],
    )
    folder(tmp_path, ANSWERED.replace("answer: No.", "answer: Yes."))
    assert load_pack(open_folder(place), on).sha256 != before.sha256
    assert newest(open_folder(place)).pack_on(on).sha256 == load_pack(open_folder(place), on).sha256


def problems(place: Path, *entries: str, **more: str) -> list[Problem]:
    return [p for p in lint(folder(place, *entries, **more)) if p.code not in ("PK704", "PK509", "PK206")]


@pytest.mark.parametrize(
    ("entry", "code", "says", "marked"),
    [
        (ANSWERED.replace('["1"]', '["7"]'), "PK602", "is of clause 7, which is not there", '"7"'),
        (ANSWERED.replace('["1"]', "[1]"), "PK102", "'1' needs quotes", "1"),
        (ANSWERED.replace("2026-02-01", "2025-02-01").replace("2026-03-01", "2025-03-01"), "PK644", "of 2025-03-01, when no edition is in force", "2025-03-01"),
        (ANSWERED.replace("decided: 2026-03-01", "decided: 2026-01-31"), "PK601", "decided before it was asked", "2026-01-31"),
        (ANSWERED.replace("decided: 2026-03-01", "decided: 2026-06-02"), "PK601", "bulletin B1 was in force on 2026-06-01 already", "B1"),
        (ANSWERED.replace("settled_by: B1", "settled_by: B2"), "PK643", "there is no bulletin B2", "B2"),
        (ANSWERED.replace("    by: Technical committee\n", ""), "PK108", "an answer has no `by`", ""),
        (ANSWERED.replace("    answer: No.\n", ""), "PK108", "an answer has no `answer`", ""),
        (ANSWERED.replace("    question: Is the paint part of the width?\n", ""), "PK108", "an interpretation has no `question`", ""),
        (ANSWERED.replace("by:", "bye:"), "PK101", "'bye' is not a key of an interpretation", "bye"),
        (ANSWERED + ANSWERED, "PK642", "interpretation I-1 stands twice", "I-1"),
        (ANSWERED.replace("answer: No.", "answer: See clause 8."), "PK606", "there is no clause 8", "8"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_one(tmp_path: Path, entry: str, code: str, says: str, marked: str) -> None:
    found = problems(tmp_path, entry)
    assert code in [problem.code for problem in found]
    problem = next(problem for problem in found if problem.code == code)
    assert says in problem.message
    assert problem.span is not None
    assert Path(problem.span.file).name == "answers.yaml"
    if marked:
        assert problem.span.source_line[problem.span.column - 1 : problem.span.end_column - 1] == marked


def test_a_bulletin_of_another_edition_settles_nothing(tmp_path: Path) -> None:
    later = EDITION.replace('edition: "1"', 'edition: "2"').replace(
        "from: 2026-01-01, until: 2026-12-31", "from: 2027-01-01"
    )
    other = bulletin('{change: "1", at: title, for: Width, read: W}', "B2", "from: 2027-02-01", "2")
    entry = ANSWERED.replace("settled_by: B1", "settled_by: B2")
    found = problems(tmp_path, entry, **{"later.yaml": later, "b2.yaml": other})
    assert [p.message for p in found] == ["bulletin B2 amends edition 2, and this is of edition 1"]


def test_a_sound_file_has_nothing_to_be_told(tmp_path: Path) -> None:
    assert problems(tmp_path, ANSWERED, OPEN) == []
    with pytest.raises(InputError) as refused:
        load_pack(
            open_folder(folder(tmp_path, ANSWERED, **{"more.yaml": "interpretations: []\n"})),
            date(2026, 4, 1),
        )
    assert [p.code for p in refused.value.problems] == ["PK612"]


CASES = """\
    cases:
      - {name: painted, set: {frame.width: 1400 mm}, expect: {"1": {outcome: pass, margin: 0 mm}}}
      - {name: too wide, set: {frame.width: 1401 mm}, expect: {"1": fail}}
"""


def test_its_cases_are_run_on_the_day_it_was_decided(tmp_path: Path) -> None:
    place = folder(tmp_path, ANSWERED + CASES)
    runs = run_cases(read_cases(newest(open_folder(place))))
    assert [(run.case.name, run.case.on.isoformat(), run.came_out) for run in runs] == [
        ("painted", "2026-03-01", True),
        ("too wide", "2026-03-01", True),
    ]
    wrong = folder(tmp_path, ANSWERED + CASES.replace("frame.width: 1401", "frame.widht: 1401"))
    assert [(p.code, Path(p.span.file).name) for p in lint_with_cases(wrong) if p.span and not p.warning] == [
        ("PK703", "answers.yaml")
    ]


def test_the_book_shows_it_under_its_clause_and_lists_what_is_open(tmp_path: Path) -> None:
    book = rulebook(load_pack(open_folder(folder(tmp_path, ANSWERED, OPEN)), date(2026, 5, 20)))
    assert "**Interpretation I-1** (Technical committee, 2026-03-01): No." in book
    assert book.count("*This question is open.*") == 2
    listed = book.partition("## Open questions")[2].partition("##")[0]
    assert "I-2, asked 2026-05-01, of [1](#1-width), [10](#10-engine): And the lacquer?" in listed


def test_history_and_notice_tell_it(tmp_path: Path) -> None:
    place = open_folder(folder(tmp_path, ANSWERED, OPEN))
    versions = history(place, "1")
    assert [[one.number for one in version.interpretations] for version in versions] == [[], ["I-1", "I-2"]]
    assert [one.number for one in notice(place, "B1").settles] == ["I-1"]


def test_the_sample_rulebook_has_answers_one_of_which_a_bulletin_settles() -> None:
    listed = read_beside(open_folder("rulepacks/dunlin")).interpretations
    assert [(one.number, bool(one.answer), one.settled_by) for one in listed] == [
        ("I-2026-01", True, ""),
        ("I-2026-02", True, "2026-B2"),
        ("I-2026-03", False, ""),
    ]
