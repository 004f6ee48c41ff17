"""Temperatures on every scale: one verdict whatever the scale, differences that are no temperatures, cures that work."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.pack.editions.loading import build_pack
from checker.quantities.display import show
from checker.quantities.literal import parse_literal
from checker.quantities.units import parse_unit
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.report.words.acts import act_words
from checker.report.words.amounts import margin_words
from checker.verdict.inspection import Outcome
from checker.verdict.run import inspect_document
from tests.cli.running import run
from tests.examples import each_row

PACK = """\
pack: warm
edition: "1"
title: Temperatures
in_force: {{from: 2026-01-01}}
facts:
  fuel.cold: {{unit: {unit}}}
  air.shade: {{unit: degC}}
  cooling.rise: {{unit: K}}
clauses:
  "1": {{title: One, check: {{{check}}}}}
"""
CAR = 'formula: warm\ncar: {{number: "1"}}\nfuel: {{cold: {fuel}}}\nair: {{shade: {air}}}\ncooling: {{rise: {rise}}}\n'


def judged(check: str, fuel: str, air: str = "20 degC", rise: str = "5 K", unit: str = "degC") -> Outcome:
    pack = build_pack(parse_document(PACK.format(check=check, unit=unit).encode(), "pack.yaml", "PK"))
    car = parse_document(CAR.format(fuel=fuel, air=air, rise=rise).encode(), "car.yaml", "CD")
    return inspect_document(pack, car, pack.first_day, "entrant").outcomes[0]


def on(scale: str, hundredths_celsius: int) -> str:
    """A temperature on a scale, in full."""
    celsius = Fraction(hundredths_celsius, 100)
    zero = {
        "degC": Fraction(0),
        "degF": Fraction(-160, 9),
        "K": Fraction("-273.15"),
        "degR": Fraction("-273.15"),
    }
    step = Fraction(5, 9) if scale in ("degF", "degR") else Fraction(1)
    return (
        show(
            (celsius - zero[scale]) / step,
            parse_unit(scale, None).__class__("", parse_unit("kg", None).kind, Fraction(1)),
        )
        + f" {scale}"
    )


SCALES = st.sampled_from(["degC", "degF", "K", "degR"])
HUNDREDTHS = st.integers(-3000, 20000)


@given(
    HUNDREDTHS,
    HUNDREDTHS,
    SCALES,
    SCALES,
    st.sampled_from(["at_least", "at_most", "above", "below", "exactly"]),
)
def test_a_bound_on_any_scale_gives_the_verdict_of_degrees_celsius(
    value: int, bound: int, one: str, other: str, sense: str
) -> None:
    plain = judged(f"limit: fuel.cold, {sense}: {bound / 100:.2f} degC", f"{value / 100:.2f} degC")
    scaled = judged(f"limit: fuel.cold, {sense}: {on(other, bound)}", on(one, value), unit="degF")
    assert scaled.outcome == plain.outcome
    assert scaled.assessment.margin_value == plain.assessment.margin_value


@given(HUNDREDTHS, HUNDREDTHS, SCALES)
def test_a_comparison_on_any_scale_says_the_same(value: int, bound: int, scale: str) -> None:
    for sign in ("<", "<=", "==", ">"):
        plain = judged(f"holds: fuel.cold {sign} {bound / 100:.2f} degC", f"{value / 100:.2f} degC")
        assert (
            judged(f"holds: fuel.cold {sign} {on(scale, bound)}", on(scale, value)).outcome == plain.outcome
        )


@given(HUNDREDTHS, HUNDREDTHS)
def test_a_difference_of_a_degree_fahrenheit_is_five_ninths_of_a_kelvin(one: int, other: int) -> None:
    fuel, air = f"{one / 100:.2f} degF", f"{other / 100:.2f} degF"
    found = judged("limit: fuel.cold - air.shade, at_least: 0 K", fuel, air)
    assert found.assessment.margin_value == Fraction(one - other, 100) * Fraction(5, 9)


@given(st.integers(-(10**6), 10**6))
def test_a_temperature_is_shown_as_it_was_written(hundredths: int) -> None:
    for scale in ("degC", "degF"):
        text = f"{hundredths / 100:.2f} {scale}"
        literal = parse_literal(text, None)
        assert isinstance(literal.value, Fraction)
        assert parse_literal(show(literal.value, parse_unit(scale, None)), None).value == literal.value
    assert parse_literal("-40 degF", None).value == parse_literal("-40 degC", None).value == -40
    assert parse_literal("212 degF", None).value == 100


@each_row(
    ("check", "fuel", "outcome", "margin", "act"),
    [
        ("limit: fuel.cold, at_least: 50 degF", "50 degF", "pass", "0 degF", None),
        ("limit: fuel.cold, at_least: 50 degF", "41 degF", "fail", "-9 degF", "raise fuel.cold by 9 degF"),
        ("limit: fuel.cold, at_least: 50 degF", "5 degC", "fail", "-9 degF", "raise fuel.cold by 9 degF"),
        ("limit: fuel.cold, at_least: -40 degF", "-40 degC", "pass", "0 degF", None),
        ("limit: fuel.cold, at_least: air.shade - 10 K", "10 degC", "pass", "0 degC", None),
        ("limit: fuel.cold, at_least: air.shade - 18 degR", "50 degF", "pass", "0 degC", None),
        ("limit: fuel.cold - air.shade, at_least: -18 degF", "50 degF", "pass", "0 degF", None),
        ("limit: air.shade - fuel.cold, at_most: 10 degC", "10 degC", "pass", "0 degC", None),
        ("limit: fuel.cold, nominal: 60 degF, plus_minus: 10 degF", "70 degF", "pass", "0 degF", None),
        ("limit: fuel.cold, at_most: 60 degF, tolerance: 1.8 degF", "61.8 degF", "pass", "0 degF", None),
        ("limit: cooling.rise, at_most: 9 degF", "5 degC", "pass", "0 degF", None),
        ('limit: "max(fuel.cold, air.shade)", at_most: 68 degF', "10 degC", "pass", "0 degF", None),
        ("limit: 0.2 * (fuel.cold - 20 degC) / (1 K), at_most: 2", "30 degC", "pass", "0", None),
        ("limit: fuel.cold, at_most: 283.15 K", "50 degF", "pass", "0 K", None),
        ("allowed: [50 degF, 20 degC], of: fuel.cold", "10 degC", "pass", "0 degF", None),
    ],
)
def test_bounds_margins_and_acts_are_told_on_the_rule_s_own_scale(
    check: str, fuel: str, outcome: str, margin: str, act: str | None
) -> None:
    found = judged(check, fuel).assessment
    assert found.outcome == outcome
    assert found.margin is not None
    assert margin_words(found.margin) == margin
    if act is not None:
        assert act_words(found.act) == act.replace("fuel.cold", "cold")


@each_row(
    ("check", "cure"),
    [
        ("limit: fuel.cold + air.shade, at_most: 100 degC", "t + 10 K"),
        ("limit: 2 * fuel.cold, at_most: 100 degC", "t + 10 K"),
        ("limit: fuel.cold / (1 degC), at_most: 100", "(t - 20 degC) / (1 K)"),
        ("limit: 50 % * fuel.cold, at_most: 100 degC", "t + 10 K"),
        ("limit: -fuel.cold, at_most: 100 degC", "t + 10 K"),
        ("limit: fuel.cold ** 2, at_most: 100 degC", "t + 10 K"),
        ("limit: abs(fuel.cold), at_most: 100 degC", "t + 10 K"),
        ("limit: fuel.cold, at_most: air.shade + 10 degC", "t + 10 K"),
        ("limit: fuel.cold, at_least: air.shade - 10 degC", ""),
        ("limit: fuel.cold - air.shade, at_most: air.shade", ""),
        ('limit: "round_up(fuel.cold, 1 degC)", at_most: 10 degC', "(t - 0 degC) to 1 K"),
        ("limit: fuel.cold, at_most: 10 degC, rounded: {to: 1 degC, mode: up}", "(t - 0 degC) to 1 K"),
        ("limit: fuel.cold, at_most: 5 kg/degF", "as in W/degR"),
        ("limit: fuel.cold, at_most: cooling.rise", ""),
    ],
)
def test_what_no_temperature_allows_is_refused(check: str, cure: str) -> None:
    with pytest.raises(InputError) as caught:
        judged(check, "10 degC")
    assert all(problem.code in ("PK301", "PK302", "PK104") for problem in caught.value.problems)
    assert any(cure in problem.hint for problem in caught.value.problems)


def test_the_gear_s_errors_are_steps_of_its_scale() -> None:
    text = PACK.format(check="limit: fuel.cold, at_least: 50 degF", unit="degF, measured_with: probe")
    text += "instruments: {probe: {resolution: 1 degF, permissible_error: 2 degF}}\n"
    pack = build_pack(parse_document(text.encode(), "pack.yaml", "PK"))
    for fuel, outcome in (("50 degF", "too_close"), ("53 degF", "pass"), ("47 degF", "fail")):
        car = parse_document(CAR.format(fuel=fuel, air="20 degC", rise="5 K").encode(), "car.yaml", "CD")
        found = inspect_document(pack, car, pack.first_day, "entrant").outcomes[0].assessment
        assert found.outcome == outcome


@pytest.mark.usefixtures("at_root")
def test_a_sweep_tells_temperatures_on_their_scale(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    (tmp_path / "warm.yaml").write_text(PACK.format(check="limit: fuel.cold, at_least: 50 degF", unit="degF"))
    (tmp_path / "car.yaml").write_text(CAR.format(fuel="52 degF", air="20 degC", rise="5 K"))
    given = (
        str(tmp_path / "warm.yaml"),
        "1",
        str(tmp_path / "car.yaml"),
        "--from",
        "40 degF",
        "--to",
        "60 degF",
    )
    ran = run(capsys, "pack", "sweep", *given)
    assert "varied check.at_least, now 50 degF" in " ".join(ran.out.split())
    assert "52 degF: 0 fail up to it, 1 above (car 1)" in ran.out
