"""What a pen may get wrong in what stands round a check: guards, the list it goes through, names, several values."""

from __future__ import annotations

from collections.abc import Iterator

from checker.kinds.contract.slips import LeftOut, Misread, OtherValue, Slip, slips_in
from checker.reading.values import Plain

_GUARDS = ("when", "unless", "where", "if_none")
_DAYS = ("since", "until")
_WHOLE = ("shortest", "longest", "let")


def frame_slips(key: str, written: Plain) -> Iterator[Slip]:
    """The slips under one of the keys that may stand beside any kind."""
    if key in _GUARDS or key in _DAYS:
        yield from (Misread((key,)), LeftOut((key,), key))
    elif key in _WHOLE:
        yield from slips_in((key,), written)
    elif key == "by":
        yield LeftOut((key,), "the order")
    elif key == "of_several":
        yield OtherValue((key,), "mean" if written == "worst" else "worst")
