"""Rows that no car can find are told, and gaps only where there are some: held against looking at every key."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.pack.lint.tables import unreachable_rows
from checker.pack.model import Pack
from checker.reading.problems import InputError
from tests.building import pack_of
from tests.examples import each_row

FACTS = "facts: {a.k: {type: text}, a.t: {type: truth}, a.n: {unit: mm}, a.d: {type: date}, a.w: {unit: mm}}"


def pack(rows: list[str], keys: str = "k", asked: str = "a.k") -> Pack:
    table = f"tables: {{t: {{by: [{keys}], rows: [{', '.join(rows)}]}}}}"
    return pack_of(f'"1": {{title: T, check: {{limit: a.w, at_most: "t({asked})"}}}}', f"{FACTS}\n{table}")


def told(rows: list[str], keys: str = "k", asked: str = "a.k") -> list[str]:
    return [problem.message.partition(": ")[2] for problem in unreachable_rows(pack(rows, keys, asked))]


@each_row(
    ("rows", "keys", "asked", "says"),
    [
        (["{k: any, value: 1 mm}", "{k: x, value: 2 mm}"], "k", "a.k", ["row 1 before it holds all that it holds"]),
        (["{k: x, value: 1 mm}", "{k: any, value: 2 mm}"], "k", "a.k", []),
        (
            ["{k: true, value: 1 mm}", "{k: false, value: 2 mm}", "{k: any, value: 3 mm}"],
            "k",
            "a.t",
            ["rows before it hold all that it holds"],
        ),
        (
            ["{t: true, k: any, value: 1 mm}", "{t: true, k: x, value: 2 mm}", "{t: any, k: any, value: 3 mm}"],
            "t, k",
            "a.t, a.k",
            ["row 1 before it holds all that it holds"],
        ),
        (
            ["{n: below 10 mm, k: any, value: 1 mm}", "{n: below 5 mm, k: x, value: 2 mm}", "{n: from 10 mm, k: any, value: 2 mm}"],
            "n, k",
            "a.n, a.k",
            ["row 1 before it holds all that it holds"],
        ),
        (
            ["{n: below 10 mm, k: x, value: 1 mm}", "{n: any, k: any, value: 2 mm}", "{n: from 10 mm, k: x, value: 2 mm}"],
            "n, k",
            "a.n, a.k",
            ["row 2 before it holds all that it holds"],
        ),
        (
            ["{d: before 2026-01-01, value: 1 mm}", "{d: from 2026-01-01, value: 2 mm}", "{d: any, value: 3 mm}"],
            "d",
            "a.d",
            ["rows before it hold all that it holds"],
        ),
    ],
)  # fmt: skip
def test_a_row_that_no_car_finds_is_told(rows: list[str], keys: str, asked: str, says: list[str]) -> None:
    assert told(rows, keys, asked) == says


def test_it_is_told_where_the_row_stands() -> None:
    (found,) = unreachable_rows(pack(["{k: any, value: 1 mm}", "{k: x, value: 2 mm}"]))
    assert (found.code, found.warning) == ("PK406", True)
    assert found.span is not None
    assert found.span.line == 8


# --- against looking at every key ------------------------------------------------------------------------------

EDGES = [2, 5, 8]
bands = st.one_of(
    st.just("any"),
    st.builds(lambda word, edge: f"{word} {edge} mm", st.sampled_from(["up to", "below", "above", "from"]), st.sampled_from(EDGES)),
    st.builds(lambda low, high: f"{low} 2 mm {high} 8 mm", st.sampled_from(["above", "from"]), st.sampled_from(["up to", "below"])),
)  # fmt: skip
words = st.sampled_from(["any", "x", "y", "[x, y]"])
tables = st.lists(st.tuples(bands, words), min_size=1, max_size=5)
KEYS = [(Fraction(n, 2), word) for n, word in product(range(20), ["x", "y", "z"])]


@given(tables)
def test_gaps_and_rows_without_a_car_are_those_found_by_looking_at_every_key(
    drawn: list[tuple[str, str]],
) -> None:
    rows = [f"{{n: {n}, k: {k}, value: {at} mm}}" for at, (n, k) in enumerate(drawn)]
    try:
        made = pack(rows, "n, k", "a.n, a.k")
    except InputError as error:
        if all(problem.code == "PK401" for problem in error.problems):
            pack([*rows, "{n: any, k: any, value: 9 mm}"], "n, k", "a.n, a.k")
        return
    (table,) = made.tables.values()
    found = [made.scope.tables["t"].lookup(key) for key in KEYS]
    reached = {place for place, row in enumerate(table.read) if any(row.results is one for one in found)}
    lost = {row.place for row in table.read} - reached
    lines = {made.document.span(("tables", "t", "rows", place)) for place in lost}
    assert {problem.span for problem in unreachable_rows(made)} == lines


def test_a_gap_that_rows_for_any_fill_is_none() -> None:
    rows = [
        "below 10 mm, k: x",
        "below 10 mm, k: y",
        "below 20 mm, k: any",
        "from 20 mm, k: x",
        "from 20 mm, k: y",
    ]
    assert told([f"{{n: {row}, value: 1 mm}}" for row in rows], "n, k", "a.n, a.k") == []


def test_a_gap_that_rows_for_each_word_fill_is_none() -> None:
    rows = ["below 10 mm, k: [x, y]", "from 10 mm below 20 mm, k: x", "from 10 mm up to 20 mm, k: y", "from 20 mm, k: x", "above 20 mm, k: [y]"]  # fmt: skip
    assert told([f"{{n: {row}, value: 1 mm}}" for row in rows], "n, k", "a.n, a.k") == []


def test_a_gap_that_rows_for_one_word_leave_is_told() -> None:
    rows = ["below 10 mm, k: [x, y]", "from 10 mm below 20 mm, k: x", "from 20 mm, k: [x, y]"]
    with pytest.raises(InputError) as refused:
        told([f"{{n: {row}, value: 1 mm}}" for row in rows], "n, k", "a.n, a.k")
    assert [problem.code for problem in refused.value.problems] == ["PK401"]
