"""What an editor is told of the keys of a kind."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypedDict


class KindSchema(TypedDict):
    """The part of a JSON Schema that says which keys there are."""

    required: list[str]
    properties: Mapping[str, Mapping[str, object]]
    """By key, each with its description."""


LISTED = {"type": ["array", "string"], "items": {"type": ["string", "number", "boolean"]}}
"""A list of words or values, or a formula that gives one."""
