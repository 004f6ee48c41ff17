"""What lint says of a pack that can be read: unused names, checks that are always or never true, contradictions, cases."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from checker.pack.lint.everything import lint
from checker.pack.reading.codes import CODES
from checker.reading.problems import Problem
from tests.pack.folders import EDITION, bulletin, write

HEAD = 'pack: example\nedition: "1"\ntitle: Example\nin_force: {from: 2026-01-01}\ncurrency: GBP\n'


def linted(folder: Path, text: str, cases: str = "all", **more: str) -> list[Problem]:
    """What lint says of a pack of this text; `cases` "all": each clause has one."""
    if cases == "all":
        numbers = re.findall(r'^  ("[^"]+"):', text[text.index("clauses:") :], re.MULTILINE)
        cases = f"cases: [{{name: all, expect: {{{', '.join(f'{n}: pass' for n in numbers)}}}}}]\n"
    write(folder, {"pack.yaml": HEAD + text + cases, **{f"{k}.yaml": v for k, v in more.items()}})
    return list(lint(folder))


def marked(problem: Problem) -> str:
    span = problem.span
    assert span is not None
    return span.source_line[span.column - 1 : span.end_column - 1]


def told(problems: list[Problem]) -> list[tuple[str, str]]:
    return [(p.code, marked(p)) for p in problems]


def test_a_clean_pack(tmp_path: Path) -> None:
    text = 'facts: {a.b: {unit: mm}}\nclauses:\n  "1": {check: {limit: a.b, at_most: 5 mm}}\n'
    assert linted(tmp_path, text) == []


def test_the_dunlin_pack_lints_clean() -> None:
    assert lint(Path(__file__).parents[3] / "rulepacks" / "dunlin") == ()


def test_names_that_nothing_uses(tmp_path: Path) -> None:
    text = """facts: {a.used: {unit: mm}, a.unused: {unit: mm}, a.inside: {unit: mm}, car.name: {type: text}, a.old: {unit: mm},
  a.day: {type: date}, a.cost: {type: count}}
lists:
  joints: {known_by: name, fields: {name: {type: text}, wall: {unit: mm}, bore: {unit: mm}, both: {formula: 2 * bore}}}
  empty: {fields: {name: {type: text}}}
  counted: {fields: {size: {unit: mm}}}
  components: {fields: {finish: {type: text}, colour: {type: text}}}
derived: {d: {formula: 2 * a.inside}, e: {formula: 3 * d}, f: {formula: 3}}
tables:
  t: {by: k, rows: [{k: any, value: 1 mm}]}
  u: {by: k, rows: [{k: any, value: 1 mm}]}
clauses:
  "1": {check: {limit: a.used, at_most: t(d)}}
  "2": {check: {each: joints, limit: wall, at_most: 5 mm}, earlier: [{before: 2021-01-01, by: a.day, check: {limit: a.old, at_most: 5 mm}}]}
  "3": {check: {limit: count(counted), at_most: 3}, penalty: {amount: a.cost}}
  "4": {check: {each: components, allowed: [red], of: finish}}
"""
    found = linted(tmp_path, text)
    assert told(found) == [
        ("PK206", "a.unused"),
        ("PK206", "both"),
        ("PK206", "empty"),
        ("PK206", "size"),
        ("PK206", "colour"),
        ("PK206", "e"),
        ("PK206", "f"),
        ("PK206", "u"),
    ]
    assert all(p.warning for p in found)
    assert found[0].message == "fact 'a.unused' is never used"


def test_a_name_that_only_a_bulletin_or_the_register_uses_is_used(tmp_path: Path) -> None:
    text = EDITION.replace("facts:\n", "facts:\n  frame.height: {unit: mm}\n  frame.colour: {type: text}\n")
    later = bulletin('{add: "4", read: {check: {limit: frame.height, at_most: 5 mm}}}')
    register = "approvals: [{reference: A1, clauses: ['1'], when: frame.colour == 'red', reason: x}]\n"
    write(tmp_path, {"pack.yaml": text})
    assert [p.message for p in lint(tmp_path) if p.code == "PK206"] == [
        "fact 'frame.height' is never used",
        "fact 'frame.colour' is never used",
    ]
    write(tmp_path, {"b1.yaml": later, "approvals.yaml": register})
    assert [p.message for p in lint(tmp_path) if p.code == "PK206"] == []


FACTS = """facts: {a.b: {unit: mm, range: [10 mm, 20 mm]}, a.n: {type: count}, a.g: {grades: [C, B, A]}, a.w: {one_of: [x, y]},
  a.d: {type: date, range: [2020-01-01, 2030-01-01]}, a.s: {one_of: [x, y], several: true}, a.t: {type: truth},
  a.m: {unit: mm, several: true, range: [10 mm, 20 mm]}, a.p: {unit: "%"}, a.q: {unit: "%", range: [0 %, 150 %]}}
