"""A day after the one judged is no evidence, and what no car has is a slip of the pen."""

from __future__ import annotations

from typing import Any

import pytest

from checker.car.car import Car
from checker.car.described.vocabulary import FactType
from checker.quantities.kind import Unknown
from checker.reading.problems import InputError
from tests.building import car_of, outcome_of, pack_of, pack_of_check
from tests.car.cars import COMPLETE, loaded, problems, varied, vocabulary
from tests.examples import each_row

ON = {"event.date": "2026-05-03"}


def dates() -> list[str]:
    """Paths of every day that a declaration may state and that cannot lie ahead."""
    known = vocabulary()
    facts = [name for name, fact in known.facts.items() if _happened(fact)]
    fields = [
        f"{name}[0].{field}"
        for name, its in known.lists.items()
        for field, fact in its.fields.items()
        if _happened(fact)
    ]
    return facts + fields


def _happened(fact: FactType) -> bool:
    return fact.happened


def stating(path: str, day: str) -> Car:
    lists = {"components": [{"name": "belts"}], "documents": [{"kind": "declaration"}]}
    return loaded(varied({**ON, **lists, path: day}))


def asked(car: Car, path: str) -> Any:
    list_name, bracket, field = path.partition("[0].")
    return car.lists[list_name][0].stated(field) if bracket else car.stated(path)


@pytest.mark.parametrize("path", dates())
def test_a_day_after_the_one_judged_does_not_count_and_is_told_with_its_place(path: str) -> None:
    car = stating(path, "2073-05-04")
    assert isinstance(asked(car, path).value, Unknown)
    (told,) = [problem for problem in car.warnings if problem.code == "CD222"]
    assert "after 2026-05-03, the day judged" in told.message
    assert told.span is not None
    assert "2073" in told.span.source_line[told.span.column - 1 :]
    today = stating(path, "2026-05-03")
    assert not isinstance(asked(today, path).value, Unknown)
    assert not any(problem.code == "CD222" for problem in today.warnings)


def test_there_are_days_to_look_at() -> None:
    assert {"car.chassis_built", "components[0].made", "documents[0].issued", "driver.born"} <= set(dates())


def test_a_month_or_year_that_has_begun_counts() -> None:
    facts = "facts: {seat.made: {type: date, to: [day, month, year], happened: true}}"
    pack = pack_of_check("{limit: seat.made, at_least: 2000-01-01}", facts)
    for made, outcome in (
        ("2026-05", "pass"),
        ("2026-06", "not_shown"),
        ("2026", "pass"),
        ("2027", "not_shown"),
    ):
        assert outcome_of(pack, f"seat: {{made: {made}}}").outcome == outcome


def test_a_moment_of_another_day_does_not_count_either() -> None:
    for several, moments in (("false", "MOMENT"), ("true", "[2026-05-02 10:00, MOMENT]")):
        facts = f"facts: {{tank.sealed: {{type: moment, several: {several}, happened: true}}}}"
        worst = ", of_several: worst" if several == "true" else ""
        pack = pack_of_check(f"{{limit: tank.sealed, at_least: 2026-01-01 10:00{worst}}}", facts)
        for moment, outcome in (("2026-05-03 23:59", "pass"), ("2026-05-04 00:00", "not_shown")):
            assert (
                outcome_of(pack, f"tank: {{sealed: {moments.replace('MOMENT', moment)}}}").outcome == outcome
            )


@pytest.mark.parametrize("fact", ["unit: kg", "type: truth", "type: text", "one_of: [a, b]"])
def test_only_days_and_moments_happen(fact: str) -> None:
    with pytest.raises(InputError) as caught:
        pack_of_check("{holds: true == true}", f"facts: {{tank.state: {{{fact}, happened: true}}}}")
    assert [p.message for p in caught.value.problems if p.code == "PK108"]


def test_the_last_day_of_a_label_may_lie_ahead() -> None:
    assert asked(stating("components[0].expires", "2031-12"), "components[0].expires") is not None


def test_a_pack_says_which_of_its_days_are_of_what_has_happened() -> None:
    for happened, outcome in (("false", "pass"), ("true", "not_shown")):
        facts = f"facts: {{licence.until: {{type: date, happened: {happened}}}}}"
        pack = pack_of_check("{limit: licence.until, at_least: event.date}", facts)
        assert outcome_of(pack, "licence: {until: 2199-01-01}").outcome == outcome


REPAIRED = "cage.repaired: {type: date, happened: true, optional: true}"


@pytest.mark.parametrize(
    ("facts", "check"),
    [
        (REPAIRED, "{holds: not stated(cage.repaired)}"),
        (REPAIRED, "{holds: stated(cage.repaired)}"),
        (
            REPAIRED,
            "{limit: cage.certified, at_least: cage.repaired if stated(cage.repaired) else 2020-01-01}",
        ),
        (REPAIRED, "{unless: stated(cage.repaired), limit: cage.certified, at_least: 2026-01-01}"),
        (
            "cage.repaired: {type: date, happened: true, default: 2001-01-01}",
            "{limit: cage.repaired, at_most: 2010-01-01}",
        ),
    ],
)
def test_a_day_after_the_one_judged_is_not_as_if_nothing_were_stated(facts: str, check: str) -> None:
    pack = pack_of_check(check, f"facts: {{cage.certified: {{type: date, happened: true}}, {facts}}}")
    for repaired in ("2026-05-04", "2199-01-01"):
        found = outcome_of(pack, f"cage: {{certified: 2025-01-01, repaired: {repaired}}}")
        assert found.outcome == "not_shown", check


