"""Examples of a kind: run as tests, and the first is shown in the language reference."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Example:
    """One check judged on one small car."""

    name: str
    check: str
    """The check as YAML."""
    car: Mapping[str, Any]
    """Sections and lists of the declaration."""
    outcome: str
    margin: str | None = None
    """As a report shows it, e.g. "-0.5 kg"; None: no margin."""
    facts: str = "{}"
    """The pack's `facts`, as YAML."""
    more: str = "{}"
    """Other sections of the pack (lists, categories, materials, tables), as YAML."""
