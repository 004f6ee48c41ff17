"""What the JSON Schemas of packs and declarations are put together from; `about` is what an editor shows.

Beside what JSON Schema knows there are `errorMessage`, an editor's words for what is wrong, and `defaultSnippets`, what
it offers to fill in.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
TEXT: Schema = {"type": "string"}
FILLED: Schema = {"type": "string", "minLength": 1}
WHOLE: Schema = {"type": "integer", "minimum": 1}
LITERAL: Schema = {"anyOf": [{"type": "string"}, {"type": "number"}, {"type": "boolean"}]}

YEAR = "(?:19|20|21)[0-9]{2}"
"""From `FIRST_YEAR` to `LAST_YEAR`."""
_LEAP_YEAR = "(?:2000|(?:19|20|21)(?:0[48]|[2468][048]|[13579][26]))"
CALENDAR_DAY = (
    f"(?:{YEAR}-(?:(?:0[13578]|1[02])-(?:0[1-9]|[12][0-9]|3[01])|(?:0[469]|11)-(?:0[1-9]|[12][0-9]|30)"
    f"|02-(?:0[1-9]|1[0-9]|2[0-8]))|{_LEAP_YEAR}-02-29)"
)
"""A pattern of the days of the calendar."""
DAY: Schema = {
    "type": "string",
    "pattern": f"^{CALENDAR_DAY}$",
    "description": "As 2026-03-01.",
    "errorMessage": "Write a day of the calendar, such as 2026-03-01.",
}


def told(schema: Schema, about: str) -> Schema:
    """The schema with its description."""
    return {**schema, "description": about} if about else schema


def text(about: str) -> Schema:
    return told(TEXT, about)


def truth(about: str) -> Schema:
    return told({"type": "boolean"}, about)


def words(allowed: Iterable[str], about: str = "") -> Schema:
    return told({"enum": list(allowed)}, about)


def folded(allowed: Iterable[str], about: str = "") -> Schema:
    """These words, however they are capitalised and spaced."""
    spellings = list(dict.fromkeys(allowed))
    patterns = "|".join(r"\s+".join(map(_any_case, word.split())) for word in spellings)
    anyhow = {"type": "string", "pattern": rf"^\s*(?:{patterns})\s*$"}
    return told(
        {"anyOf": [{"enum": spellings}, anyhow], "errorMessage": f"Write one of: {', '.join(spellings)}."},
        about,
    )


def _any_case(word: str) -> str:
    cases = (
        sorted({letter, *(c for c in (letter.lower(), letter.upper()) if len(c) == 1)}) for letter in word
    )
    return "".join(f"[{''.join(c)}]" if len(c) > 1 else re.escape(c[0]).replace("\\-", "-") for c in cases)


def no_lone_number(schema: Schema, wanted: str) -> Schema:
    """The same, with words for a number without a unit."""
    refused = {"type": "string", "errorMessage": wanted}
    return {"if": {"type": "number"}, "then": refused, "else": schema}


def or_empty(schema: Schema) -> Schema:
    """The same, or nothing written yet."""
    return {**schema, "type": [schema["type"], "null"]}


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
    return {"if": _has(key), "then": then, "else": otherwise}


def _has(*keys: str) -> Schema:
    """A mapping with one of these keys; put so that an editor does not take it for keys to be offered."""
    return {"type": "object", "not": {"propertyNames": {"not": {"enum": list(keys)}}}}


def if_text(then: Schema, otherwise: Schema) -> Schema:
    return {"if": {"type": "string"}, "then": then, "else": otherwise}


def by_its_key(schemas: Mapping[str, Schema], about: str = "") -> Schema:
    """A mapping of which one key alone chooses the schema, so that a mistake is told once."""
    one_of = f"Here stands one of these keys: {', '.join(schemas)}."
    made = {
        "type": "object",
        "if": _has(*schemas),
        "then": {"oneOf": [_has(key) for key in schemas]},
        "else": {
            **closed({}),
            "minProperties": 1,
            "patternProperties": {
                _nearly(key, schemas): {**_NOTHING, "errorMessage": f"Did you mean '{key}'?"}
                for key in schemas
            },
            "errorMessage": one_of,
        },
        "allOf": [{"if": _has(key), "then": schema} for key, schema in schemas.items()],
    }
    return told(made, about)


_NOTHING: Schema = {"type": "null", "not": {"type": "null"}}
"""Accepts nothing, and lets an editor tell why in words of ours; it would not for `false`."""


def _nearly(key: str, keys: Iterable[str]) -> str:
    """A pattern of the words that are one letter from the key: too many, too few, another, or two turned round."""
    near = [f"{key[:i]}.{key[i:]}" for i in range(len(key) + 1)]
    for i in range(len(key)):
        near += [f"{key[:i]}{key[i + 1 :]}", f"{key[:i]}.{key[i + 1 :]}"]
    near += [f"{key[:i]}{key[i + 1]}{key[i]}{key[i + 2 :]}" for i in range(len(key) - 1)]
    return f"^(?!(?:{'|'.join(keys)})$)(?:{'|'.join(dict.fromkeys(near))})$"
