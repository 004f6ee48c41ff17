"""How floats tell the outcome of a limit: its margin to each bound, with what that may be out by."""

from __future__ import annotations

from collections.abc import Callable

from checker.kinds.contract.check import Check, uses
from checker.kinds.contract.writing import BINDS_NOT, Writing, WrittenNumber
from checker.kinds.limiting.limited import Limited
from checker.quantities.sense import Sense

_NOTHING = WrittenNumber("0.0")


def write_outcome(limited: Limited, check: Check, write: Writing) -> str:
    """Write it; where floats do not tell the formulas, as the exact engine finds it of what no error can move."""
    if not limited.value_kind.is_measure or limited.rounding is not None or limited.irrational:
        return write.exactly(check, uses(check))
    return write.first_of(
        lambda: _of_each_value(limited, check, write), lambda: write.exactly(check, uses(check))
    )


def _of_each_value(limited: Limited, check: Check, write: Writing) -> str:
    if limited.limit.kind.name != "list":
        if limited.of_several == "worst":
            write.give_up_if("car.car.weighings > 1")
        return _held(limited, write.number(limited.limit), check, write)
    if limited.of_several == "mean":
        return _held(limited, write.mean(limited.limit), check, write)
    outcome = write.name()
    write.line(f"{outcome} = {BINDS_NOT}")
    with write.numbers(limited.limit) as value:
        write.line(f"{outcome} = max({outcome}, {_held(limited, value, check, write)})")
    return outcome


def _held(limited: Limited, value: WrittenNumber, check: Check, write: Writing) -> str:
    """One value against every bound."""
    fixed = limited.tolerance is None or (limited.tolerance.constant and limited.tolerance.value == 0)
    tolerance = _NOTHING if fixed or limited.tolerance is None else write.number(limited.tolerance)
    bounds = {bound.sense: write.number(bound.expression, bound=True) for bound in limited.bounds}

    def widened(margin: WrittenNumber) -> WrittenNumber:
        return margin if tolerance is _NOTHING else write.added(margin, tolerance)

    def against(sense: Sense, bound: WrittenNumber) -> str:
        if sense.is_lower or sense.is_upper:
            high, low = (value, bound) if sense.is_lower else (bound, value)
            return write.by_margin(widened(write.lessened(high, low)), check, inclusive=sense.is_inclusive)
        off = write.magnitude(write.lessened(value, bound))
        if sense is Sense.EXACTLY:
            return write.by_margin(write.lessened(tolerance, off), check, inclusive=True)
        return write.by_margin(write.lessened(off, tolerance), check, inclusive=False)

    def within(nominal: WrittenNumber) -> str:
        off = write.lessened(value, nominal)
        found: list[str] = []
        for sense, distance in ((Sense.MINUS, off), (Sense.PLUS, write.lessened(_NOTHING, off))):
            width = bounds.get(sense, _NOTHING)
            found.append(
                _unless_unlimited(
                    width,
                    check,
                    write,
                    lambda width, distance=distance: write.by_margin(  # type: ignore[misc]
                        widened(write.added(distance, width)), check, inclusive=True
                    ),
                )
            )
        return write.all_hold(found)

    if Sense.NOMINAL in bounds:
        return _unless_unlimited(bounds[Sense.NOMINAL], check, write, within)
    return write.all_hold(
        [
            _unless_unlimited(bound, check, write, lambda bound, sense=sense: against(sense, bound))  # type: ignore[misc]
            for sense, bound in bounds.items()
        ]
    )


def _unless_unlimited(
    bound: WrittenNumber, check: Check, write: Writing, told: Callable[[WrittenNumber], str]
) -> str:
    """What a bound tells; `no limit` is met by anything."""
    if not bound.unlimited:
        return told(bound)
    outcome = write.name()
    with write.block(f"if {bound.unlimited}:"):
        write.line(f"{outcome} = {write.without_limit(check)}")
    with write.block("else:"):
        write.line(f"{outcome} = {told(bound)}")
    return outcome
