"""A compiled pack as bytes; `thawing` reads them.

It is made of plain values and of small functions that other functions made. Python's pickle keeps the values; what is
here adds such functions, by their code and what they hold, and leaves to a module what that has only one of.
"""

from __future__ import annotations

import io
import marshal
import pickle
import re
import sys
from functools import cache
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

from checker.pack.keeping.thawing import function, in_module
from checker.pack.model import Pack

_BY_NAME = (type, FunctionType, ModuleType)


class CannotFreezeError(Exception):
    """Something in a pack cannot be kept."""


def freeze(state: str, rests_on: tuple[str, ...], pack: Pack) -> bytes:
    """A pack, the names of what it rests on, and the state of that.

    Raises:
        CannotFreezeError: Something in it, perhaps of somebody else's kind of check, cannot be kept.
    """
    kept = io.BytesIO()
    try:
        for part in ((state, rests_on), pack):
            _Freezer(kept, pickle.HIGHEST_PROTOCOL).dump(part)
    except Exception as error:  # whatever somebody's own objects raise
        raise CannotFreezeError(str(error)) from error
    return kept.getvalue()


class _Freezer(pickle.Pickler):
    def __init__(self, *arguments: Any) -> None:
        super().__init__(*arguments)
        self._single = _single()

    def reducer_override(self, one: Any) -> Any:
        if found := self._single.get(id(one)):
            return in_module, next((place for place in found if _is_made_in(*place)), found[0])
        if isinstance(one, CodeType):
            return marshal.loads, (marshal.dumps(one),)
        if isinstance(one, FunctionType) and "<" in one.__qualname__:
            held = tuple(cell.cell_contents for cell in one.__closure__ or ())
            return function, (one.__code__, one.__module__, one.__defaults__, one.__kwdefaults__, held)
        if type(one) is object:
            raise CannotFreezeError("an object that is only ever itself")
        return NotImplemented


def _single() -> dict[int, list[tuple[str, str]]]:
    """What the modules of this program have at their top, by its identity: it is compared by that."""
    found: dict[int, list[tuple[str, str]]] = {}
    for module, names in list(sys.modules.items()):
        if module.partition(".")[0] == __name__.partition(".")[0]:
            for name, one in vars(names).items():
                if not isinstance(one, _BY_NAME):
                    found.setdefault(id(one), []).append((module, name))
    return found


@cache
def _is_made_in(module: str, name: str) -> bool:
    """Whether a module makes what it calls so; else reading a pack would load whoever imports it."""
    text = Path(sys.modules[module].__file__ or "").read_text("utf-8")
    return re.search(rf"^(?:\w+, )*{name}\b[^=\n(]*=[^=]", text, re.MULTILINE) is not None
