"""One number of a pack as a variable."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.pack.editions.loading import load_edition
from checker.studies.fleet.swept_number import CannotVaryError, Number, Varied, find_number, numbers_in
from tests.building import pack_of
from tests.examples import each_row
from tests.studies.packs import pack

DUNLIN = load_edition("rulepacks/dunlin/2026.1.yaml")


@each_row(
    ("clause", "at", "path", "shown"),
    [
        ("3.3", None, "check.at_most", "53 %"),
        ("1.1", None, "check.at_least", "2016-01-01"),
        ("5.3", None, "check.at_most", "2"),
        ("3.4", "check.at_least", "check.at_least", "47.5 %"),
        ("3.4", 'clauses."3.4".check.at_most', "check.at_most", "50.5 %"),
        ("3.1", "tables.minimum_weight.rows[1].value", "tables.minimum_weight.rows[1].value", "585 kg"),
    ],
)
def test_the_number_that_is_meant_is_found(clause: str, at: str | None, path: str, shown: str) -> None:
    number = find_number(DUNLIN, clause, at)
    assert (number.written_path, number.show(number.value)) == (path, shown)


@each_row(
    ("clause", "at", "told"),
    [
        ("3.4", None, "check.at_least  (47.5 %)\n  check.at_most  (50.5 %)"),
        ("3.1", None, "tables.minimum_weight.rows[2].value  (610 kg)"),
        ("3.3", "check.at_least", "Possible are:\n  check.at_most  (53 %)"),
        ("3.3", "check[", "a position such as [0]"),
        ("3.33", None, "there is no clause 3.33. Did you mean"),
        ("5.6", None, "clause 5.6 rests on no number"),
        ("9.5", None, "clause 9.5 rests on no number"),
    ],
)
def test_what_cannot_be_varied_is_told_with_what_can(clause: str, at: str | None, told: str) -> None:
    with pytest.raises(CannotVaryError) as caught:
        find_number(DUNLIN, clause, at)
    assert told in str(caught.value)


def test_no_limit_is_no_number() -> None:
    assert [n.show(n.value) for n in numbers_in(DUNLIN, "2.2")] == [
        "4",
        "38.5 mm",
        "7400 rpm",
        "3",
        "36 mm",
        "7000 rpm",
    ]


def test_a_number_in_an_older_check_can_be_meant() -> None:
    changed = pack(
        {
            'clauses."1".earlier': [
                {"before": "2020-01-01", "check": {"limit": "frame.width", "at_most": "1450 mm"}}
            ]
        }
    )
    assert find_number(changed, "1", "earlier[0].check.at_most").value == 1450


@pytest.mark.parametrize(("text", "message"), [("3 kg", "mm"), ("3", "no unit"), ("wide", "not a number")])
def test_a_value_of_another_kind_is_refused(text: str, message: str) -> None:
    with pytest.raises(CannotVaryError, match=message):
        find_number(pack(), "1").read(text, "GBP")


WIDTH = find_number(pack(), "1")


@given(st.fractions(min_value=0, max_value=5000, max_denominator=10**12))
def test_any_value_stands_in_the_pack_exactly(value: Fraction) -> None:
    number = WIDTH
    assert number.read(number.data(value), "GBP") == value


@pytest.mark.parametrize(
    ("clause", "at", "value", "bound"),
    [
        ("1", None, Fraction(4201, 3), {"at_most": Fraction(4201, 3)}),
        ("9", None, Fraction(1, 7), {"at_most": Fraction(1, 7)}),
    ],
)
def test_a_pack_with_another_value_is_that_pack_cut_down(
    clause: str, at: str | None, value: Fraction, bound: dict[str, Any]
) -> None:
    varied = Varied(pack(), find_number(pack(), clause, at)).at(value)
    assert list(varied.clauses) == [clause]
    found = {role: e.value for role, e in varied.clauses[clause].check.expressions() if role in bound}
    inner = {
        role: e.value
        for c in varied.clauses[clause].check.branches()
        for role, e in c.expressions()
        if role in bound
    }
    assert found | inner == bound


def test_clauses_that_stand_in_for_it_are_kept_with_it() -> None:
    rules = pack_of(
        """
        "1": {check: {limit: a.b, at_most: 3 mm}}
        "2": {check: {holds: true}, instead_of: ["1", "4"]}
        "3": {check: {holds: true}, instead_of: ["2"]}
        "4": {check: {holds: true}}
        "5": {check: {holds: true}}
        """,
        "facts: {a.b: {unit: mm}}",
    )
    assert list(Varied(rules, find_number(rules, "1")).at(Fraction(2)).clauses) == ["1", "2", "3", "4"]


def test_a_cell_of_a_table_can_be_another() -> None:
    number = find_number(pack(), "2", "tables.longest.rows[0].value")
    varied = Varied(pack(), number).at(Fraction(1700))
    assert varied.tables["longest"].rows[0]["value"] == "1700 mm"
    assert isinstance(number, Number)
    assert not number.one_sided