course: clockwise
tables: {most: {by: [w], rows: [{w: x, value: 15 mm, low: 14 mm}, {w: y, value: 25 mm, low: 20 mm}]}}
lists: {holes: {fields: {size: {unit: mm, range: [1 mm, 9 mm]}}}}
"""


@pytest.mark.parametrize(
    ("check", "says", "mark"),
    [
        ("{limit: a.b, at_most: 20 mm}", "always", "20 mm"),
        ("{limit: a.b, at_most: 25 mm}", "always", "25 mm"),
        ("{limit: a.b, at_most: 19.9 mm}", None, ""),
        ("{limit: a.b, below: 20 mm}", None, ""),
        ("{limit: a.b, at_most: 19 mm, tolerance: 1 mm}", "always", "19 mm"),
        ("{limit: a.b, at_least: 20 mm}", None, ""),
        ("{limit: a.b, above: 20 mm}", "never", "20 mm"),
        ("{limit: a.b, at_least: 21 mm}", "never", "21 mm"),
        ("{limit: a.b, at_least: 21 mm, tolerance: 1 mm}", None, ""),
        ("{limit: a.b, at_least: 5 mm, at_most: 2 cm}", "always", "5 mm"),
        ("{limit: a.b, nominal: 15 mm, plus_minus: 5 mm}", "always", "15 mm"),
        ("{limit: a.b, exactly: 9 mm}", "never", "9 mm"),
        ("{limit: a.b, at_least: 21 mm, rounded: {to: 1 mm, mode: up}}", None, ""),
        ("{limit: a.n, at_least: 0}", "always", "0"),
        ("{limit: a.n, below: 0}", "never", "0"),
        ("{limit: a.g, at_least: C}", "always", "C"),
        ("{limit: a.g, above: A}", "never", "A"),
        ("{limit: a.d, at_least: 2020-01-01}", "always", "2020-01-01"),
        ("{limit: a.m, at_most: 30 mm, of_several: worst}", "always", "30 mm"),
        ("{limit: count(ballast), at_least: 0}", "always", "0"),
        ("{limit: count(ballast), at_least: 1}", None, ""),
        ("{limit: weight.total, at_least: -1 kg, condition: as_weighed}", None, ""),
        ("{each: holes, limit: size, at_most: 9 mm}", "always", "9 mm"),
        ("{when: a.t, all_of: [{limit: a.n, at_least: 1}, {limit: a.b, at_most: 25 mm}]}", "always", "25 mm"),
        ("{at_least_of: {count: 1, of: [{limit: a.b, at_most: 25 mm}]}}", "always", "25 mm"),
        ("{allowed: [X, y], of: a.w}", "always", "[X, y]"),
        ("{allowed: [x], of: a.w}", None, ""),
        ("{banned: [x, y], of: a.w}", "never", "[x, y]"),
        ("{allowed: [x, y], of: a.s}", "always", "[x, y]"),
        ("{required: [x], of: a.s, at_least: 0}", "always", "0"),
        ("{at_least_of: {count: 0, of: [{holds: a.t}]}}", "always", "{count: 0, of: [{holds: a.t}]}"),
        ("{at_most_of: {count: 1, of: [{holds: a.t}]}}", "always", "{count: 1, of: [{holds: a.t}]}"),
        ("{holds: 1 < 2}", "always", "1 < 2"),
        (
            "{limit: a.b, at_least: 12 mm, at_most: 25 mm}",
            "25 mm is never reached: a.b can only be 10 mm to 20 mm",
            "25 mm",
        ),
        ("{limit: a.b, at_most: 1 in}", "always true: a.b can only be 10 mm to 20 mm", "1 in"),
        ("{allowed: [1 in], of: a.b}", "never true: a.b can only be 10 mm to 20 mm", "[1 in]"),
        ("{limit: a.b, at_least: 5 mm, at_most: 12 mm}", "never reached", "5 mm"),
        (
            "{limit: a.b, at_least: 12 mm, at_most: 25 mm if a.t else 15 mm}",
            "never reached",
            "25 mm if a.t else 15 mm",
        ),
        ("{limit: a.b, at_most: 20 mm if a.t else 15 mm}", None, ""),
        ("{limit: a.b, at_most: most(a.w).value}", "never reached", "most(a.w).value"),
        ("{limit: a.b, at_most: most(a.w).low}", None, ""),
        ("{limit: a.b, at_most: a.b + 30 mm}", None, ""),
        ("{let: {row: most(a.w)}, limit: a.b, at_most: row.value}", "never reached", "row.value"),
        ("{let: {row: most(a.w)}, limit: a.b, at_most: row.low}", None, ""),
        ("{let: {row: most(a.w)}, all_of: [{limit: a.b, at_most: row.value}]}", "never reached", "row.value"),
        ("{let: {bound: most(a.w).value}, limit: a.b, at_most: bound}", "never reached", "bound"),
        ("{let: {bound: 25 mm}, limit: a.b, at_most: bound}", "never reached", "bound"),
        ("{let: {row: most(a.w)}, limit: a.b, at_least: row.value}", "never reached", "row.value"),
        ("{limit: a.p, at_most: 530 %}", "more than the whole", "530 %"),
        ("{limit: a.p, at_most: 100 %}", None, ""),
        ("{limit: a.q, at_most: 130 %}", None, ""),
        ("{limit: percent(a.b / a.b), at_most: 105 %}", None, ""),
        ("{limit: percentage.inside, at_most: 530 %, condition: as_weighed}", "always", "530 %"),
        ("{when: false, holds: a.t}", "never", "false"),
    ],
)
def test_checks_that_are_always_or_never_true(
    tmp_path: Path, check: str, says: str | None, mark: str
) -> None:
    found = [
        p for p in linted(tmp_path, f'{FACTS}clauses:\n  "1": {{check: {check}}}\n') if p.code == "PK507"
    ]
    if says is None:
        assert found == []
    else:
        assert [marked(p) for p in found] == [mark]
        assert says in found[0].message
        assert found[0].clause == "1"
        assert found[0].warning


WIDE = """facts: {a.b: {unit: mm}, a.w: {one_of: [x, y]}, a.t: {type: truth}}
lists: {holes: {fields: {size: {unit: mm}, deep: {type: truth}}}}
conditions: {presented: {fuel: 4 L}}
"""


@pytest.mark.parametrize(
    ("first", "second", "clash"),
    [
        ("check: {limit: a.b, at_least: 10 mm}", "check: {limit: a.b, at_most: 9 mm}", True),
        ("check: {limit: a.b, at_least: 10 mm}", "check: {limit: a.b, at_most: 1 cm}", False),
        ("check: {limit: a.b, at_least: 10 mm}", "check: {limit: a.b, below: 1 cm}", True),
        (
            "check: {limit: a.b, at_least: 10 mm}",
            "check: {limit: a.b, at_most: 9 mm, tolerance: 1 mm}",
            False,
        ),
        ("check: {limit: a.b, exactly: 10 mm}", "check: {limit: a.b, exactly: 11 mm}", True),
        ("check: {limit: a.w, exactly: x}", "check: {limit: a.w, exactly: y}", True),
        ("check: {limit: a.w, exactly: x}", "check: {limit: a.w, exactly: X}", False),
        ("check: {limit: a.b, at_least: 10 mm}", "check: {when: a.t, limit: a.b, at_most: 9 mm}", False),
        (
            "check: {limit: a.b, at_least: 10 mm}",
            "check: {all_of: [{holds: a.t}, {limit: a.b, at_most: 9 mm}]}",
            True,
        ),
        (
            "check: {limit: a.b, at_least: 10 mm}",
            "check: {any_of: [{holds: a.t}, {limit: a.b, at_most: 9 mm}]}",
            False,
        ),
        ("check: {limit: a.b, at_least: 10 mm}", "check: {limit: 2 * a.b, at_most: 9 mm}", False),
        (
            "check: {limit: a.b, at_least: 10 mm}, until: 2026-05-01",
            "check: {limit: a.b, at_most: 9 mm}, since: 2026-05-02",
            False,
        ),
        (
            "check: {limit: a.b, at_least: 10 mm}, until: 2026-05-01",
            "check: {limit: a.b, at_most: 9 mm}, since: 2026-05-01",
            True,
        ),
        (
            "check: {limit: a.b, at_least: 10 mm, until: 2026-05-01}",
            "check: {limit: a.b, at_most: 9 mm, since: 2026-05-02}",
            False,
        ),
        (
            "check: {limit: a.b, at_least: 10 mm, until: 2026-05-01}",
            "check: {limit: a.b, at_most: 9 mm}",
            True,
        ),
        (
            "check: {limit: a.b, at_least: 10 mm}",
            "check: {limit: a.b, at_most: 9 mm}, instead_of: ['1']",
            False,
        ),
        (
            "check: {each: holes, limit: size, at_least: 10 mm}",
            "check: {each: holes, limit: size, at_most: 9 mm}",
            True,
        ),
        (
            "check: {each: holes, limit: size, at_least: 10 mm}",
            "check: {each: holes, where: deep, limit: size, at_most: 9 mm}",
            False,
        ),
        (
            "check: {limit: weight.total, at_least: 10 kg, condition: any}",
            "check: {limit: weight.total, at_most: 9 kg, condition: any}",
            True,
        ),
        (
            "check: {limit: weight.total, at_least: 10 kg, condition: any}",
            "check: {limit: weight.total, at_most: 9 kg, condition: presented}",
            False,
        ),
    ],
)
def test_clauses_that_no_value_satisfies_together(
    tmp_path: Path, first: str, second: str, clash: bool
) -> None:
    found = linted(tmp_path, f'{WIDE}clauses:\n  "1": {{{first}}}\n  "2": {{{second}}}\n')
    clashes = [p for p in found if p.code == "PK508"]
    assert len(clashes) == clash
    for problem in clashes:
        assert problem.warning
        assert problem.clause == "2"
        ((said, span),) = problem.related
        assert said == "clause 1"
        assert problem.span is not None
        assert span.line < problem.span.line


def test_clauses_without_cases(tmp_path: Path) -> None:
    text = 'facts: {a.b: {unit: mm}}\nclauses:\n  "1": {check: {limit: a.b, at_most: 5 mm}}\n  "2": {check: {limit: a.b, at_least: 1 mm}}\n'
    found = linted(tmp_path, text, 'cases: [{name: x, expect: {"1": pass}}]\n')
    assert told(found) == [("PK704", '"2"')]
    found = linted(tmp_path, text, "")
    assert told(found) == [("PK704", "clauses")]
    found = linted(
        tmp_path, text, "cases: own.yaml\n", own='- {name: x, expect: {"1": pass, "3": pass}}\n- {name: y}\n'
    )
    assert [(p.code, p.span.file.rpartition("/")[2] if p.span else "") for p in found] == [
        ("PK602", "own.yaml"),
        ("PK108", "own.yaml"),
        ("PK704", "pack.yaml"),
    ]
    found = linted(tmp_path, text, "cases: ../own.yaml\n")
    assert told(found)[-1] == ("PK109", "../own.yaml")
    found = linted(tmp_path, text, "cases: none.yaml\n")
    assert told(found) == [("PK109", "none.yaml")]


def test_a_case_may_speak_of_a_clause_that_a_bulletin_adds(tmp_path: Path) -> None:
    cases = 'cases: [{name: x, on: 2026-07-01, expect: {"1": pass, "2": pass, "10": pass, "11": pass}}]\n'
    write(tmp_path, {"pack.yaml": EDITION + cases})
    assert [p.code for p in lint(tmp_path)] == ["PK602"]
    added = bulletin('{add: "11", read: {title: T, check: {limit: frame.width, at_least: 5 mm}}}')
    write(tmp_path, {"b1.yaml": added})
    assert lint(tmp_path) == lint(tmp_path / "pack.yaml") == ()


def test_a_mistake_that_a_bulletin_makes_is_found_with_its_place(tmp_path: Path) -> None:
    write(
        tmp_path,
        {
            "pack.yaml": EDITION,
            "b1.yaml": bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1300 kg}'),
        },
    )
    (found,) = [p for p in lint(tmp_path) if not p.warning]
    assert found.code == "PK301"
    assert found.span is not None
    assert (Path(found.span.file).name, found.span.line) == ("b1.yaml", 6)


def test_a_file_stands_for_its_folder_unless_it_is_an_edition(tmp_path: Path) -> None:
    write(
        tmp_path,
        {
            "pack.yaml": EDITION,
            "b1.yaml": bulletin('{change: "9", at: check.at_most, for: 1 mm, read: 2 mm}'),
        },
    )
    assert [p.code for p in lint(tmp_path / "b1.yaml") if not p.warning] == ["PK602"]
    assert [p.code for p in lint(tmp_path / "pack.yaml") if not p.warning] == []


def test_every_code_is_explained() -> None:
    for code, said in CODES.items():
        assert re.fullmatch(r"PK[1-7]\d\d", code)
        assert said.wrong
        assert said.cure
    assert list(CODES) == sorted(CODES)
