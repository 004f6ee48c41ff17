"""The words that a bound is written with."""

from __future__ import annotations

from checker.quantities.sense import WRITTEN, Sense
from tests.examples import each_row


def test_a_limit_is_written_with_six_of_them() -> None:
    assert WRITTEN == ("at_least", "above", "at_most", "below", "exactly", "nominal")


@each_row("sense", Sense)
def test_a_bound_holds_on_one_side_at_most_and_its_twin_on_the_same(sense: Sense) -> None:
    assert not (sense.is_lower and sense.is_upper)
    assert (sense.twin is not None) == (sense.is_lower or sense.is_upper)
    if sense.twin is not None:
        assert sense.twin.twin is sense
        assert (sense.twin.is_lower, sense.twin.is_inclusive) == (sense.is_lower, not sense.is_inclusive)
    assert "_" not in sense.words
