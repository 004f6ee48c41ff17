"""What a pen may get wrong in what stands round a check: guards, the list it goes through, names, several values."""

from __future__ import annotations

from collections.abc import Iterator

from checker.car.described.vocabulary import AS_WEIGHED
from checker.kinds.contract.slips import LeftOut, Misread, OtherValue, Slip, slips_in
from checker.reading.values import Plain

_GUARDS = ("when", "unless", "where", "if_none")
_DAYS = ("since", "until")
_WHOLE = ("shortest", "longest", "let")


_ANY, _WITHOUT_DRIVER = "any", "any_without_driver"


def frame_slips(key: str, written: Plain) -> Iterator[Slip]:
    """The slips under one of the keys that may stand beside any kind."""
    if key in _GUARDS or key in _DAYS:
        yield from (Misread((key,)), LeftOut((key,), key))
    elif key in _WHOLE:
        yield from slips_in((key,), written)
    elif key == "by":
        yield LeftOut((key,), "the order")
    elif key == "condition":
        yield from _conditions(written)
    elif key == "of_several":
        yield OtherValue((key,), "mean" if written == "worst" else "worst")


def _conditions(written: Plain) -> Iterator[Slip]:
    """Another condition, or one of several forgotten."""
    if isinstance(written, list):
        yield from (LeftOut(("condition", place), str(name)) for place, name in enumerate(written))
    elif isinstance(written, str):
        others = ({_ANY: _WITHOUT_DRIVER}.get(written, _ANY), AS_WEIGHED.name)
        yield from (OtherValue(("condition",), other) for other in others if other != written)
