"""Kinds of values, and values that are not known."""

from __future__ import annotations

from checker.quantities.dimension import LENGTH, MASS, NO_DIMENSION
from checker.quantities.kind import DATE, MONTHS, NUMBER, PERCENT, TEXT, TRUTH, Kind, Unknown, quantity, unite
from checker.quantities.reason import NoValue, Reason
from tests.examples import each_row


@each_row(
    ("kind", "words"),
    [
        (quantity(MASS), "mass"),
        (NUMBER, "number"),
        (PERCENT, "percent"),
        (TRUTH, "true or false"),
        (TEXT.listed(), "list of text"),
        (quantity(LENGTH).listed(), "list of length"),
        (Kind("items", items="joints"), "entries of joints"),
        (Kind("item", items="joints"), "entry of joints"),
        (Kind("row", items="tyre"), "row of table tyre"),
    ],
)
def test_kinds_are_named_in_messages(kind: Kind, words: str) -> None:
    assert str(kind) == words


def test_a_quantity_without_dimension_is_a_number() -> None:
    assert quantity(NO_DIMENSION) == NUMBER


def test_measures_and_words_are_told_apart() -> None:
    assert [kind.is_measure for kind in (NUMBER, quantity(MASS), PERCENT, MONTHS, DATE, TEXT)] == [
        True
    ] * 4 + [
        False,
        False,
    ]
    assert [kind.is_word for kind in (TEXT, Kind("grade", words=("B", "A")), NUMBER)] == [True, True, False]


def test_measures_are_the_same_only_with_the_same_dimension() -> None:
    assert quantity(MASS).same_measure(quantity(MASS))
    assert not quantity(MASS).same_measure(quantity(LENGTH))
    assert not NUMBER.same_measure(PERCENT)


def test_an_unknown_says_all_that_would_settle_it() -> None:
    both = Unknown(("engine.capacity",), (Reason(NoValue.NO_ROW, ("tyre", "'odd'")),))
    assert both.told() == ("engine.capacity is not stated", "table tyre has no row for 'odd'")


def test_united_unknowns_name_each_lack_once_and_in_order() -> None:
    by_zero = Reason(NoValue.BY_ZERO, ("x",))
    united = unite(
        [Unknown(("b", "a")), Unknown(("a", "c"), (by_zero,)), Unknown.because(NoValue.BY_ZERO, "x")]
    )
    assert united == Unknown(("b", "a", "c"), (by_zero,))
