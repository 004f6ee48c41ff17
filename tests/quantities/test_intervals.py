"""Sets of intervals against the points in them."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.intervals import Interval, Intervals, common, union, without

POINTS = [Fraction(n, 2) for n in range(-1, 14)]
"""Every end that is drawn, and a point between any two."""


def intervals() -> st.SearchStrategy[Interval]:
    ends = st.tuples(st.integers(0, 6), st.integers(0, 6)).map(sorted)
    return st.builds(
        lambda ends, low_in, high_in: Interval(Fraction(ends[0]), Fraction(ends[1]), low_in, high_in),
        ends,
        st.booleans(),
        st.booleans(),
    )


SETS = st.lists(intervals(), max_size=4)


def held(levels: list[Interval] | Intervals) -> set[Fraction]:
    return {x for x in POINTS if any(x in one for one in levels)}


def in_order(levels: Intervals) -> bool:
    """Each with a gap before it: no point before an interval's first belongs to the one before."""
    return union(levels) == levels and list(levels) == sorted(
        levels, key=lambda one: (one.low, not one.low_in)
    )


@given(SETS)
def test_a_union_holds_what_any_holds(levels: list[Interval]) -> None:
    assert held(union(levels)) == held(levels)
    assert in_order(union(levels))


@given(intervals(), SETS)
def test_without_holds_the_rest(whole: Interval, taken: list[Interval]) -> None:
    left = without(whole, taken)
    assert held(left) == held([whole]) - held(taken)
    assert in_order(left)


@given(SETS, SETS)
def test_common_holds_what_both_hold(first: list[Interval], second: list[Interval]) -> None:
    assert held(common(first, second)) == held(first) & held(second)
    assert in_order(common(first, second))


@given(intervals(), st.integers(-2, 2).filter(bool), st.integers(-3, 3))
def test_a_mapped_interval_holds_what_its_numbers_become(one: Interval, per_unit: int, start: int) -> None:
    there = one.mapped(Fraction(start), Fraction(per_unit))
    assert all((x in one) == (start + per_unit * x in there) for x in POINTS)


def test_what_touches_is_one_and_what_leaves_a_point_out_is_two() -> None:
    one, two, three = Fraction(1), Fraction(2), Fraction(3)
    assert union([Interval(one, two, high_in=False), Interval(two, three)]) == (Interval(one, three),)
    assert len(union([Interval(one, two, high_in=False), Interval(two, three, low_in=False)])) == 2
    assert without(Interval(one, three), [Interval(two, two)]) == (
        Interval(one, two, high_in=False),
        Interval(two, three, low_in=False),
    )
