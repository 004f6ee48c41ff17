"""Whether a limit is worst at a corner of a range of conditions."""

from __future__ import annotations

from checker.kinds.limiting.limited import Limited
from checker.quantities.formula import form as forms
from checker.quantities.sense import Sense

_HELPFUL = {Sense.AT_LEAST: "dip", Sense.ABOVE: "dip", Sense.AT_MOST: "peak", Sense.BELOW: "peak"}
"""Shapes whose worst is at an end though they turn in between."""


def obstacle(limited: Limited, turned: bool) -> str:
    """Why it need not be; "" where it is."""
    limit = limited.limit
    parts = {role: expression for role, expression in limited.expressions() if expression is not limit}
    rounded = "rounded" in parts
    for extra in ("tolerance", "rounded", Sense.PLUS, Sense.MINUS):
        expression = parts.pop(extra, None)
        if expression is not None and expression.follows_condition:
            return f"`{extra}: {expression.text}` depends on the condition"
    if rounded and any(bound.follows_condition for bound in parts.values()):
        return "what is rounded is held to a bound that depends on the condition"
    if not limit.follows_condition and not any(e.follows_condition for e in parts.values()):
        return ""
    if turned and (len(parts) > 1 or not {Sense.NOMINAL, Sense.EXACTLY}.isdisjoint(parts)):
        return "a limit with two bounds inside a branch that must not be met"
    for sense, bound in parts.items():
        difference = forms.added(limit.form, forms.negative(bound.form))
        if difference.is_monotone or (not turned and difference.name == _HELPFUL.get(Sense(sense), "")):
            continue
        return f"'{limit.text}' against '{bound.text}' is not linear, nor linear over linear, in the weights"
    return ""
