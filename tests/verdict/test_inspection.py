"""What speaks for a car: the clause's own days, older checks, clauses in another's place, advice and penalties."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import combinations

import pytest

from checker.kinds.judging.assessment import Assessment, Verdict
from checker.pack.model import ADVISORY
from checker.report.words.acts import act_words
from checker.report.words.findings import found_words, penalty_words
from checker.verdict.inspection import inspect_car
from tests.building import DAY, car_of, inspection_of, outcome_of, pack_of
from tests.examples import each_row

FACTS = """
facts:
  hoop.wall: {unit: mm}
  body.sound: {type: truth}
  engine.boosted: {type: truth}
  car.first_raced: {type: date}
"""


def test_every_clause_is_listed_in_the_rulebooks_order() -> None:
    pack = pack_of(
        """
        "2": {title: Body, check: {holds: body.sound}}
        "10": {title: Hoop, check: {limit: hoop.wall, at_least: 2 mm}}
        "1": {title: Hoop again, check: {limit: hoop.wall, at_least: 1 mm}}
        """,
        FACTS,
    )
    judged = inspection_of(pack, "hoop: {wall: 1.5 mm}")
    assert [(o.clause.number, o.outcome) for o in judged.outcomes] == [
        ("2", "not_shown"),
        ("10", "fail"),
        ("1", "pass"),
    ]
    assert dict(judged.tally) == {
        "fail": 1,
        "too_close": 0,
        "not_shown": 1,
        "dispensation": 0,
        "pass": 1,
        "not_applicable": 0,
    }
    assert judged.complies is False


@pytest.mark.parametrize(
    ("sections", "complies"),
    [("body: {sound: true}", True), ("body: {sound: false}", False), ("", None)],
)
def test_a_car_complies_only_when_every_clause_is_shown_to_be_met(
    sections: str, complies: bool | None
) -> None:
    assert inspection_of(pack_of('"1": {check: {holds: body.sound}}', FACTS), sections).complies is complies


def test_whatever_else_is_met_not_shown_is_never_complies() -> None:
    """Every set of outcomes that the clauses of a car may have, beside advice of every outcome."""
    inspection = inspection_of(pack_of('"1": {check: {holds: body.sound}}', FACTS))
    (one,) = inspection.outcomes
    advice = replace(one, clause=replace(one.clause, severity=ADVISORY))
    for size in range(len(Verdict) + 1):
        for found in combinations(Verdict, size):
            counted = [replace(one, assessment=Assessment(outcome)) for outcome in found]
            advised = [replace(advice, assessment=Assessment(outcome)) for outcome in Verdict]
            judged = replace(inspection, outcomes=(*counted, *advised))
            met = {Verdict.PASS, Verdict.DISPENSATION} & {*found}
            open_ = {Verdict.TOO_CLOSE, Verdict.NOT_SHOWN} & {*found}
            wanted = False if Verdict.FAIL in found else True if met and not open_ else None
            assert judged.complies is wanted, found


def test_a_car_that_no_clause_binds_is_not_said_to_comply() -> None:
    pack = pack_of('"1": {since: 2027-01-01, check: {holds: body.sound}}', FACTS)
    assert inspection_of(pack, "body: {sound: true}").complies is None


def test_advice_never_fails_a_car() -> None:
    pack = pack_of(
        """
        "1": {severity: advisory, check: {holds: body.sound}}
        "2": {check: {limit: hoop.wall, at_least: 1 mm}}
        """,
        FACTS,
    )
    judged = inspection_of(pack, "body: {sound: false}\nhoop: {wall: 2 mm}")
    assert [o.outcome for o in judged.outcomes] == ["fail", "pass"]
    assert judged.complies is True


@pytest.mark.parametrize(
    ("day", "outcome"),
    [
        (date(2026, 4, 30), "not_applicable"),
        (date(2026, 5, 1), "fail"),
        (date(2026, 5, 31), "fail"),
        (date(2026, 6, 1), "not_applicable"),
    ],
)
def test_a_clause_binds_from_its_first_to_its_last_day(day: date, outcome: str) -> None:
    pack = pack_of('"1": {since: 2026-05-01, until: 2026-05-31, check: {holds: body.sound}}', FACTS)
    assert outcome_of(pack, "body: {sound: false}", day=day).outcome == outcome


EARLIER = """
"1":
  check: {limit: hoop.wall, at_least: 2.6 mm}
  earlier:
    - {before: 2016-01-01, check: none}
    - {before: 2021-01-01, until: 2026-12-31, check: {limit: hoop.wall, at_least: 1.8 mm}}
