"""Reports as text: whole ones as golden files, and what holds for all of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from checker.pack.editions.approvals import read_register
from checker.reading.strict_yaml import parse_document
from checker.report.one_car.text import inspection_text
from checker.report.page import Page
from tests.building import DAY, inspection_of, pack_of, pack_of_check
from tests.examples import quick_first
from tests.report.documents import STORIES, clause_of, document_of, sample

pytestmark = pytest.mark.usefixtures("at_root")

Golden = Callable[[str, str], None]


def printed(document: dict[str, object], width: int = 80, *, every_clause: bool = False) -> str:
    page = Page(width)
    inspection_text(document, page, every_clause=every_clause)
    return page.text()


@pytest.mark.parametrize(
    "name", ["legal", "light-at-the-flag", "hidden-alloy", "misspelt-alloy", "pads-that-disagree"]
)
def test_a_sample_reads_as_accepted(name: str, golden: Golden) -> None:
    golden(f"inspect-{name}.txt", printed(document_of(sample(name))))


def test_every_clause_reads_as_accepted(golden: Golden) -> None:
    golden("inspect-all.txt", printed(document_of(sample("belts-between-meetings")), every_clause=True))


def test_a_narrow_terminal_reads_as_accepted(golden: Golden) -> None:
    golden("inspect-narrow.txt", printed(document_of(sample("creeping-inside")), 40))


def test_an_officials_report_reads_as_accepted(golden: Golden) -> None:
    readings = "samples/readings/ballast-by-another-name.yaml"
    inspection = sample(
        "ballast-by-another-name", readings=readings, audience="official", what_if=("fuel.unusable=1 L",)
    )
    golden("inspect-official.txt", printed(document_of(inspection)))


@pytest.mark.parametrize("width", quick_first([32, 80, 40, 100], 1))
@pytest.mark.parametrize("name", quick_first(STORIES, 4))
def test_no_line_is_wider_than_asked_for(name: str, width: int) -> None:
    text = printed(document_of(sample(name)), width, every_clause=True)
    assert max(map(len, text.splitlines())) <= width


@pytest.mark.parametrize("name", quick_first(STORIES, 3))
def test_every_clause_is_listed_when_asked_for(name: str) -> None:
    document = document_of(sample(name))
    text = printed(document, every_clause=True).partition("EVERY CLAUSE")[2]
    for outcome in document["outcomes"]:
        assert f"\n  {outcome['clause']} " in text


FACTS = "facts: {body.front: {unit: mm}, body.sound: {type: truth}}"


def test_a_breach_says_what_by_how_much_and_what_to_do() -> None:
    pack = pack_of(
        '"1": {title: Width, check: {limit: body.front, at_most: 100 mm}, consequence: Out., penalty: 3 laps,'
        " interpretation: At the hubs.}",
        FACTS,
    )
    text = printed(document_of(inspection_of(pack, "body: {front: 102.5 mm}")))
    for told in (
        "-2.5 mm",
        "max 100 mm",
        "lower front by 2.5 mm",
        "Out.",
        "3 laps",
        "At the hubs.",
    ):
        assert told in text
    assert "Car 7 fails test 1 on 2026-05-03: clause 1 is not met." in text


def test_advice_stands_apart_and_leaves_the_result_alone() -> None:
    pack = pack_of(
        '"1": {title: Width, check: {limit: body.front, at_most: 100 mm}, severity: advisory}\n'
        '"2": {title: Sound, check: {holds: body.sound}}',
        FACTS,
    )
    text = printed(document_of(inspection_of(pack, "body: {front: 102.5 mm, sound: true}")))
    assert "ADVISORY ONLY" in text
    assert "FAILS" not in text
    assert "2 clauses: 1 met, 1 advised otherwise." in text
    assert "complies with every clause of test 1" in text


@pytest.mark.parametrize(("audience", "word"), [("entrant", "not declared"), ("official", "not yet checked")])
def test_advice_that_cannot_be_told_is_not_counted_as_against_the_car(audience: str, word: str) -> None:
    pack = pack_of(
        '"1": {title: Width, check: {limit: body.front, at_most: 100 mm}, severity: advisory}\n'
        '"2": {title: Sound, check: {holds: body.sound}}\n'
        '"3": {title: Silent, check: {holds: body.sound}, severity: advisory}\n',
        FACTS,
    )
    document = document_of(inspection_of(pack, "body: {sound: true}"))
    text = printed({**document, "for": audience})
    assert f"3 clauses: 2 met, 1 only advised: {word}." in text
    assert "otherwise" not in text


@pytest.mark.parametrize(
    ("sections", "result"),
    [
        (
            "body: {front: 101 mm, sound: false}",
            "fails test 1 on 2026-05-03: clauses 1 and 2 are not met.",
        ),
        ("body: {front: 101 mm}", "fails test 1 on 2026-05-03: clause 1 is not met."),
        (
            "",
            "is undecided by test 1 on 2026-05-03: nothing fails, but clauses 1 and 2 are not declared.",
        ),
    ],
)
def test_the_result_is_one_sentence(sections: str, result: str) -> None:
    pack = pack_of(
        '"1": {title: Width, check: {limit: body.front, at_most: 100 mm}}\n"2": {title: S, check: {holds: body.sound}}',
        FACTS,
    )
    text = printed(document_of(inspection_of(pack, sections)), 100)
    assert f"Car 7 {result}" in " ".join(text.split())


APPROVALS = """\
approvals:
  - {reference: A-1, clauses: ["1"], cars: ["7"], until: 2026-12-31, reason: Old}
  - reference: A-2
    clauses: ["2"]
    cars: ["7"]
    until: 2026-12-31
    reason: Older
    changes: [{change: "2", at: check.at_most, for: 100 mm, read: 120 mm}]
