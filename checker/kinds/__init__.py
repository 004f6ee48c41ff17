"""The kinds of check, one file each: schema, compilation, evaluation, sentence, comparison, slips and examples.

A kind is found, not listed: every module of this folder that has a `KEY` is one. Adding a kind touches its
file and its test; `contract/` says what it may and must answer.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from checker.kinds.kind_file import KindFile


@cache
def all_kinds() -> Mapping[str, KindFile]:
    """Every kind by its key, in alphabetical order."""
    found: dict[str, KindFile] = {}
    for file in sorted(file for folder in __path__ for file in os.listdir(folder)):
        name, _, ending = file.partition(".")
        if ending != "py" or name == "__init__":
            continue
        loaded = import_module(f"{__name__}.{name}")
        if hasattr(loaded, "KEY"):
            found[loaded.KEY] = cast("KindFile", loaded)
    return found
