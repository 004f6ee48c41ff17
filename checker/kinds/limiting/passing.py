"""Which values pass a limit, as far as its bounds are the same for every car."""

from __future__ import annotations

from fractions import Fraction

from checker.kinds.contract.values import Occurring, Passing, ValueInterval, constant, own_unit, place_of
from checker.kinds.limiting.limited import Limited
from checker.quantities.kind import PERCENT
from checker.quantities.sense import Sense


def passing(limited: Limited) -> Passing:
    """What passes, as far as it is fixed."""
    about = (" ".join(limited.limit.text.split()), limited.of_several)
    sense, only = limited.bounds[0].sense, constant(limited.bounds[0].expression)
    word = only if sense is Sense.EXACTLY and isinstance(only, (str, bool)) else None
    return Passing(about, sense, interval_of(limited), word)


def interval_of(limited: Limited) -> ValueInterval | None:
    """The values that pass, as far as bounds are constant; None where nothing is known of them."""
    tolerance = Fraction(0) if limited.tolerance is None else constant(limited.tolerance)
    if limited.rounding is not None or not isinstance(tolerance, Fraction):
        return None
    bounds = {b.sense: place_of(constant(b.expression), limited.limit.kind) for b in limited.bounds}
    if Sense.NOMINAL in bounds or Sense.EXACTLY in bounds:
        middle = bounds.get(Sense.NOMINAL, bounds.get(Sense.EXACTLY))
        plus, minus = bounds.get(Sense.PLUS, Fraction(0)), bounds.get(Sense.MINUS, Fraction(0))
        if middle is None or plus is None or minus is None:
            return None
        return ValueInterval(middle, middle).widened(minus + tolerance, plus + tolerance)
    low = next(((s, v) for s, v in bounds.items() if s.is_lower and v is not None), (None, None))
    high = next(((s, v) for s, v in bounds.items() if s.is_upper and v is not None), (None, None))
    if low[1] is None and high[1] is None:
        return None
    return ValueInterval(low[1], high[1], low[0] is Sense.ABOVE, high[0] is Sense.BELOW).widened(
        tolerance, tolerance
    )


def always_or_never(limited: Limited, occurring: Occurring) -> tuple[str, str] | None:
    """That every value that can occur passes, or none; or that a bound lies beyond all of them."""
    passes, occurs = interval_of(limited), occurring(limited.limit)
    what, sense = limited.limit, limited.bounds[0].sense
    if occurs is not None and passes is not None:
        if not passes.meets(occurs):
            return f"never true: {what.text} can only be {occurs.words(what.kind, own_unit(what))}", sense
        if all(b.expression.constant for b in limited.bounds) and passes.holds(occurs):
            return f"always true: {what.text} can only be {occurs.words(what.kind, own_unit(what))}", sense
    return _beyond(limited, occurring, occurs)


def _beyond(limited: Limited, occurring: Occurring, occurs: ValueInterval | None) -> tuple[str, str] | None:
    """That a bound, or a side or cell of what it is chosen from, lies beyond every value that can occur."""
    what, kind = limited.limit, limited.value_kind
    for bound in limited.bounds:
        upper = bound.sense.is_upper
        written = occurring.written(bound.expression)
        if written is None or not (upper or bound.sense.is_lower):
            continue
        ends = [ValueInterval(end, end) for end in (written.low, written.high) if end is not None]
        if occurs is not None and limited.rounding is None and limited.tolerance is None:
            for end in ends:
                if not end.meets(occurs):
                    shown, can_be = (one.words(kind, own_unit(what)) for one in (end, occurs))
                    return f"{shown} is never reached: {what.text} can only be {can_be}", bound.sense
        if kind == PERCENT and occurs is None and occurring.is_stated(what) and any(e.low > 1 for e in ends):
            shown = next(end for end in ends if end.low > 1).words(kind)
            return f"{shown} is more than the whole; if {what.text} may be, its `range` says so", bound.sense
    return None
