"""What floats tell of a clause: its outcome, within which bounds its margin lies, and the margin itself where asked."""

from __future__ import annotations

import math
from collections.abc import Sequence

from checker.kinds.contract.check import kinds_of_margins
from checker.kinds.contract.writing import MET, OPEN, VERDICTS, ToldMargin
from checker.kinds.judging.assessment import Assessment, Verdict
from checker.kinds.judging.ranking import ranked, says_nothing

Told = list["ToldMargin | None"]
"""The margins of all that a check is made of; None among them: the least of them is not that of the whole."""


def bare(found: Assessment) -> Assessment:
    """An assessment with nothing but its outcome, value, bounds and margin."""
    return Assessment(
        found.outcome,
        found.value,
        found.bounds,
        found.margin,
        size=found.size,
        met_by_nature=found.met_by_nature,
    )


class ToldClause:
    """A clause whose outcome floats tell for certain.

    Args:
        code: Its outcome, as in `checker.kinds.contract.writing`.
        noted: The margins of all limits that were looked at; None: they are not told.
    """

    __slots__ = ("_noted", "outcome")

    def __init__(self, code: int, noted: Sequence[ToldMargin | None] | None) -> None:
        self.outcome: Verdict = VERDICTS[code]
        self._noted: list[ToldMargin] | None = None
        if noted is not None and not any(one is None or one.outcome == OPEN for one in noted):
            self._noted = [one for one in noted if one is not None and one.outcome == code]

    @property
    def bounds(self) -> tuple[float, float] | None:
        """Between which values its margin lies, in base units; None: not told, or it has none."""
        noted, _ = self._telling()
        if not noted or not _are_of_one_kind(noted):
            return None
        low, high = (min(one.value + sign * one.error for one in noted) for sign in (-1, 1))
        return (low, high) if math.isfinite(high) else None

    def measured(self) -> Assessment | None:
        """The outcome with value, bound and margin, exactly as the engine has them; None: it must be asked."""
        noted, natural = self._telling()
        if self._noted is None or not _are_of_one_kind(noted):
            return None
        if not noted:
            return Assessment(self.outcome) if natural is None else _exactly(natural)
        most = min(one.value + one.error for one in noted)
        if not math.isfinite(most):
            return None
        least = {(id(one.check), id(one.scene)): one for one in noted if one.value - one.error <= most}
        return ranked([_exactly(one) for one in least.values()])[0]

    def _telling(self) -> tuple[list[ToldMargin], ToldMargin | None]:
        """What was noted, and the first of it that says nothing of how near the car is."""
        natural: ToldMargin | None = None
        noted: list[ToldMargin] = []
        for one in self._noted or ():
            known = one
            nothing = one.outcome == MET and one.check.met_by_one_value
            if not nothing and abs(one.value) <= one.error:
                known = one._replace(found=_exactly(one))
                nothing = says_nothing(_exactly(known))
            if not nothing:
                noted.append(known)
            elif natural is None:
                natural = known
        return noted, natural


def _are_of_one_kind(noted: Sequence[ToldMargin]) -> bool:
    """Whether the least margin is the one that speaks."""
    kinds = kinds_of_margins(one.check for one in noted)
    return kinds is not None and len({(kind.name, kind.dimension) for kind in kinds}) < 2


def _exactly(one: ToldMargin) -> Assessment:
    return one.found or one.check.measured(one.scene)
