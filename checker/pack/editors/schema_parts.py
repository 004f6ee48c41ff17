"""What the JSON Schemas of packs and declarations are put together from; `about` is what an editor shows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
TEXT: Schema = {"type": "string"}
FILLED: Schema = {"type": "string", "minLength": 1}
WHOLE: Schema = {"type": "integer", "minimum": 1}
DAY: Schema = {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$", "description": "As 2026-03-01."}
LITERAL: Schema = {"type": ["string", "number", "boolean"]}


def told(schema: Schema, about: str) -> Schema:
    """The schema with its description."""
    return {**schema, "description": about} if about else schema


def text(about: str) -> Schema:
    return told(TEXT, about)


def truth(about: str) -> Schema:
    return told({"type": "boolean"}, about)


def words(allowed: Iterable[str], about: str = "") -> Schema:
    return told({"enum": list(allowed)}, about)


def either(*schemas: Schema, about: str = "") -> Schema:
    return told({"anyOf": list(schemas)}, about)


def several(of: Schema, about: str = "", *, least: int = 0, **more: object) -> Schema:
    """A list of these."""
    least_items = {"minItems": least} if least else {}
    return told({"type": "array", **least_items, **more, "items": of}, about)


def mapping(of: Schema, about: str = "", **more: object) -> Schema:
    """A mapping from any name to these."""
    return told({"type": "object", **more, "additionalProperties": of}, about)


def closed(properties: Mapping[str, Mapping[str, object]], *required: str, about: str = "") -> Schema:
    """A mapping with these keys and no others."""
    needed = {"required": list(required)} if required else {}
    made = {"type": "object", **needed, "additionalProperties": False, "properties": dict(properties)}
    return told(made, about)


def defined(name: str) -> Schema:
    """What stands under `$defs` by that name."""
    return {"$ref": f"#/$defs/{name}"}


def if_it_has(key: str, then: Schema, otherwise: Schema) -> Schema:
    return {"if": {"required": [key]}, "then": then, "else": otherwise}


def if_text(then: Schema, otherwise: Schema) -> Schema:
    return {"if": {"type": "string"}, "then": then, "else": otherwise}


def by_its_key(schemas: Mapping[str, Schema], about: str = "") -> Schema:
    """A mapping of which one key alone chooses the schema, so that a mistake is told once."""
    made = {
        "type": "object",
        "oneOf": [{"required": [key]} for key in schemas],
        "allOf": [{"if": {"required": [key]}, "then": schema} for key, schema in schemas.items()],
    }
    return told(made, about)
