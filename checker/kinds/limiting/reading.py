"""Reading what stands beside a `limit`: bounds, tolerance, rounding, and which of several values counts."""

from __future__ import annotations

from typing import Any

from checker.kinds.judging.bounds import BoundExpression, measure
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.agreement import ROUND_HINT
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Kind, Unknown
from checker.quantities.rounding import MODES
from checker.quantities.sense import WRITTEN, Sense
from checker.quantities.units import DIFFERENCES, TEMPERATURE_POINT, difference_kind
from checker.reading.nearest import did_you_mean


def read_limited(reader: CheckReader, key: str) -> tuple[Any, ...] | None:
    """What is limited and all that stands beside it, in the order of `Limited`; None when it cannot be used.

    The problems are noted.
    """
    limit = reader.formula(key)
    if limit is None:
        return None
    settled = _read_several(reader, key, limit)
    if settled is None:
        return None
    kind, several = settled
    bounds = _read_bounds(reader, key, kind)
    widened = _read_tolerance(reader, kind)
    rounded = _read_rounding(reader, kind)
    if bounds is None or widened is None or rounded is None:
        return None
    word = kind.element or kind
    return limit, bounds, widened[0], rounded[0], several, key, reader.scope.trees.get(word.tree or "")


def _read_bounds(reader: CheckReader, key: str, kind: Kind) -> tuple[BoundExpression, ...] | None:
    """The bounds beside a limit of `kind`; None when they cannot be used (problems 302, 502, 503 noted)."""
    present = [sense for sense in WRITTEN if reader.has(sense)]
    if not present and any(did_you_mean(key, WRITTEN) for key in reader.data):
        return None  # a misspelt bound, which is told as such
    if not present:
        hint = "give at_least, at_most, above, below, exactly, or nominal with plus_minus"
        reader.problem(502, "the limit has no bound", key, hint=hint)
        return None
    if isinstance(reader.get("exactly"), list) and kind.name != "list":
        message = f"`exactly` takes one value here, for '{reader.get(key)}' is one"
        hint = f"several that may be are a closed list: {{allowed: [..], of: {reader.get(key)}}}"
        reader.problem(302, message, "exactly", hint=hint)
        return None
    if not _go_together(reader, present, kind):
        return None
    found = [(sense, reader.formula(sense, expected=kind)) for sense in present]
    bounds = [BoundExpression(sense, expression) for sense, expression in found if expression is not None]
    spread = _read_spread(reader, kind, Sense.NOMINAL in present)
    if len(bounds) < len(found) or spread is None:
        return None
    bounds.extend(spread)
    return None if _crossed(reader, kind, bounds) else tuple(bounds)


def _go_together(reader: CheckReader, present: list[Sense], kind: Kind) -> bool:
    alone = [sense for sense in present if sense in (Sense.EXACTLY, Sense.NOMINAL)]
    lower = [sense for sense in present if sense.is_lower]
    upper = [sense for sense in present if sense.is_upper]
    if (alone and len(present) > 1) or len(lower) > 1 or len(upper) > 1:
        message = f"{' and '.join(present)} do not go together"
        hint = "one lower and one upper bound may be given together; exactly and nominal stand alone"
        reader.key_problem(502, message, present[-1], hint=hint)
        return False
    if not (kind.is_measure or kind.name in ("date", "grade")) and present != [Sense.EXACTLY]:
        reader.key_problem(302, f"{kind} has no more or less; it can only be held `exactly`", present[0])
        return False
    if kind.name == "grade" and Sense.NOMINAL in present:
        reader.key_problem(302, "a grade has no band", "nominal")
        return False
    return True


def _read_spread(reader: CheckReader, kind: Kind, nominal: bool) -> list[BoundExpression] | None:
    """plus_minus, or plus and minus, as a plus and a minus."""
    given = [key for key in ("plus_minus", "plus", "minus") if reader.has(key)]
    if not nominal:
        if given:
            reader.key_problem(502, f"`{given[0]}` goes with `nominal`", given[0])
            return None
        return []
    if given not in (["plus_minus"], ["plus", "minus"], ["plus"], ["minus"]):
        reader.key_problem(502, "`nominal` needs plus_minus, or plus and minus", "nominal")
        return None
    spread: list[BoundExpression] = []
    for key in given:
        expression = reader.formula(key, expected=difference_kind(kind))
        if expression is None:
            return None
        if expression.constant and not isinstance(expression.value, Unknown) and expression.value < 0:
            reader.problem(503, f"`{key}` is below zero", key)
            return None
        senses = (Sense.PLUS, Sense.MINUS) if key == "plus_minus" else (Sense(key),)
        spread.extend(BoundExpression(sense, expression) for sense in senses)
    return spread


