"""Which pad stood under which wheel.

Pads are marked for their wheels, or have names of their own. Swapping them between weighings tells their errors from
the car's own distribution: side to side cancels zero errors in the side percentages, diagonally in both.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from checker.car.described.standard import WHEELS
from checker.car.described.vocabulary import FactType
from checker.car.reading.mistakes import Reader, name_of
from checker.car.reading.values import read_value
from checker.quantities.kind import TEXT, Kind
from checker.reading.problems import Path

AS_MARKED, SIDE_TO_SIDE, DIAGONALLY = "as marked", "swapped side to side", "swapped diagonally"
PADS = (AS_MARKED, SIDE_TO_SIDE, DIAGONALLY)
"""Words for where the marked pads stand."""

Arrangement = Mapping[str, str]
"""The pad under each wheel, axle or side, by name; a pad's name is that of its wheel unless it has one of its own."""

_SIDE = {"left": "right", "right": "left"}
_END = {"front": "rear", "rear": "front"}
_WORD, _NAME = FactType("pads", Kind("text", words=PADS)), FactType("pad", TEXT)


def arranged(shape: tuple[str, ...], words: str = AS_MARKED) -> dict[str, str]:
    """The arrangement that one of `PADS` describes."""
    return {load: _marked_for(load, words) for load in shape}


def _marked_for(load: str, words: str) -> str:
    end, _, side = load.partition("_")
    if words == AS_MARKED or not side:
        return load
    return f"{end}_{_SIDE[side]}" if words == SIDE_TO_SIDE else f"{_END[end]}_{_SIDE[side]}"


def read_arrangement(reader: Reader, path: Path, shape: tuple[str, ...]) -> dict[str, str] | None:
    """The arrangement at `path`: words, or the pad under each wheel; None, with problems noted, if it is none."""
    if not reader.has(*path):
        return arranged(shape)
    data = reader.get(*path)
    if not isinstance(data, dict):
        stated = read_value(reader, _WORD, path)
        if stated is None:
            return None
        if stated.value != AS_MARKED and shape != WHEELS:
            message = f"{name_of(path)}: pads are swapped under four wheels, and this reading gives {', '.join(shape)}"
            reader.problem(214, message, *path)
            return None
        return arranged(shape, stated.value)
    return _named(reader, path, data, shape)


def _named(
    reader: Reader, path: Path, data: Mapping[str, object], shape: tuple[str, ...]
) -> dict[str, str] | None:
    found: dict[str, str] = {}
    for load in data:
        if load not in shape:
            reader.unknown_name("load", shape, *path, load)
            return None
        stated = read_value(reader, _NAME, (*path, load))
        if stated is None:
            return None
        found[load] = stated.value
    lacking = [load for load in shape if load not in found]
    if lacking:
        reader.problem(214, f"{name_of(path)} does not say which pad stood under {', '.join(lacking)}", *path)
        return None
    often = Counter(found.values())
    most = max(often.values())
    odd = next((pad for pad, times in often.items() if times < most), "")
    if odd:
        twice = next(pad for pad, times in often.items() if times == most)
        under = " and ".join(load for load, pad in found.items() if pad == twice)
        message = f"{name_of(path)}: pad {twice!r} stands under {under}, and {odd!r} under fewer"
        hint = "name four different pads, or let each stand under as many wheels as the others, in turn"
        reader.problem(214, message, *path, hint=hint)
        return None
    return found