"""


@pytest.mark.parametrize(
    ("built", "wall", "day", "outcome", "margin"),
    [
        ("2015-12-31", "1 mm", date(2026, 5, 3), "not_applicable", None),
        ("2020-12-31", "2 mm", date(2026, 12, 31), "pass", "1/5"),
        ("2020-12-31", "2 mm", date(2027, 1, 1), "fail", "-3/5"),
        ("2021-01-01", "2 mm", date(2026, 5, 3), "fail", "-3/5"),
    ],
)
def test_an_older_car_keeps_its_older_check_for_a_time(
    built: str, wall: str, day: date, outcome: str, margin: str | None
) -> None:
    sections = f'car: {{number: "7", chassis_built: {built}}}\nhoop: {{wall: {wall}}}'
    judged = outcome_of(pack_of(EARLIER, FACTS), sections, day=day)
    shown = judged.assessment.margin_value
    assert (judged.outcome, None if shown is None else str(shown)) == (outcome, margin)


@pytest.mark.parametrize(
    ("wall", "outcome"), [("3 mm", "not_shown"), ("2 mm", "not_shown"), ("1 mm", "not_shown")]
)
def test_an_unknown_age_is_not_shown_when_it_matters(wall: str, outcome: str) -> None:
    """Before 2016 the clause does not bind at all, so no wall settles it."""
    judged = outcome_of(pack_of(EARLIER, FACTS), f"hoop: {{wall: {wall}}}")
    assert judged.outcome == outcome
    assert judged.assessment.unknown.absent == ("car.chassis_built",)


TWO_AGES = """
"1":
  check: {limit: hoop.wall, at_least: 2.6 mm}
  earlier:
    - {before: 2021-01-01, check: {limit: hoop.wall, at_least: 1.8 mm}}
