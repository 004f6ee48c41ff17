"""JSON Schemas (draft 2020-12) of the documents that this program writes."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any


def schema(document: str) -> dict[str, Any]:
    """The schema of a kind of document.

    Args:
        document: What stands under `document`, e.g. "inspection".
    """
    text = files(__name__).joinpath(f"{document}.schema.json").read_text("utf-8")
    loaded: dict[str, object] = json.loads(text)
    return loaded
