"""How an expression depends on the condition a car is in.

In a range of conditions (fuel from unusable to full, wheels new to worn) every weight is linear in the amounts. A
linear expression, or one linear expression over another whose sign stays, runs monotonely along every straight line
through the range, so it is least and greatest at corners. The greatest of several such is greatest at a corner (a
"peak"), and the least of several is least at one (a "dip"). Everything else has no such promise, and a pack that
asks for it over a range is refused.

Sums keep the promise as long as all parts stand over the same denominator: they can then be written over it
together.
"""

from __future__ import annotations

from checker.reading.quick_dataclasses import dataclass

MIXED = "?"
"""Over different denominators: nothing that follows the condition may be added."""


@dataclass(frozen=True, slots=True)
class Form:
    """One of: constant, linear, ratio (linear over linear), peak (a greatest), dip (a least), general."""

    name: str
    over: str = ""
    """The denominator's spelling; "" for linear, and for a peak or dip of linear parts."""
    top: str = ""
    """The numerator, where it is one bare weight: a weight is never below zero, a longer expression may be."""

    @property
    def is_constant(self) -> bool:
        return self.name == "constant"

    @property
    def is_monotone(self) -> bool:
        """Worst at a corner under either bound."""
        return self.name in ("constant", "linear", "ratio")


CONSTANT = Form("constant")
GENERAL = Form("general")
_BENT = ("peak", "dip")


def weight(name: str) -> Form:
    """`weight.NAME`"""
    return Form("linear", top=f"weight.{name}")


def percentage(name: str) -> Form:
    """`percentage.NAME`: a weight over the total."""
    return Form("ratio", over="weight.total", top=f"weight.{name}")


def negative(a: Form) -> Form:
    """A minus sign turns peaks into dips."""
    name = {"peak": "dip", "dip": "peak"}.get(a.name, a.name)
    return Form(name, a.over)


def added(a: Form, b: Form) -> Form:
    """A sum; for a difference negate the second."""
    if a.is_constant or b.is_constant:
        return _with_constant(b if a.is_constant else a)
    if a.over != b.over or a.over == MIXED:
        return GENERAL
    return _joined(a, b, a.over)


def multiplied(a: Form, b: Form, sign: int | None = None) -> Form:
    """A product; `sign` is that of the constant factor (-1, 0, 1), None where it is not known."""
    if not (a.is_constant or b.is_constant):
        for ratio, factor in ((a, b), (b, a)):
            if ratio.name == "ratio" and factor.name == "linear" and factor.top == ratio.over:
                return Form("linear", top=ratio.top)
        return GENERAL
    other = b if a.is_constant else a
    if other.name in _BENT:
        return GENERAL if sign is None else other if sign >= 0 else negative(other)
    return _with_constant(other)


def divided(a: Form, b: Form, text: str, sign: int | None = None) -> Form:
    """A quotient; `text` is how the divisor is spelt, `sign` that of a constant divisor where it is known."""
    if b.is_constant:
        return multiplied(a, CONSTANT, sign)
    if b.name == "linear" and a.name in ("constant", "linear"):
        return Form("ratio", over=b.top or text, top=a.top)
    if b.name == "linear" and b.top and a.name in _BENT and a.over == "":
        return Form(a.name, over=b.top)
    if b.name == "ratio" and b.top and (a.is_constant or (a.name == "ratio" and a.over == b.over)):
        return Form("ratio", over=b.top, top=a.top)
    return GENERAL


def greatest(forms: list[Form], name: str) -> Form:
    """The greatest ("peak") or least ("dip") of several."""
    changing = [f for f in forms if not f.is_constant]
    if not changing:
        return CONSTANT
    if not all(f.is_monotone or f.name == name for f in changing):
        return GENERAL
    over = {f.over for f in changing}
    return Form(name, over.pop() if len(over) == 1 else MIXED)


def absolute(a: Form) -> Form:
    """`abs` is the greater of a value and its opposite."""
    return greatest([a, negative(a)], "peak")


def chosen(condition: Form, a: Form, b: Form, text: str) -> Form:
    """`A if C else B`: for one car one of the two, as long as C does not depend on the condition.

    `text` is how the whole is spelt: the same spelling makes the same choice.
    """
    if not condition.is_constant:
        return GENERAL
    if a == b:
        return a
    if a.is_constant or b.is_constant:
        return _with_constant(b if a.is_constant else a)
    if MIXED in (a.over, b.over):
        return _joined(a, b, MIXED)
    return _joined(a, b, a.over if a.over == b.over else f"choice {text}")


def function_of(*forms: Form) -> Form:
    """Any other function: constant only where all it is made of is."""
    return CONSTANT if all(f.is_constant for f in forms) else GENERAL


def _joined(a: Form, b: Form, over: str) -> Form:
    """A sum or choice of two that stand over one denominator."""
    bent = {f.name for f in (a, b) if f.name in _BENT}
    if "general" in (a.name, b.name) or len(bent) == 2:
        return GENERAL
    return Form(bent.pop() if bent else "ratio" if over else "linear", over)


def _with_constant(a: Form) -> Form:
    """The same form, no longer a bare weight."""
    return Form(a.name, a.over)
