"""What became of one clause."""

from __future__ import annotations

from checker.kinds.contract.check import Check, uses
from checker.kinds.judging.assessment import Assessment, LegalFuel, Verdict
from checker.kinds.judging.spread import is_weight
from checker.pack.model import ADVISORY, Clause
from checker.quantities.amount import Statement
from checker.quantities.kind import Unknown
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Outcome:
    clause: Clause
    assessment: Assessment
    check: Check | None
    """The check that was judged: the clause's own, or an older one; None where none was."""
    penalty: str | Statement | Unknown = ""
    """What the breach costs, where the clause says; unknown where that cannot be worked out."""
    reference: str = ""
    """The approval that it rests on."""
    without: Assessment | None = None
    """What it would have been without that approval."""

    @property
    def outcome(self) -> Verdict:
        return self.assessment.outcome

    @property
    def legal_fuel(self) -> tuple[LegalFuel, ...]:
        """With how much fuel it is met, for every driver, tyre set and wear that it asks for."""
        from checker.kinds.frame.legal_fuel import of_clause

        return tuple(of_clause(self.check, self.assessment))

    @property
    def on_weights(self) -> bool:
        """Whether it looks at what the car weighs, or how that is spread."""
        return self.check is not None and any(map(is_weight, uses(self.check)))

    @property
    def counts(self) -> bool:
        """Whether it bears on the verdict: advice never does."""
        return self.clause.severity != ADVISORY