"""


@pytest.mark.parametrize(
    ("wall", "outcome", "margin"),
    [("3 mm", "pass", "2/5"), ("2 mm", "not_shown", None), ("1 mm", "fail", "-8/5")],
)
def test_an_unknown_age_does_not_matter_when_both_checks_agree(
    wall: str, outcome: str, margin: str | None
) -> None:
    """The margin is that of the present check."""
    judged = outcome_of(pack_of(TWO_AGES, FACTS), f"hoop: {{wall: {wall}}}")
    shown = judged.assessment.margin_value
    assert (judged.outcome, None if shown is None else str(shown)) == (outcome, margin)


def test_another_day_may_say_how_old_a_car_is() -> None:
    pack = pack_of(
        """
        "1":
          check: {limit: hoop.wall, at_least: 2.6 mm}
          earlier: [{before: 2025-01-01, by: car.first_raced, check: none}]
        """,
        FACTS,
    )
    judged = outcome_of(pack, 'car: {number: "7", first_raced: 2024-12-31}\nhoop: {wall: 1 mm}')
    assert judged.outcome == "not_applicable"


INSTEAD = """
"1": {title: General, check: {limit: hoop.wall, at_least: 2 mm}}
"2": {title: Boosted, instead_of: ["1"], check: {when: engine.boosted, limit: hoop.wall, at_least: 3 mm}}
"""


@each_row(
    ("boosted", "wall", "outcomes"),
    [
        ("true", "2.5 mm", ["not_applicable", "fail"]),
        ("false", "2.5 mm", ["pass", "not_applicable"]),
        ("false", "1.5 mm", ["fail", "not_applicable"]),
        (None, "3.5 mm", ["pass", "pass"]),
        (None, "2.5 mm", ["pass", "not_shown"]),
        (None, "1.5 mm", ["not_shown", "not_shown"]),
    ],
)
def test_a_clause_takes_the_place_of_another_when_it_applies(
    boosted: str | None, wall: str, outcomes: list[str]
) -> None:
    sections = f"hoop: {{wall: {wall}}}" + (f"\nengine: {{boosted: {boosted}}}" if boosted else "")
    judged = inspection_of(pack_of(INSTEAD, FACTS), sections)
    assert [o.outcome for o in judged.outcomes] == outcomes


def test_the_clause_that_is_set_aside_names_the_one_that_speaks() -> None:
    judged = outcome_of(pack_of(INSTEAD, FACTS), "hoop: {wall: 2.5 mm}\nengine: {boosted: true}")
    assert found_words(judged.assessment.finding) == "clause 2 applies instead"


def test_a_penalty_grows_with_the_excess() -> None:
    pack = pack_of(
        """
        "1":
          check: {limit: sum(c.price for c in components), at_most: 900 GBP}
          penalty: {amount: "round_up(excess / 20 GBP, 1)", unit: laps}
        """,
        "categories: [engine]",
    )
    assert penalty_words(outcome_of(pack, "components: [{name: engine, price: 941 GBP}]").penalty) == "3 laps"
    assert outcome_of(pack, "components: [{name: engine, price: 900 GBP}]").penalty == ""


def test_the_clauses_own_act_comes_before_that_of_its_kind() -> None:
    pack = pack_of('"1": {act: See the welder, check: {limit: hoop.wall, at_least: 2 mm}}', FACTS)
    assert act_words(outcome_of(pack, "hoop: {wall: 1 mm}").assessment.act) == "See the welder"


def test_values_taken_as_exact_leave_nothing_too_close() -> None:
    pack = pack_of('"1": {check: {limit: hoop.wall, at_least: 2 mm}}', FACTS)
    car = car_of(pack, "hoop: {wall: {value: 2.01 mm, uncertainty: 0.1 mm}}")
    assert inspect_car(pack, car, DAY, "entrant").outcomes[0].outcome == "too_close"
    assert inspect_car(pack, car, DAY, "entrant", exact=True).outcomes[0].outcome == "pass"


def test_an_uncertainty_stated_as_nothing_makes_a_value_exact_whatever_it_was_measured_with() -> None:
    facts = FACTS.replace("{unit: mm}", "{unit: mm, measured_with: gauge}")
    more = facts + "instruments: {gauge: {resolution: 1 mm}}\n"
    pack = pack_of('"1": {check: {limit: hoop.wall, at_least: 2 mm}}', more)
    assert outcome_of(pack, "hoop: {wall: 2.01 mm}").outcome == "too_close"
    assert outcome_of(pack, "hoop: {wall: {value: 2.01 mm, uncertainty: 0 mm}}").outcome == "pass"
    assert outcome_of(pack, "hoop: {wall: {value: 1.99 mm, uncertainty: 0 mm}}").outcome == "fail"


def test_an_entry_that_officials_add_is_judged_by_its_own_numbers() -> None:
    """Its gear's errors move it, and not the declared entry that stands at the same place of another file."""
    more = """
decision: {official: benefit_to_entrant}
instruments: {caliper: {permissible_error: 0.05 mm}}
lists: {components: {fields: {thickness: {unit: mm, measured_with: caliper}}}}
categories: [brakes/disc]
"""
    pack = pack_of('"1": {check: {within: brakes/disc, limit: thickness, at_least: 8 mm}}', more)
    declared = "components: [{name: front disc, category: brakes/disc, thickness: 9 mm}]"
    found = "components: [{name: rear disc, category: brakes/disc, thickness: 7 mm}]"
    car = car_of(pack, declared, readings=found, audience="official")
    outcome = inspect_car(pack, car, DAY, "official").outcomes[0]
    assert (outcome.outcome, outcome.assessment.item) == ("fail", "rear disc")