THERE = "{required: [log book, receipt], of: documents}"
EITHER = "{required: [log book, receipt], at_least: 1, of: documents}"
BELTS = "{required: [safety/belts]}"
OF_BELTS = "categories: [safety/belts, safety/seat]"


@pytest.mark.parametrize(
    ("check", "listed", "tomorrow", "today"),
    [
        (THERE, "documents: [{kind: log book}, {kind: receipt, issued: DAY}]", "not_shown", "pass"),
        (THERE, "documents: [{kind: receipt, issued: DAY}]", "fail", "fail"),
        (
            THERE,
            "documents: [{kind: log book, issued: DAY}, {kind: log book}, {kind: receipt}]",
            "pass",
            "pass",
        ),
        (THERE, "documents: [{kind: log book}, {kind: letter, issued: DAY}]", "fail", "fail"),
        (EITHER, "documents: [{kind: log book}, {kind: receipt, issued: DAY}]", "pass", "pass"),
        (EITHER, "documents: [{kind: receipt, issued: DAY}]", "not_shown", "pass"),
        (BELTS, "components: [{name: b, category: safety/belts, made: DAY}]", "not_shown", "pass"),
        (
            BELTS,
            "components: [{name: s, category: safety/seat, made: DAY, parts: [{name: b, category: safety/belts}]}]",
            "not_shown",
            "pass",
        ),
        (BELTS, "components: [{name: s, category: safety/seat, made: DAY}]", "fail", "fail"),
    ],
)
def test_what_came_to_be_after_the_day_judged_is_not_there_for_all_that_is_known(
    check: str, listed: str, tomorrow: str, today: str
) -> None:
    pack = pack_of_check(check, OF_BELTS)
    assert outcome_of(pack, listed.replace("DAY", "2199-01-01")).outcome == tomorrow
    assert outcome_of(pack, listed.replace("DAY", "2026-05-03")).outcome == today


def test_a_weighing_after_the_day_judged_weighs_nothing() -> None:
    car = loaded(varied({**ON, "weighing.when": "2199-05-03 10:00"}))
    assert not car.weighing.readings
    assert any(problem.code == "CD222" for problem in car.warnings)
    assert loaded(varied({**ON, "weighing.when": "2026-05-03 10:00"})).weighing.readings


PADS = {"instruments": {"pads": {"resolution": "0.5 kg", "permissible_error": "0.3 %"}}}


def checked(*checks: dict[str, Any]) -> Car:
    """A car weighed on the day, on pads that were checked."""
    whole = [{"instrument": "pads", "test_weight": "150 kg", **check} for check in checks]
    return loaded(varied({**ON, **PADS, "weighing.instrument": "pads", "checks": whole}))


WHEEL = ("front_left", "front_right", "rear_left", "rear_right")


def every(kg: str) -> dict[str, str]:
    return dict.fromkeys(WHEEL, kg)


def test_a_check_of_the_pads_after_the_day_judged_is_no_evidence_that_they_were_in_order() -> None:
    light = {"when": "2026-05-03 08:00", "test_weight": "20 kg", "shown": every("20 kg")}
    heavy = {"when": "2199-05-03 08:00", "shown": every("150 kg")}
    car = checked(light, heavy)
    assert car.notes().premises == checked(light).notes().premises
    assert car.notes().premises != checked(light, {**heavy, "when": "2026-05-03 19:00"}).notes().premises
    (told,) = [problem for problem in car.warnings if problem.code == "CD222"]
    assert "2199-05-03 08:00, after 2026-05-03" in told.message
    assert told.span is not None


def test_a_pad_that_fails_its_next_check_is_in_doubt_on_the_day_before() -> None:
    failed = {"when": "2026-05-04 08:00", "shown": {**every("150 kg"), "front_left": "155 kg"}}
    assert [set(doubt.half_widths_kg) for doubt in checked(failed).pad_doubts] == [{"front_left"}]
    assert set(checked(failed).checks[0].pads) == {"front_left"}


@each_row(
    ("changes", "code"),
    [
        ({"components": [{"name": "damper", "price": "0 GBP"}]}, "CD208"),
        ({"components": [{"name": "damper", "price_basis": "hearsay"}]}, "CD205"),
        ({"components": [{"name": "damper", "count": 10**30}]}, "CD208"),
        ({"components": [{"name": "damper", "mass": "3000 kg"}]}, "CD208"),
        ({"ballast": [{"label": "B1", "material": "leed"}]}, "CD205"),
        ({"ballast": [{"label": "B1", "mass": "1900 kg"}]}, "CD208"),
        ({"ballast": [{"label": "B1", "fixings": 10**30}]}, "CD208"),
    ],
)
def test_what_no_car_has_is_refused_with_its_place(changes: dict[str, Any], code: str) -> None:
    found = problems(varied(changes))
    assert [problem.code for problem in found] == [code]
    assert found[0].span is not None


def test_a_pack_can_narrow_them() -> None:
    narrower = (
        "lists: {components: {fields: {price_basis: {one_of: [receipt]}, mass: {range: [0 kg, 50 kg]}}}}"
    )
    pack = pack_of('"1": {title: T, text: W, check: {holds: true == true}}', narrower)
    assert pack.vocabulary.lists["components"].fields["price_basis"].kind.words == ("receipt",)
    car_of(pack, "components: [{name: a, mass: 40 kg, price_basis: receipt}]")


def test_complete_cars_have_no_such_slips() -> None:
    assert problems(varied(ON, COMPLETE)) == ()
