"""A compiled pack from the bytes that `freezing` made of it.

Reading them runs what stands in them: they are read only where nobody but the user can have written them.
"""

from __future__ import annotations

import sys
from _pickle import load  # the module round it is more to load than all that is read by it
from collections.abc import Callable
from importlib import import_module
from types import CellType, CodeType, FunctionType
from typing import Any, BinaryIO

from checker.pack.model import Pack


def thaw(
    kept: BinaryIO, is_unchanged: Callable[[str, tuple[str, ...]], bool]
) -> tuple[str, tuple[str, ...], Pack] | None:
    """What `freeze` was given; None where what it rests on has changed since.

    Args:
        is_unchanged: Told the state of what it rests on, and the names of that.
    """
    state, rests_on = load(kept)
    return (state, rests_on, load(kept)) if is_unchanged(state, rests_on) else None


def in_module(module: str, name: str) -> Any:
    return getattr(import_module(module), name)


def function(code: CodeType, module: str, defaults: Any, named: Any, held: tuple[Any, ...]) -> FunctionType:
    space = vars(sys.modules.get(module) or import_module(module))
    made = FunctionType(code, space, code.co_name, defaults, tuple(map(CellType, held)))
    made.__kwdefaults__ = named
    return made
