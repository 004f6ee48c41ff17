"""The steps of `round_up(x, 1 cc)` and its sisters: each is an edge, on which the rounded value jumps."""

from __future__ import annotations

from fractions import Fraction

from checker.quantities.formula.edges import above, is_noting, note
from checker.quantities.formula.typed import Typed
from checker.quantities.rounding import round_to
from checker.reading.quick_dataclasses import replace


def with_edges(rounded: Typed, value: Typed, step: Typed, mode: str, text: str) -> Typed:
    """The rounded value, which notes the steps below and above to whoever asks for edges.

    Args:
        rounded: As compiled.
        value: What is rounded.
        step: To what.
        mode: As for `round_to`: up and down jump at multiples of the step, the others half a step beside them.
        text: What is rounded, as written.
    """
    if not value.uses:
        return rounded
    run = rounded.evaluate

    def noted(scene: object) -> object:
        if is_noting(scene):
            x, by = value.evaluate(scene), step.evaluate(scene)
            if isinstance(x, Fraction) and isinstance(by, Fraction) and by > 0:
                shift = Fraction(0) if mode in ("up", "down") else by / 2
                below = round_to(x - shift, by, "down") + shift
                for edge in (below, below + by):
                    words = f"{text} against a step of its rounding"
                    note(scene, above(value, edge), [value], words, (run, edge))
        return run(scene)

    return replace(rounded, evaluate=noted)
