"""What a pen may get wrong in a limit: a bound, the word beside it, strict for inclusive, the rounding."""

from __future__ import annotations

from collections.abc import Iterator

from checker.kinds.contract.slips import Misread, OtherValue, Renamed, Slip, slips_in
from checker.kinds.limiting.limited import Limited
from checker.quantities.folding import fold
from checker.quantities.sense import WRITTEN, Sense
from checker.reading.values import Plain

NUMBERS: dict[str, bool] = {
    **dict.fromkeys((*(s for s in Sense if s.twin or s.is_spread), "plus_minus"), True),
    **dict.fromkeys((Sense.EXACTLY, Sense.NOMINAL), False),
}
"""Keys under which a number stands that can be varied, and whether more of it only ever helps, or only ever hurts."""

_MODES = {"half_up": "down", "half_even": "down", "up": "down", "down": "up"}


def slips(limited: Limited, key: str, written: Plain) -> Iterator[Slip]:
    """The slips under one of the keys of a limit."""
    if key == "rounded" and isinstance(written, dict):
        yield Misread((key, "to"))
        yield OtherValue((key, "mode"), _MODES.get(str(written.get("mode")), "up"))
        return
    words = (limited.limit.kind.words or ()) if key in NUMBERS and isinstance(written, str) else ()
    place = next((n for n, word in enumerate(words) if fold(word) == fold(str(written))), None)
    if place is None:
        yield from slips_in((key,), written)
    else:
        yield from (OtherValue((key,), words[n]) for n in (place - 1, place + 1) if 0 <= n < len(words))
    if key in WRITTEN and (twin := Sense(key).twin) is not None:
        yield Renamed(key, twin)
