"""A dispensation never hides what the car would have come to, and an approval without effect is spoken of."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from checker.kinds.judging.assessment import DISPENSATION, FAIL, NOT_APPLICABLE, NOT_SHOWN, PASS
from checker.pack.editions.approvals import read_register
from checker.pack.model import Pack
from checker.reading.strict_yaml import parse_document
from checker.report.words.acts import act_words
from checker.report.words.premises import premise_words
from checker.verdict.inspection import Inspection
from tests.building import DAY, inspection_of, pack_of
from tests.examples import each_row

CLAUSES = """
"4.2": {check: {limit: body.width, at_most: 1400 mm}, penalty: 10 points, act: Cut it off.}
"4.3": {check: {limit: body.length, at_most: 3000 mm}}
"""
FACTS = "facts: {body.width: {unit: mm}, body.length: {unit: mm}, engine.position: {one_of: [front, mid]}}"
PACK = pack_of(CLAUSES, FACTS)
ENTRY = 'reference: A-1, clauses: ["4.2"], cars: ["7"], until: 2026-12-31, reason: Old'
CITED = "approvals: [A-1]\n"


def with_register(entry: str, pack: Pack = PACK) -> Pack:
    document = parse_document(f"approvals: [{{{entry}}}]\n".encode(), "approvals.yaml", "PK")
    return replace(pack, approvals=read_register(document, pack, DAY))


def judged(car: str, entry: str = ENTRY, cited: str = CITED) -> Inspection:
    return inspection_of(with_register(entry), cited + car)


WIDE = "body: {width: 1410 mm, length: 2900 mm}"


def test_a_breach_becomes_a_dispensation_with_its_margin_and_its_reference() -> None:
    inspection = judged(WIDE)
    outcome = inspection.outcomes[0]
    assert (outcome.outcome, outcome.reference) == (DISPENSATION, "A-1")
    assert outcome.assessment.margin_value == -10
    assert outcome.without is not None
    assert (outcome.without.outcome, outcome.without.margin_value) == (FAIL, Fraction(-10))
    assert (outcome.penalty, act_words(outcome.assessment.act)) == ("", "")
    assert inspection.complies is True
    assert inspection.notes == ()


def test_what_is_not_shown_is_permitted_too() -> None:
    outcome = judged("body: {length: 2900 mm}").outcomes[0]
    assert outcome.outcome == DISPENSATION
    assert outcome.without is not None
    assert outcome.without.outcome == NOT_SHOWN


def test_with_changes_the_clause_is_judged_with_them() -> None:
    changes = ", changes: [{change: '4.2', at: check.at_most, for: 1400 mm, read: 1405 mm}]"
    within = judged("body: {width: 1404 mm, length: 2900 mm}", ENTRY + changes).outcomes[0]
    assert (within.outcome, within.assessment.margin_value, within.reference) == (PASS, Fraction(1), "A-1")
    assert within.without is not None
    assert (within.without.outcome, within.without.margin_value) == (FAIL, Fraction(-4))
    beyond = judged(WIDE, ENTRY + changes).outcomes[0]
    assert (beyond.outcome, beyond.assessment.margin_value) == (FAIL, Fraction(-5))


@each_row(
    ("entry", "cited", "note"),
    [
        (ENTRY, "", "approval A-1 is for this car but is not cited, so it has no effect"),
        (
            ENTRY.replace('"7"', '"8"'),
            CITED,
            "approval A-1 is cited, but it is for car 8, so it has no effect",
        ),
        (
            ENTRY.replace("2026-12-31", "2026-05-02"),
            CITED,
            "approval A-1 is cited, but it ended on 2026-05-02",
        ),
        (ENTRY + ", from: 2026-05-04", CITED, "approval A-1 is cited, but it begins on 2026-05-04"),
        (
            ENTRY,
            "approvals: [A-2]\n",
            "approval A-2 is cited, but the register does not have it. Did you mean 'A-1'?",
        ),
        (
            ENTRY + ", when: engine.position == 'mid'",
            CITED + "engine: {position: front}\n",
            "approval A-1 is cited, but does not apply: front == 'mid' is false",
        ),
    ],
)
def test_an_approval_without_effect_is_reported(entry: str, cited: str, note: str) -> None:
    inspection = judged(WIDE, entry, cited)
    assert inspection.outcomes[0].outcome == FAIL
    assert act_words(inspection.outcomes[0].assessment.act) == "Cut it off."
    assert note in map(premise_words, inspection.notes)


def test_without_a_register_a_citation_has_no_effect() -> None:
    inspection = inspection_of(PACK, CITED + WIDE)
    assert inspection.outcomes[0].outcome == FAIL
    assert tuple(map(premise_words, inspection.notes)) == (
        "approval A-1 is cited, but the pack has no register of approvals, so it has no effect",
    )


def test_an_approval_that_may_not_apply_makes_a_breach_not_shown() -> None:
    inspection = judged(WIDE, ENTRY + ", when: engine.position == 'mid'")
    assert inspection.outcomes[0].outcome == NOT_SHOWN
    assert "engine.position" in inspection.outcomes[0].assessment.unknown.absent
    assert tuple(map(premise_words, inspection.notes)) == (
        "approval A-1 is cited, but whether it applies is not known: engine.position is not stated",
    )


def test_an_approval_that_is_not_needed_is_reported_and_changes_nothing() -> None:
    inspection = judged("body: {width: 1390 mm, length: 2900 mm}")
    assert (inspection.outcomes[0].outcome, inspection.outcomes[0].reference) == (PASS, "")
    assert tuple(map(premise_words, inspection.notes)) == (
        "approval A-1 is cited but not needed: without it, clause 4.2 would not be breached",
    )


def test_an_approval_broader_than_needed_is_reported() -> None:
    inspection = judged(WIDE, ENTRY.replace('["4.2"]', '["4.2", "4.3"]'))
    assert tuple(map(premise_words, inspection.notes)) == (
        "approval A-1 is broader than needed: without it, clause 4.3 would not be breached",
    )
    open_ended = judged(WIDE, 'reference: A-1, clauses: ["4.2"], reason: Old')
    assert open_ended.outcomes[0].outcome == DISPENSATION
    assert tuple(map(premise_words, open_ended.notes)) == (
        "approval A-1 is too broad: it names no car and has no last day",
    )


def test_a_clause_that_another_takes_the_place_of_needs_no_dispensation() -> None:
    pack = pack_of(
        CLAUSES
        + '"4.4": {instead_of: ["4.2"], check: {when: engine.position == \'mid\', limit: body.width, at_most: 1420 mm}}',
        FACTS,
    )
    inspection = inspection_of(with_register(ENTRY, pack), f"{CITED}engine: {{position: mid}}\n{WIDE}")
    assert [outcome.outcome for outcome in inspection.outcomes] == [NOT_APPLICABLE, PASS, PASS]


@given(width=st.integers(1300, 1500))
def test_a_dispensation_never_hides_the_true_margin(width: int) -> None:
    car = f"body: {{width: {width} mm, length: 2900 mm}}"
    with_it, without = judged(car).outcomes[0], inspection_of(PACK, car).outcomes[0]
    assert with_it.assessment.margin_value == without.assessment.margin_value == Fraction(1400 - width)
    assert with_it.outcome == (without.outcome if without.outcome == PASS else DISPENSATION)
