"""What the file of a kind carries."""

from __future__ import annotations

from typing import Protocol

from checker.kinds.contract.check import Check
from checker.kinds.contract.example import Example
from checker.kinds.contract.schema import KindSchema
from checker.kinds.reading.reader import CheckReader


class KindFile(Protocol):
    """A module of `checker.kinds`. Its docstring is what the language reference and an editor say of the kind.

    It may carry `COVERS` too: the list that its checks go through where they name none and nothing to look at.
    """

    KEY: str
    """The key that makes a check one of this kind; also its name."""
    SCHEMA: KindSchema
    """JSON Schema of the keys that belong to this kind alone, each with its description."""
    EXAMPLES: tuple[Example, ...]
    """Run as tests; the first is shown in the language reference."""
    __doc__: str | None

    def compile(self, reader: CheckReader) -> Check | None:
        """The compiled check, from a reader that stands at it; None where it cannot be used (problems noted)."""


def summary(kind: KindFile) -> str:
    """What a kind is for, in one sentence."""
    first = (kind.__doc__ or "").strip().split("\n\n")[0]
    return " ".join((first.partition(": ")[2] or first).split())
