"""The assessment of `allowed` and `banned`: who offends, how many there are, and what to do."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from checker.car.scene import ITEM, Scene
from checker.kinds.shared.assessment import FAIL, NOT_SHOWN, PASS, Amount, Assessment
from checker.kinds.shared.members import Finding
from checker.quantities.kind import NUMBER, Unknown


def offence(
    offenders: list[Finding],
    unknown: Unknown,
    scene: Scene,
    one_item: bool,
    act: Callable[[Finding], str],
    text: Callable[[Finding], str],
) -> Assessment:
    """Judge the words that were looked at.

    Args:
        offenders: Words that break the rule for certain.
        unknown: What is not shown about the others.
        scene: Where the entry stands, for its name and how often it stands.
        one_item: Count entries, not words.
        act: What to do about one offender.
        text: What is wrong with it.
    """
    entry = scene.names.get(ITEM)
    standing = int(getattr(entry, "standing", 1))
    if not offenders:
        if unknown.says:
            return Assessment(NOT_SHOWN, unknown=unknown)
        return Assessment(PASS, margin=Amount(Fraction(0), NUMBER), met_by_nature=True)
    count = standing if one_item else len(offenders)
    acts = dict.fromkeys(act(bad) + (f" in {bad.owner}" if bad.owner else "") for bad in offenders)
    texts = dict.fromkeys((f"{bad.owner}: " if bad.owner else "") + text(bad) for bad in offenders)
    return Assessment(
        FAIL,
        margin=Amount(Fraction(-count), NUMBER),
        met_by_nature=True,
        unknown=unknown,
        act="; ".join(acts),
        text="; ".join(texts),
    )
