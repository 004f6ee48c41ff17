from __future__ import annotations

from pathlib import Path

import pytest

from checker.reading.problems import InputError, Problem
from tests.pack.folders import bulletin
from tests.studies.casebooks import PACK, book, codes, problems_of, runs


def test_a_case_that_comes_out_says_nothing(tmp_path: Path) -> None:
    (run,) = runs(
        tmp_path,
        """
        - name: on the limit
          from: car.yaml
          set: {frame.width: 140 cm}
          expect: {"1": {outcome: pass, margin: 0 mm}, "2": pass}
        """,
    )
    assert run.came_out
    assert {number: outcome.outcome for number, outcome in run.outcomes.items()} == {"1": "pass", "2": "pass"}


@pytest.mark.parametrize(
    ("expect", "code", "said"),
    [
        ("fail", "PK701", "case 'wide': clause 1 was to be fail; it is pass by +10 mm"),
        ("{outcome: pass, margin: 9 mm}", "PK702", "the margin of clause 1 was to be 9 mm; it is +10 mm"),
        ("{outcome: pass, margin: 10 kg}", "PK702", "was to be 10 kg; it is +10 mm"),
        ("{outcome: pass, margin: 10}", "PK702", "was to be 10; it is +10 mm"),
        ("{outcome: pass, margin: ten}", "PK702", "ten"),
    ],
)
def test_what_comes_out_otherwise_is_named_with_its_place(
    tmp_path: Path, expect: str, code: str, said: str
) -> None:
    case = f'- {{name: wide, from: car.yaml, set: {{frame.width: 1390 mm}}, expect: {{"1": {expect}}}}}'
    (run,) = runs(tmp_path, case)
    (problem,) = problems_of(run)
    assert problem.code == code
    assert said in problem.message
    assert problem.span is not None
    assert (problem.span.file, problem.span.line) == (str(tmp_path / "pack.yaml"), len(PACK.splitlines()) + 1)
    assert run.judged


def test_a_margin_may_be_written_as_a_report_shows_it(tmp_path: Path) -> None:
    pack = PACK.replace("at_most: 1400 mm}", "at_most: 1400 mm / 3}")
    expect = '{{"1": {{outcome: pass, margin: {}}}}}'
    case = f"- {{{{name: a third, from: car.yaml, set: {{{{frame.width: 466 mm}}}}, expect: {expect}}}}}"
    assert codes(runs(tmp_path, case.format("0.66 mm"), pack)) == []
    assert codes(runs(tmp_path, case.format("2/3 mm"), pack)) == []
    assert codes(runs(tmp_path, case.format("0.67 mm"), pack)) == ["PK702"]


def test_values_count_as_exact_and_officials_facts_as_stated(tmp_path: Path) -> None:
    pack = PACK.replace("cases:", '  "4": {check: {limit: seal.number, exactly: "\'A1\'"}}\ncases:')
    cases = '- {name: x, from: car.yaml, set: {frame.width: 1400 mm, seal.number: A1}, expect: {"1": pass, "4": pass}}'
    assert codes(runs(tmp_path, cases, pack)) == []


def test_the_day_is_the_cases_own_else_the_editions_first(tmp_path: Path) -> None:
    days = book(
        tmp_path,
        """
        - {name: its own, from: car.yaml, on: 2026-08-01, expect: {"1": pass}}
        - {name: set, from: car.yaml, set: {event.date: 2026-09-01}, expect: {"1": pass}}
        - {name: none, from: car.yaml, expect: {"1": pass}}
        """,
    ).cases
    assert [case.on.isoformat() for case in days] == ["2026-08-01", "2026-09-01", "2026-01-01"]
    assert [case.declaration.get(("event", "date")) for case in days] == [
        "2026-08-01",
        "2026-09-01",
        "2026-01-01",
    ]


def test_a_day_outside_the_edition_is_refused(tmp_path: Path) -> None:
    (run,) = runs(tmp_path, '- {name: early, from: car.yaml, on: 2025-12-31, expect: {"1": pass}}')
    assert [p.code for p in run.problems] == ["PK620"]
    assert not run.judged


