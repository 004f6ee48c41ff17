"""What would make an error smaller, in words: what is read off is always enough."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from checker.car.errors.cures import How, Remedy, better_gear, levelled, more_readings
from checker.quantities.amount import Amount
from checker.quantities.kind import NUMBER
from checker.quantities.units import Unit, parse_unit
from checker.report.words.remedies import remedy_words
from checker.report.words.units import SYSTEMS, showing
from tests.examples import each_row
from tests.report.words.test_units import number

KG, MM, PERCENT = (parse_unit(name, None) for name in ("kg", "mm", "%"))


@each_row(
    ("remedy", "words"),
    [
        (None, ""),
        (more_readings(1)(Fraction(9, 10)), "weigh again once more and take the mean of all"),
        (more_readings(1)(Fraction(6, 10)), "weigh again twice more and take the mean of all"),
        (more_readings(2)(Fraction(1, 2)), "weigh again 6 times more and take the mean of all"),
        (Remedy(How.WEIGH_AGAIN), "weigh again and take the mean"),
        (levelled("across", Fraction(27, 10)), "level the pads across to 2.5 mm"),
        (better_gear("pads", Fraction(1, 2), KG)(Fraction(5, 7)), "use pads good to 0.3 kg"),
        (better_gear("a set", Fraction(1, 1000), PERCENT)(Fraction(1, 2)), "use a set good to 0.05 %"),
        (better_gear("something", Fraction(1, 2), None)(Fraction(1, 2)), "use something good to 1/5"),
        (
            Remedy(How.MEASURE_FINER, "dimensions.wheelbase_left", Amount(Fraction(7, 10), MM.kind, MM)),
            "measure the wheelbase left with something good to 0.7 mm",
        ),
        (Remedy(How.MEASURE_FINER, "mass"), "measure the mass with something finer"),
        (Remedy(How.FIND_CLOSER, "price"), "find the price more closely"),
    ],
)
def test_words(remedy: Remedy | None, words: str) -> None:
    assert remedy_words(remedy) == words


def test_pounds_and_inches() -> None:
    pads = better_gear("pads", Fraction(1, 2), KG)(Fraction(1))
    with showing("us"):
        assert remedy_words(pads) == "use pads good to 1 lb"
        assert remedy_words(levelled("along", Fraction(3))) == "level the pads along to 1/16 in"
        assert remedy_words(levelled("along", Fraction(1, 2))) == "level the pads along to 0.01 in"


@each_row("how", How)
def test_everything_that_there_is_to_do_has_words(how: How) -> None:
    assert remedy_words(Remedy(how, "pads", Amount(Fraction(1), MM.kind, MM)))


@given(
    st.fractions(Fraction(1, 1000), 100),
    st.sampled_from([KG, MM, PERCENT, parse_unit("in", None), parse_unit("lb", None), None]),
    st.sampled_from([*SYSTEMS, None]),
)
def test_gear_that_is_as_good_as_is_read_off_is_good_enough_and_not_twice_as_good(
    size: Fraction, unit: Unit | None, system: str | None
) -> None:
    remedy = Remedy(How.USE_GEAR, "gear", Amount(size, unit.kind if unit else NUMBER, unit))
    with showing(system):
        told = remedy_words(remedy).removeprefix("use gear good to ")
    asked = _base_units(told)
    assert size / 2 < asked <= size


@given(st.fractions(Fraction(1, 100), 100), st.sampled_from([*SYSTEMS, None]))
def test_pads_that_are_as_level_as_is_read_off_are_level_enough(mm: Fraction, system: str | None) -> None:
    with showing(system):
        told = remedy_words(levelled("across", mm)).removeprefix("level the pads across to ")
    assert 0 < _base_units(told) <= max(mm, Fraction(1, 2))


def _base_units(told: str) -> Fraction:
    """A text such as "1 3/16 in" as a number in base units."""
    name = told.rpartition(" ")[2]
    if name[-1].isdigit():
        return Fraction(told)
    return number(told) * parse_unit(name, None).factor
