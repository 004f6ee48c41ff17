"""How an expression depends on the condition a car is in.

In a range of conditions (fuel from empty to full, tyres new to worn) a check is exact at the corners of the
range when limit minus bound is linear in the weights, or one linear expression over another: such a function
of one amount is monotone between corners. The greatest of such functions is worst at a corner under an upper
bound, the least under a lower one. Everything else has no such promise, and a pack that asks for it over a range is
refused.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Form:
    """One of: constant, linear, ratio (linear over linear), peak (a greatest), dip (a least), general."""

    name: str
    over: str = ""
    """For a ratio: its denominator, in a canonical spelling; equal denominators add up."""
    top: str = ""
    """For linear and ratio: the numerator's spelling, where it is one bare weight."""

    @property
    def is_constant(self) -> bool:
        return self.name == "constant"

    @property
    def is_monotone(self) -> bool:
        """Worst at a corner under either bound."""
        return self.name in ("constant", "linear", "ratio")


CONSTANT = Form("constant")
GENERAL = Form("general")


def weight(name: str) -> Form:
    """`weight.NAME`"""
    return Form("linear", top=f"weight.{name}")


def percentage(name: str) -> Form:
    """`percentage.NAME`: a weight over the total."""
    return Form("ratio", over="weight.total", top=f"weight.{name}")


def negative(a: Form) -> Form:
    match a.name:
        case "peak":
            return Form("dip")
        case "dip":
            return Form("peak")
    return a


def added(a: Form, b: Form) -> Form:
    """A sum; for a difference negate the second."""
    if a.is_constant:
        return _blurred(b)
    if b.is_constant:
        return _blurred(a)
    if a.name == b.name == "linear":
        return Form("linear")
    if a.name == b.name == "ratio" and a.over == b.over:
        return Form("ratio", over=a.over)
    return GENERAL


def multiplied(a: Form, b: Form) -> Form:
    if a.is_constant and b.is_constant:
        return CONSTANT
    if a.is_constant or b.is_constant:
        other = b if a.is_constant else a
        return _blurred(other) if other.is_monotone else GENERAL
    return GENERAL


def divided(a: Form, b: Form, text: str) -> Form:
    """A quotient; `text` is how the divisor is spelt."""
    if b.is_constant:
        return multiplied(a, CONSTANT)
    if b.name == "linear" and a.name in ("constant", "linear"):
        return Form("ratio", over=b.top or text)
    if a.name == b.name == "ratio" and a.over == b.over and b.top:
        return Form("ratio", over=b.top)
    return GENERAL


def greatest(forms: list[Form], name: str) -> Form:
    """The greatest ("peak") or least ("dip") of several."""
    if all(f.is_constant for f in forms):
        return CONSTANT
    return Form(name) if all(f.is_monotone or f.name == name for f in forms) else GENERAL


def chosen(condition: Form, a: Form, b: Form, text: str) -> Form:
    """`A if C else B`: for one car, one of the two, as long as C does not depend on the condition."""
    if not condition.is_constant:
        return GENERAL
    if a == b:
        return a
    if a.is_monotone and b.is_monotone:
        return Form("ratio", over=f"choice {text}")
    if a.is_constant or b.is_constant:
        return _blurred(b if a.is_constant else a)
    return GENERAL


def function_of(*forms: Form) -> Form:
    """Any other function: constant only where all it is made of is."""
    return CONSTANT if all(f.is_constant for f in forms) else GENERAL


def _blurred(a: Form) -> Form:
    """The same form, no longer a bare weight."""
    return Form(a.name, a.over)
