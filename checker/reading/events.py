"""What the parser of YAML says, event by event, as far as it is looked at here.

The parser's own types promise less than it keeps: every event that begins or ends a value has its marks.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final, Protocol

from yaml import events


class Place(Protocol):
    """Where an event begins or ends."""

    index: int
    """Offset in the text."""
    line: int
    column: int


class ParserEvent(Protocol):
    """One event; which of these it has, its class says."""

    start_mark: Place
    end_mark: Place
    anchor: str | None
    tag: str | None
    flow_style: bool
    value: str
    style: str
    version: object
    tags: Mapping[str, str] | None


NextEvent = Callable[[], ParserEvent]

SCALAR: Final[type[object]] = events.ScalarEvent
ALIAS: Final[type[object]] = events.AliasEvent
MAPPING: Final[type[object]] = events.MappingStartEvent
MAPPING_END: Final[type[object]] = events.MappingEndEvent
LIST_END: Final[type[object]] = events.SequenceEndEvent
FILE_END: Final[type[object]] = events.StreamEndEvent
