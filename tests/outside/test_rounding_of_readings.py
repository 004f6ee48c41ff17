"""Readings rounded before they are held to a limit, against the worked examples of ASTM E29 (recalled).

The standard's rounding method takes a tie to the even digit; its absolute method does not round. Iowa DOT's instructional
memorandum 202 (read on its public site) differs from it by taking ties up. Each example is a clause of a pack.
"""

from __future__ import annotations

import pytest

from tests.kinds.workbench import judge

FACTS = """{
  steel.yield_point: {unit: psi}, alloy.nickel: {unit: '%'}, water.conductivity: {type: number}, salt.bicarbonate: {unit: '%'}
}"""
EXAMPLES = [
    ("steel.yield_point", "at_least: 36000 psi", "100 psi", ("35940 psi", "35950 psi", "35960 psi"), (False, True, True), (False, True, True), (False, False, False)),
    ("alloy.nickel", "at_least: 57 %", "1 %", ("56.4 %", "56.5 %", "56.6 %"), (False, False, True), (False, True, True), (False, False, False)),
    ("water.conductivity", "at_most: 40", "1", (40.4, 40.5, 40.6), (True, True, False), (True, False, False), (False, False, False)),
    ("salt.bicarbonate", "at_most: 0.5 %", "0.1 %", ("0.54 %", "0.55 %", "0.56 %"), (True, False, False), (True, False, False), (False, False, False)),
]  # fmt: skip
"""Quantity, limit, rounded to; observed; conforming by half to even, by half up, and without rounding."""


@pytest.mark.parametrize("method", ["half_even", "half_up", "none"])
@pytest.mark.parametrize("example", EXAMPLES, ids=[example[0] for example in EXAMPLES])
def test_observed_values_are_rounded_before_they_are_compared(
    example: tuple[object, ...], method: str
) -> None:
    name, limit, step, observed, half_even, half_up, absolute = example
    rounded = "" if method == "none" else f", rounded: {{to: {step}, mode: {method}}}"
    expected = {"half_even": half_even, "half_up": half_up, "none": absolute}[method]
    section, _, key = str(name).partition(".")
    check = f"{{limit: {name}, {limit}{rounded}}}"
    found = tuple(
        judge(check, {section: {key: value}}, FACTS).outcome == "pass"
        for value in observed  # type: ignore[attr-defined]
    )
    assert found == expected


@pytest.mark.parametrize(("most", "step", "passes"), [("4", "1", True), ("4.0", "0.1", False)])
def test_a_limit_is_rounded_to_the_digits_it_is_written_in(most: str, step: str, passes: bool) -> None:
    """Iowa DOT IM 202: 4 1/4 is within "at most 4" and outside "at most 4.0"."""
    check = f"{{limit: gap.width, at_most: {most}, rounded: {{to: {step}, mode: half_up}}}}"
    outcome = judge(check, {"gap": {"width": 4.25}}, "{gap.width: {type: number}}").outcome
    assert (outcome == "pass") is passes
