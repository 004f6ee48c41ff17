"""A name that is used often is worked out once: rules that double their length with each line stay quick.

Written out, sixty lines of `q2: q1 + q1` would be longer than any computer can hold; so none of these tests would end.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.pack.model import Pack
from checker.reading.problems import InputError
from checker.studies.change.comparison import compare
from tests.building import inspection_of, outcome_of, pack_of

LINES = 60

CAR = "a: {x: 3 mm}\nweighing: {fuel: 6 L, driver: out, tyres: dry, readings: [{total: 600 kg}]}"
FACTS = """
facts: {a.x: {unit: mm, measured_with: tape}}
instruments: {tape: {permissible_error: 1 mm}}
"""


def doubling(first: str, start: int = 2, indent: str = "  ") -> str:
    lines = [
        f"{indent}q{place}: {{formula: q{place - 1} + q{place - 1}}}" for place in range(start, LINES + 1)
    ]
    return "\n".join([f"{indent}q1: {{formula: {first}}}", *lines])


def derived(first: str, check: str) -> Pack:
    return pack_of(f'"1": {{title: T, check: {check}}}', f"{FACTS.strip()}\nderived:\n{doubling(first)}")


def in_let() -> Pack:
    names = ", ".join(f"q{place}: q{place - 1} + q{place - 1}" for place in range(2, LINES + 1))
    check = f"{{let: {{q1: a.x, {names}}}, limit: q{LINES}, at_most: 4 mm}}"
    return pack_of(f'"1": {{title: T, check: {check}}}', FACTS)


def in_fields() -> Pack:
    fields = doubling("x", indent="      ")
    lists = f"lists:\n  js:\n    fields:\n      x: {{unit: mm}}\n{fields}"
    return pack_of(
        f'"1": {{title: T, check: {{each: js, limit: q{LINES}, at_most: 4 mm}}}}', f"{FACTS.strip()}\n{lists}"
    )


@pytest.mark.parametrize(
    "pack",
    [
        derived("a.x", f"{{limit: q{LINES}, at_most: 4 mm}}"),
        derived("a.x if a.x > 1 mm else 2 * a.x", f"{{limit: q{LINES}, at_most: 4 mm}}"),
        in_let(),
        in_fields(),
    ],
    ids=["derived", "choice", "let", "fields"],
)
def test_what_doubles_with_each_line_is_judged_and_exact(pack: Pack) -> None:
    car = CAR if "js" not in pack.vocabulary.lists else "js: [{x: 3 mm}, {x: 2 mm}]"
    margin = outcome_of(pack, car).assessment.margin
    assert margin is not None
    assert margin.value == 4 - Fraction(3) * 2 ** (LINES - 1)  # mm


def test_divisors_that_follow_the_condition_are_not_copied() -> None:
    pack = derived("1 kg / weight.total", f"{{limit: q{LINES}, at_most: 4, condition: as_weighed}}")
    margin = outcome_of(pack, CAR).assessment.margin
    assert margin is not None
    assert margin.value == 4 - Fraction(2 ** (LINES - 1), 600)


def test_too_many_divisors_of_many_choices_are_refused_and_not_counted_out() -> None:
    lines = "\n".join(
        f"  q{n}: {{formula: (q{n - 1} if a.x > {n} mm else 1) + (q{n - 1} if a.x > {n}.5 mm else 2)}}"
        for n in range(2, LINES + 1)
    )
    more = f"{FACTS.strip()}\nderived:\n  q1: {{formula: 1 kg / weight.total}}\n{lines}"
    with pytest.raises(InputError) as refused:
        pack_of(f'"1": {{title: T, check: {{limit: q{LINES}, at_most: 4, condition: as_weighed}}}}', more)
    (problem,) = refused.value.problems
    assert (problem.code, "more than 64 divisors" in problem.message) == ("PK105", True)


def test_which_way_a_change_goes_is_found_through_all_of_it() -> None:
    check = f"{{limit: q{LINES}, at_most: 4 mm}}"
    changes = compare(derived("a.x + 1 mm", check), derived("a.x + 2 mm", check))
    assert [one.change for one in changes] == ["tightened"]


def test_an_edge_met_again_in_a_name_that_was_worked_out_before_is_still_met() -> None:
    """Both sides of the edge are judged, though `group` is asked for twice in one scene."""
    more = f"{FACTS.strip()}\nderived: {{group: {{formula: 1 if a.x > 3 mm else 3}}}}"
    pack = pack_of('"1": {title: T, check: {when: group > 0, limit: group + group, at_most: 4}}', more)
    outcome = inspection_of(pack, CAR).outcomes[0]
    assert outcome.outcome == "too_close"