"""


def test_what_an_approval_permits_stays_visible() -> None:
    limit = "{limit: body.front, at_most: 100 mm}"
    pack = pack_of(f'"1": {{title: Width, check: {limit}}}\n"2": {{title: Girth, check: {limit}}}', FACTS)
    register = parse_document(APPROVALS.encode(), "approvals.yaml", "PK")
    allowed = replace(pack, approvals=read_register(register, pack, DAY))
    car = "approvals: [A-1, A-2, A-9]\nbody: {front: 110 mm}"
    document = document_of(inspection_of(allowed, car))
    assert document["complies"] is True
    assert clause_of(document, "1")["outcome"] == "dispensation"
    assert clause_of(document, "2")["without"]["margin"]["exact"] == "-10/1"
    text = " ".join(printed(document).split())
    assert "BY AN APPROVAL" in text
    assert "by approval A-1; without it: FAILS, front 110 mm is 10 mm above the maximum of 100 mm" in text
    assert "by approval A-2; without it: FAILS" in text
    assert "approval A-9 is cited, but the register does not have it" in text
    assert "complies with every clause of test 1" in text


def test_nothing_judged_is_said() -> None:
    pack = pack_of_check("{when: body.sound, limit: body.front, at_most: 100 mm}", FACTS)
    text = printed(document_of(inspection_of(pack, "body: {sound: false}")))
    assert "no clause applies to it" in " ".join(text.split())


def test_text_from_files_is_made_harmless() -> None:
    pack = pack_of('"1": {title: "Wi\\edth", check: {holds: body.sound}, act: "stop\\u202epots"}', FACTS)
    car = 'car: {number: "7", name: "Red\\e[31m"}\nbody: {sound: false}'
    text = printed(document_of(inspection_of(pack, car)))
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert "\\u202e" in text


def test_the_caution_is_always_there() -> None:
    for name in ("legal", "hidden-alloy"):
        text = " ".join(printed(document_of(sample(name))).split())
        assert "a pass makes no car safe" in text
        assert "organising body's scrutineers decide" in text
