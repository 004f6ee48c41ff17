"""The kinds of check, one file each: schema, compilation, evaluation, sentence, comparison and examples.

A kind is found, not listed: every module of this folder that has a `KEY` is one. Adding a kind touches its
file and its test.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import Any, Protocol, cast


class KindModule(Protocol):
    """What the file of a kind carries."""

    KEY: str
    """The key that makes a check one of this kind; also its name."""
    SCHEMA: Mapping[str, Any]
    """JSON Schema of the keys that belong to this kind alone."""
    EXAMPLES: tuple[Any, ...]
    __doc__: str | None

    def compile(self, reader: Any) -> Any:
        """The compiled check, from a `CheckReader` that stands at the check."""


@cache
def all_kinds() -> Mapping[str, KindModule]:
    """Every kind by its key, in alphabetical order."""
    found: dict[str, KindModule] = {}
    for module in iter_modules(__path__):
        if module.ispkg:
            continue
        loaded = import_module(f"{__name__}.{module.name}")
        if hasattr(loaded, "KEY"):
            found[loaded.KEY] = cast(KindModule, loaded)
    return found
