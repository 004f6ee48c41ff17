from __future__ import annotations

from datetime import date

import pytest

from checker.pack.editions.approvals import read_register
from checker.pack.model import Approval
from checker.reading.problems import InputError, Problem
from checker.reading.strict_yaml import parse_document
from tests.building import pack_of
from tests.examples import each_row

PACK = pack_of(
    '"4.2": {title: Width, check: {limit: body.width, at_most: 1400 mm}}\n"4.3": {check: {holds: body.sound}}',
    "facts: {body.width: {unit: mm}, body.sound: {type: truth}}",
)
ON = date(2026, 5, 3)


def register(*entries: str) -> tuple[Approval, ...]:
    text = "approvals:\n" + "".join(f"  - {{{entry}}}\n" for entry in entries)
    return read_register(parse_document(text.encode(), "approvals.yaml", "PK"), PACK, ON)


def refused(*entries: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        register(*entries)
    return caught.value.problems


ENTRY = 'reference: A-1, clauses: ["4.2"], cars: ["27", "3"], from: 2026-02-01, until: 2026-12-31, reason: Out of production'


def test_an_approval_is_read_with_its_scope_and_days() -> None:
    (approval,) = register(ENTRY)
    assert (approval.reference, approval.clauses, approval.cars) == ("A-1", ("4.2",), ("27", "3"))
    assert approval.reason == "Out of production"
    assert [approval.covers(date(2026, *day)) for day in ((1, 31), (2, 1), (12, 31))] == [False, True, True]
    assert not approval.covers(date(2027, 1, 1))


def test_changes_are_laid_over_its_own_clauses() -> None:
    (approval,) = register(
        ENTRY + ", changes: [{change: '4.2', at: check.at_most, for: 1400 mm, read: 1450 mm}]"
    )
    assert list(approval.changed) == ["4.2"]
    assert approval.changed["4.2"].check.sentence() == "body.width at most 1450 mm"
    assert PACK.clauses["4.2"].check.sentence() == "body.width at most 1400 mm"


def test_changes_may_touch_more_than_the_clause() -> None:
    (approval,) = register(
        ENTRY + ", changes: [{add: derived.wide, read: {formula: body.width - 50 mm}},"
        " {change: '4.2', at: check.limit, for: body.width, read: wide}]"
    )
    assert approval.changed["4.2"].check.sentence() == "wide at most 1400 mm"


def test_a_pack_may_have_a_register_without_entries() -> None:
    assert read_register(parse_document(b"approvals: []\n", "approvals.yaml", "PK"), PACK, ON) == ()


@each_row(
    ("entry", "code", "said"),
    [
        (
            ENTRY.replace("4.2", "4.9"),
            "PK602",
            "approval A-1 is for clause 4.9, which the pack does not have",
        ),
        (ENTRY.replace("2026-12-31", "2026-01-31"), "PK601", "`until` is before `from`"),
        (ENTRY.replace("2026-12-31", "2026-13-31"), "PK106", "2026-13-31"),
        (ENTRY.replace('"27"', "27"), "PK102", "'27' needs quotes"),
        (ENTRY.replace('"4.2"', "4.2"), "PK102", "'4.2' needs quotes"),
        (ENTRY.replace("reference: A-1", "reference: 14"), "PK102", "'14' needs quotes"),
        (ENTRY.replace(", reason: Out of production", ""), "PK108", "the approval has no `reason`"),
        (ENTRY.replace("Out of production", '""'), "PK108", "the approval has no `reason`"),
        (ENTRY.replace("A-1", '""'), "PK108", "the approval has no `reference`"),
        (ENTRY.replace('["4.2"]', "[]"), "PK108", "the approval has no `clauses`"),
        (ENTRY.replace('["4.2"]', ""), "PK108", "the approval has no `clauses`"),
        (ENTRY.replace('["4.2"]', '["4.2", ""]'), "PK108", "`clauses` names none here"),
        (ENTRY.replace('["27", "3"]', "[]"), "PK108", "`cars` names none here"),
        (ENTRY.replace('["27", "3"]', ""), "PK108", "`cars` names none here"),
        (ENTRY.replace('["27", "3"]', '["27", ""]'), "PK108", "`cars` names none here"),
        (ENTRY.replace("cars:", "car:"), "PK101", "'car' is not a key of an approval"),
        (ENTRY + ", when: body.width", "PK303", "true or false"),
        (ENTRY + ", when: body.with > 1 mm", "PK201", "body.with"),
        (ENTRY + ", changes: []", "PK108", "`changes` needs a list"),
        (ENTRY + ", changes: [{withdraw: '9.9'}]", "PK602", "there is no clause 9.9"),
        (
            ENTRY + ", changes: [{change: '4.2', at: check.at_most, for: 1 mm, read: 2 mm}]",
            "PK630",
            "stands there",
        ),
        (
            ENTRY + ", changes: [{change: '4.2', at: check.at_most, for: 1400 mm, read: 2 kg}]",
            "PK301",
            "mass",
        ),
    ],
)
def test_a_mistake_is_named_with_its_place(entry: str, code: str, said: str) -> None:
    problems = refused(entry)
    assert [problem.code for problem in problems] == [code]
    assert said in problems[0].message
    assert problems[0].span is not None
    assert (problems[0].span.file, problems[0].span.line) == ("approvals.yaml", 2)


def test_a_reference_stands_once() -> None:
    (problem,) = refused(ENTRY, ENTRY.replace("A-1", "a-1"))
    assert (problem.code, problem.span.line if problem.span else 0) == ("PK641", 3)


def test_what_is_not_in_force_may_speak_of_another_edition() -> None:
    old = ENTRY.replace("4.2", "9.9").replace("2026-12-31", "2026-03-31") + ", when: no.such > 1"
    assert [approval.clauses for approval in register(old)] == [("9.9",)]