def test_a_case_is_judged_with_the_bulletins_of_its_day(tmp_path: Path) -> None:
    change = bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}')
    tmp_path.mkdir(exist_ok=True)
    (tmp_path / "B1.yaml").write_text(change, encoding="utf-8")
    found = runs(
        tmp_path,
        """
        - {name: before, from: car.yaml, on: 2026-05-31, set: {frame.width: 1390 mm}, expect: {"1": pass}}
        - {name: after, from: car.yaml, on: 2026-06-01, set: {frame.width: 1390 mm}, expect: {"1": fail}}
        """,
    )
    assert codes(found) == []


def test_a_case_may_add_what_its_car_does_not_state_and_take_away_what_it_does(tmp_path: Path) -> None:
    found = runs(
        tmp_path,
        """
        - {name: less, from: car.yaml, remove: [frame.width], expect: {"1": not_shown}}
        - {name: nothing, expect: {"1": not_shown}}
        - name: an entry
          from: car.yaml
          set: {components: [{name: a}, {name: b}, {name: c}], "components[1].count": 2}
          remove: ["components[0]", "components[2]"]
          expect: {"1": pass}
        """,
    )
    assert codes(found) == []
    assert found[2].case.declaration.get(("components",)) == [{"name": "b", "count": 2}]


@pytest.mark.parametrize(
    ("case", "code"),
    [
        ("set: {frame.widht: 1 mm}", "PK703"),
        ("set: {fame.width: 1 mm}", "PK703"),
        ("set: {frame.width: 1 kg}", "CD204"),
        ("set: {frame.width.x: 1 mm}", "PK703"),
        ('set: {"components[3].name": a}', "PK703"),
        ('set: {"frame[": a}', "PK703"),
        ("remove: [frame.height]", "PK703"),
        ("remove: frame.width", "PK108"),
        ("sets: {}", "PK101"),
        ("on: 2026-02-30", "PK106"),
    ],
)
def test_a_case_that_cannot_be_judged_is_named_with_its_place(tmp_path: Path, case: str, code: str) -> None:
    problems = _refused(tmp_path, f'- {{name: x, from: car.yaml, {case}, expect: {{"1": pass}}}}')
    assert [problem.code for problem in problems] == [code]
    assert problems[0].span is not None
    assert (problems[0].span.file, problems[0].span.line) == (
        str(tmp_path / "pack.yaml"),
        len(PACK.splitlines()) + 1,
    )


@pytest.mark.parametrize(
    ("case", "code"),
    [
        ("- {name: x, from: no.yaml, expect: {'1': pass}}", "PK109"),
        ("- {name: x, from: 3, expect: {'1': pass}}", "PK108"),
        ("- {name: x, expect: {'1': passed}}", "PK108"),
        ("- {name: x, expect: {'1': {outcome: pass, margins: 3}}}", "PK101"),
        ("- {name: x, expect: {'1': {outcome: pass, margin: [3]}}}", "PK108"),
        ("- {name: x, expect: {}}", "PK108"),
        ("- {expect: {'1': pass}}", "PK108"),
        ("- {name: x, expect: {'9': pass}}", "PK602"),
        ("- nothing", "PK108"),
    ],
)
def test_a_case_that_is_written_wrongly_is_refused(tmp_path: Path, case: str, code: str) -> None:
    assert code in [problem.code for problem in _refused(tmp_path, case)]


def test_cases_may_stand_in_a_file_of_their_own(tmp_path: Path) -> None:
    listed = '- {name: x, from: car.yaml, expect: {"1": pass}}\n'
    pack = PACK.replace("cases:\n", "cases: more.yaml\n")
    for text in (listed, f"cases:\n{listed}"):
        (tmp_path / "more.yaml").write_text(text, encoding="utf-8")
        found = book(tmp_path, "", pack)
        assert [case.name for case in found.cases] == ["x"]
        assert found.file == str(tmp_path / "more.yaml")
    for name, said in (("../more.yaml", "leads out of the pack's folder"), ("no.yaml", "cannot be read")):
        with pytest.raises(InputError) as caught:
            book(tmp_path / "deep", "", PACK.replace("cases:\n", f"cases: {name}\n"))
        assert caught.value.problems[0].code == "PK109"
        assert said in caught.value.problems[0].message


def test_a_pack_may_have_no_cases(tmp_path: Path) -> None:
    assert book(tmp_path, "", PACK.replace("cases:\n", "")).cases == []


def _refused(folder: Path, case: str) -> tuple[Problem, ...]:
    try:
        return tuple(problem for run in runs(folder, case) for problem in problems_of(run))
    except InputError as error:
        return error.problems
