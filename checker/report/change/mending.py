"""What ballast alone does for a car that a change of the rules hurts, as data and in words."""

from __future__ import annotations

from fractions import Fraction

from checker.quantities.amount import kilograms
from checker.report.amounts import Data, estimate
from checker.report.words.amounts import least_words
from checker.studies.planning.mending import Mending


def mending_data(mending: Mending | None) -> Data | None:
    if mending is None:
        return None
    return {"kg": None if mending.kg is None else estimate(mending.kg), "pieces": mending.pieces}


def mending_words(mending: Data | None) -> str:
    """ "6 kg of ballast mend it, in 2 of its pieces", rounded up; "" where nothing can be told."""
    if mending is None:
        return ""
    if mending["kg"] is None:
        return "no ballast alone mends it"
    kg = least_words(kilograms(Fraction(str(mending["kg"]))))
    if mending["pieces"] is None:
        return f"{kg} of ballast in the right place would mend it"
    return f"{kg} of ballast mend it, in {mending['pieces']} of its pieces"