def _crossed(reader: CheckReader, kind: Kind, bounds: list[BoundExpression]) -> bool:
    """A lower bound above the upper one lets nothing pass."""
    lower = next((b for b in bounds if b.sense.is_lower), None)
    upper = next((b for b in bounds if b.sense.is_upper), None)
    if lower is None or upper is None or not (lower.expression.constant and upper.expression.constant):
        return False
    low, high = lower.expression.value, upper.expression.value
    if isinstance(low, Unknown) or isinstance(high, Unknown):
        return False
    room = measure(high, low, kind)
    if room < 0 or (room == 0 and not (lower.sense.is_inclusive and upper.sense.is_inclusive)):
        ends = f"lower bound {lower.expression.text} is not below the upper bound {upper.expression.text}"
        reader.problem(503, f"the {ends}", lower.sense, hint="no value can pass; check both numbers")
        return True
    return False


def _read_several(reader: CheckReader, key: str, limit: Expression) -> tuple[Kind, str] | None:
    """The kind that the bounds must have, and what counts of several values; None where it cannot be told."""
    kind, several = limit.kind, reader.around.of_several
    if kind.name == "items":
        reader.problem(304, f"'{limit.text}' is a list of entries", key, hint=f"count({limit.text})")
        return None
    if kind.name in ("item", "row"):
        reader.problem(302, f"'{limit.text}' is {kind}, not a value", key, hint="name what of it is meant")
        return None
    if kind.name != "list" or kind.element is None:
        return kind, several if limit.follows_condition else ""
    if reader.has("exactly") and (not several or reader.gives_list("exactly")):
        return kind, ""
    if not several:
        hint = "say `of_several: worst` or `of_several: mean`, or use min, max, sum or mean"
        reader.problem(304, f"'{limit.text}' has several values; one is needed", key, hint=hint)
        return None
    if several == "mean" and not kind.element.is_measure:
        reader.problem(302, f"several values of {kind.element} have no mean", key, hint="of_several: worst")
        return None
    return kind.element, several


def _read_tolerance(reader: CheckReader, kind: Kind) -> tuple[Expression | None] | None:
    """The tolerance of the check, else the pack's for that dimension, in a tuple of its own; None: unusable."""
    measure = difference_kind(kind)
    if not reader.has("tolerance"):
        return (reader.default_tolerance(kind),)
    if not measure.is_measure:
        reader.key_problem(302, f"{kind} has no tolerance", "tolerance")
        return None
    expression = reader.formula("tolerance", expected=measure)
    if expression is None:
        return None
    if expression.constant and expression.value < 0:
        reader.problem(503, "`tolerance` is below zero", "tolerance", hint="a tolerance widens a bound")
        return None
    return (expression,)


def _read_rounding(reader: CheckReader, kind: Kind) -> tuple[tuple[Expression, str] | None] | None:
    """Step and mode, in a tuple of their own; None: unusable."""
    if not reader.has("rounded"):
        return (None,)
    given = reader.get("rounded")
    hint = "rounded: {to: 0.1 kg, mode: half_up}"
    if not isinstance(given, dict) or not {"to", "mode"} <= set(given):
        reader.problem(502, "`rounded` needs `to` and `mode`", "rounded", hint=hint)
        return None
    strange = next((key for key in given if key not in ("to", "mode")), None)
    if strange is not None:
        reader.key_problem(101, f"'{strange}' is not a key of `rounded`", "rounded", strange, hint=hint)
        return None
    if given["mode"] not in MODES:
        near = did_you_mean(str(given["mode"]), MODES) or f"modes: {', '.join(MODES)}"
        reader.problem(502, f"there is no rounding mode '{given['mode']}'", "rounded", "mode", hint=near)
        return None
    if kind in DIFFERENCES:
        hint = ROUND_HINT if kind == TEMPERATURE_POINT else "round a difference of moments instead"
        reader.problem(301, f"how a {kind} is rounded depends on its scale", "rounded", hint=hint)
        return None
    if not kind.is_measure:
        reader.key_problem(302, f"{kind} cannot be rounded", "rounded")
        return None
    step = reader.formula("rounded", "to", expected=kind)
    if step is None:
        return None
    if step.constant and step.value <= 0:
        reader.problem(503, "the step of a rounding must be above 0", "rounded", "to")
        return None
    return ((step, given["mode"]),)
