"""Sums, products and quotients of numbers that know what they are out by and how errors may move them, as code.

What a float may be out by grows with each step by what the step rounds (`ROUNDING`); the rest is as in
`scatter_arithmetic`: of a sum no more than its parts' sum, of a product no more than each factor's times the other's
size, which is taken a step further out, as what is followed is a difference over such a step.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction

from checker.car.errors.followed import STEP
from checker.kinds.clearing.code import CodeLines
from checker.kinds.clearing.floats import ROUNDING, TINY, in_float
from checker.kinds.contract.writing import NotInFloats, WrittenNumber
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.scope import NoLimit

_NO = "0.0"
ROOM = repr(1 + 1e-6)
"""More than all that the bounds on errors are themselves rounded by."""
_JUMPS = repr(1e-11)
"""Some of the steps by which values are moved to see how a margin follows them."""
_STEPS = repr(2 * float(STEP) * (1 + 1e-9))
_FAR = repr(1e-5)
"""A divisor that a base unit of a lever changes by more than itself over this, is for exact numbers."""
_LESS = repr(1 - 1e-9)
_MORE = repr(1 + 1e-6)


def constant(expression: Expression) -> WrittenNumber:
    """Of a formula that is the same for every car."""
    value = expression.value
    return WrittenNumber("0.0", unlimited="True") if isinstance(value, NoLimit) else of_value(value)


def of_value(value: object) -> WrittenNumber:
    """A number of the rules."""
    told = in_float(value) if isinstance(value, Fraction) else None
    if told is None or not math.isfinite(told[0]):
        raise NotInFloats
    return WrittenNumber(*map(repr, told))


def added(write: CodeLines, one: WrittenNumber, other: WrittenNumber, sign: str = "+") -> WrittenNumber:
    value = write.put(f"{one.value} {sign} {other.value}")
    error = write.put(_sum(one.error, other.error, f"abs({value}) * {ROUNDING!r}"))
    return WrittenNumber(value, error, *_together(write, one, other))


def lessened(write: CodeLines, one: WrittenNumber, other: WrittenNumber) -> WrittenNumber:
    return added(write, one, other, "-")


def negative(write: CodeLines, one: WrittenNumber) -> WrittenNumber:
    return one._replace(value=write.put(f"-{one.value}"))


def magnitude(write: CodeLines, one: WrittenNumber) -> WrittenNumber:
    return one._replace(value=write.put(f"abs({one.value})"))


def product(write: CodeLines, one: WrittenNumber, other: WrittenNumber) -> WrittenNumber:
    sizes = [write.put(f"abs({factor.value}) + {factor.error}") for factor in (one, other)]
    value = write.put(f"{one.value} * {other.value}")
    error = _sum(
        _times(sizes[0], other.error),
        _times(f"abs({other.value})", one.error),
        f"abs({value}) * {ROUNDING!r}",
        repr(TINY),
    )
    out = [
        write.put(size if factor.steepest == _NO else f"{size} + {_STEPS} * {factor.steepest}")
        for size, factor in zip(sizes, (one, other), strict=True)
    ]
    deviation = _sum(_times(out[0], other.deviation), _times(out[1], one.deviation))
    steepest = _sum(_times(out[0], other.steepest), _times(out[1], one.steepest))
    return WrittenNumber(value, *map(write.put, (error, deviation, steepest)))


def quotient(write: CodeLines, one: WrittenNumber, other: WrittenNumber) -> WrittenNumber:
    """A divisor that may be near zero is given up."""
    least = write.put(f"(abs({other.value}) - {other.error}) * {_LESS}")
    write.give_up_if(f"not {least} > {TINY!r}")
    if other.steepest != _NO:
        write.give_up_if(f"not {other.steepest} * {_FAR} <= {least}")
    value = write.put(f"1.0 / {other.value}")
    error, deviation, steepest = (
        _NO if part == _NO else f"{part} / {least} / {least} * {_MORE}" for part in other[1:4]
    )
    error = _sum(error, f"{ROUNDING!r} / {least}", repr(TINY))
    return product(write, one, WrittenNumber(value, *map(write.put, (error, deviation, steepest))))


def picked(write: CodeLines, name: str, one: WrittenNumber, other: WrittenNumber) -> WrittenNumber:
    """The least or greatest: near a tie either may be followed."""
    value, error = f"{name}({one.value}, {other.value})", f"max({one.error}, {other.error})"
    return WrittenNumber(write.put(value), write.put(error), *_together(write, one, other))


def clear(one: WrittenNumber, *, steps: bool = False) -> str:
    """Whether zero is out of reach for a number, however errors move it; with `steps` also of moved copies."""
    reach = one.error
    if one.deviation != _NO:
        reach += f" + car.factor * {one.deviation}"
    if steps and one.steepest != _NO:
        reach += f" + {_JUMPS} * {one.steepest}"
    return f"abs({one.value}) > ({reach}) * {ROOM} + {TINY!r}"


def stand_clear(write: CodeLines, apart: WrittenNumber) -> None:
    """Give up unless a distance from an edge is clear, or exactly nothing and stays so."""
    moved = " or ".join(f"{part} != 0" for part in (apart.error, *apart[2:4]) if part != _NO)
    unsure = f" and ({moved} or {apart.value} != 0)" if moved else ""
    write.give_up_if(f"not ({clear(apart, steps=True)}){unsure}")


@contextmanager
def each(write: CodeLines, several: str) -> Iterator[WrittenNumber]:
    """Lines written meanwhile are for each of several numbers."""
    parts = WrittenNumber(write.name(), write.name(), write.name(), write.name())
    with write.block(f"for {', '.join(parts[:4])} in {several}:"):
        yield parts


def begin(write: CodeLines) -> WrittenNumber:
    """A sum of nothing, to which more is added."""
    total = WrittenNumber(write.name(), write.name(), write.name(), write.name())
    write.line(f"{' = '.join(total[:4])} = 0.0")
    return total


def grow(write: CodeLines, total: WrittenNumber, one: WrittenNumber, times: str = "1") -> None:
    """Add a number so many times, a whole number that is not negative."""
    write.line(f"{total.value} += {one.value} * {times}")
    write.line(
        f"{total.error} += {one.error} * {times} + "
        f"(abs({total.value}) + abs({one.value} * {times})) * {ROUNDING!r}"
    )
    for part, more in ((total.deviation, one.deviation), (total.steepest, one.steepest)):
        if more != _NO:
            write.line(f"{part} += {more} * {times}")


def shared_out(write: CodeLines, total: WrittenNumber, number: str) -> WrittenNumber:
    """A sum divided by how many it is of."""
    value = write.put(f"{total.value} / {number}")
    error = f"{total.error} / {number} + abs({value}) * {ROUNDING!r} + {TINY!r}"
    bounds = (f"{part} / {number}" for part in total[2:4])
    return WrittenNumber(value, *map(write.put, (error, *bounds)))


def _together(write: CodeLines, one: WrittenNumber, other: WrittenNumber) -> tuple[str, str]:
    return write.put(_sum(one.deviation, other.deviation)), write.put(_sum(one.steepest, other.steepest))


def _sum(*parts: str) -> str:
    return " + ".join(part for part in parts if part != _NO) or _NO


def _times(size: str, of: str) -> str:
    return _NO if of == _NO else f"{size} * {of}"
