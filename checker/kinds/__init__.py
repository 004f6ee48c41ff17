"""The kinds of check, one file each: schema, compilation, evaluation, sentence, comparison, slips and examples.

A kind is found, not listed: every module of this folder that has a `KEY` is one. Adding a kind touches its
file and its test; `contract/` says what it may and must answer.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from checker.kinds.kind_file import KindFile


@cache
def all_kinds() -> Mapping[str, KindFile]:
    """Every kind by its key, in alphabetical order."""
    found: dict[str, KindFile] = {}
    for module in iter_modules(__path__):
        if module.ispkg:
            continue
        loaded = import_module(f"{__name__}.{module.name}")
        if hasattr(loaded, "KEY"):
            found[loaded.KEY] = cast("KindFile", loaded)
    return found
