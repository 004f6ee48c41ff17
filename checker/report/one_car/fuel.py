"""Levels of fuel, as data and in words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.car.weights.differences import LITRE
from checker.kinds.judging.assessment import Assessment, LegalFuel
from checker.quantities.intervals import Interval, Intervals
from checker.quantities.kind import IS_NOT_STATED
from checker.quantities.rounding import round_to
from checker.report.amounts import Data, exact_text
from checker.report.wording import listed

CAPACITY = "fuel.capacity"


def levels_data(levels: Intervals) -> list[Data]:
    """Levels from and to, exact in litres; an end that is not legal itself is not included."""
    return [
        {
            "from": exact_text(one.low / LITRE.factor),
            "to": exact_text(one.high / LITRE.factor),
            "from_included": one.low_in,
            "to_included": one.high_in,
        }
        for one in levels
    ]


def litres(fuel_mm3: Fraction, mode: str) -> str:
    """To a hundredth of a litre, rounded "up" or "down": "4.61"; "0" for none."""
    if not fuel_mm3:
        return "0"
    hundredths = int(round_to(fuel_mm3 / LITRE.factor * 100, Fraction(1), mode))
    return f"{hundredths // 100}.{hundredths % 100:02}"


def failing_words(line: LegalFuel) -> str:
    """Levels that fail, rounded so that what is left suffices: "less than 3.49 L or more than 20.70 L".

    Of a tank whose size is not known nothing is told of more than what is known.
    """
    words = []
    for one in line.fails if line.asked is not None else ():
        assert line.asked is not None
        low, high = litres(one.low, "down"), litres(one.high, "up")
        at_bottom = one.low <= line.asked.low
        at_top = one.high >= line.asked.high and CAPACITY not in line.unknown.absent
        if at_bottom and at_top:
            return "any amount of fuel"
        if one.low == one.high:
            words.append(f"{low} L")
            continue
        if at_bottom and one.high == line.asked.high:
            words.append(f"any amount up to {litres(one.high, 'down')} L")
        elif at_bottom:
            words.append(f"less than {high} L")
        elif at_top:
            words.append(f"more than {low} L")
        else:
            words.append(f"{low} L to {high} L")
    return listed(words, "or")


def least_data(legal: Interval) -> Data:
    """The least level, rounded up; above it where it is not legal itself."""
    found = _fuel(legal.low, "up")
    if not legal.low_in and Fraction(found["value"]) * LITRE.factor == legal.low:
        found["value"] = litres(legal.low + LITRE.factor / 100, "up")
    return found


def legal_words(levels: Intervals, most_mm3: Fraction | None) -> str:
    """Levels that are legal, rounded to lie within: "3.49 L to 20.70 L"; one that reaches to the top by its least."""
    words = []
    for one in levels:
        least = f"{least_data(one)['value']} L"
        to_the_top = most_mm3 is not None and one.high >= most_mm3
        if to_the_top:
            words.append(f"{least} or more" if len(levels) > 1 else least)
        else:
            words.append(f"{least} to {litres(one.high, 'down')} L")
    return listed(words, "or")


def crossings(line: LegalFuel) -> list[Data]:
    """The levels beyond which a check fails on to an end of the tank; a stretch in the middle is none."""
    if line.asked is None or not line.holds:
        return []
    found: list[Data] = []
    for one in line.fails:
        if one.low <= line.asked.low:
            found.append({"fuel": _fuel(one.high, "up"), "fails": "below"})
        elif one.high >= line.asked.high and CAPACITY not in line.unknown.absent:
            found.append({"fuel": _fuel(one.low, "down"), "fails": "above"})
    return found


def _fuel(fuel_mm3: Fraction, mode: str) -> Data:
    return {
        "value": litres(fuel_mm3, mode),
        "exact": exact_text(fuel_mm3 / LITRE.factor),
        "unit": LITRE.name,
    }


def deciding_line(found: Assessment) -> LegalFuel | None:
    """The line along fuel through the state that decides."""
    state = found.state
    if state is None:
        return None
    rest = (state.driver, state.tyres, state.wear)
    return next(
        (one for one in found.legal_fuel if (one.state.driver, one.state.tyres, one.state.wear) == rest), None
    )


def missing_words(not_shown: Sequence[str]) -> str:
    """What is lacking, in few words: the first facts that are not stated, and how many more there are."""
    absent = [says.removesuffix(IS_NOT_STATED) for says in not_shown if says.endswith(IS_NOT_STATED)]
    others = [says for says in not_shown if not says.endswith(IS_NOT_STATED)]
    if not absent:
        return "; ".join(others)
    more = len(absent) - _NAMED
    named = listed([*absent[:_NAMED], *([f"{more} more"] if more > 0 else [])])
    verb = "is" if len(absent) == 1 else "are"
    return "; ".join([f"{named} {verb} not stated", *others])


_NAMED = 4
