"""The form has a field for everything that a declaration may hold, by the schemas of packs, or a reason why not."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.editors.declaration_schema import declaration_schema
from checker.pack.model import Pack
from checker.pages.form.making import form_of
from checker.pages.form.parts import Either, Growing, Input, Part
from tests.conftest import ROOT

Path = tuple[str, ...]
OF_LIST, ANY_NAME = "[]", "*"
HOW_WELL = ("value", "with", "uncertainty")

ELSEWHERE = {
    ("formula",): "chosen by the file that is opened, or by --formula; the page shows it",
    (
        "checks",
        OF_LIST,
        "zero",
        ANY_NAME,
    ): "pads are told by the wheel that they are marked for; others stay as written",
    ("checks", OF_LIST, "shown", ANY_NAME): "the same",
    ("instruments", ANY_NAME, "offset", ANY_NAME): "the same",
}
"""What has no field, each with the reason."""

PACKS = {
    "dunlin": (ROOT / "rulepacks" / "dunlin", date(2026, 5, 3)),
    "language": (ROOT / "tests" / "pack" / "packs" / "language", date(2026, 5, 3)),
    "short": (ROOT / "tests" / "pack" / "packs" / "short", date(2026, 5, 3)),
}


def in_schema(
    schema: dict[str, Any], defs: dict[str, Any], path: Path, within: tuple[str, ...]
) -> Iterator[Path]:
    """Every path at which a declaration may say something."""
    if "$ref" in schema:
        name = schema["$ref"].removeprefix("#/$defs/").replace("%20", " ")
        if name not in within:
            yield from in_schema(defs[name], defs, path, (*within, name))
        return
    inner = [schema[key] for key in ("then", "else") if key in schema and "$defs" not in schema]
    inner += [one.get("then", one) for key in ("anyOf", "allOf") for one in schema.get(key, ())]
    for one in inner:
        yield from in_schema(one, defs, path, within)
    properties = schema.get("properties", {})
    if set(properties) == set(HOW_WELL):
        yield (*path, "with")
        yield (*path, "uncertainty")
        yield from in_schema(properties["value"], defs, path, within)
        return
    for key, one in properties.items():
        yield (*path, key)
        yield from in_schema(one, defs, (*path, key), within)
    if isinstance(schema.get("additionalProperties"), dict):
        yield (*path, ANY_NAME)
        yield from in_schema(schema["additionalProperties"], defs, (*path, ANY_NAME), within)
    if "items" in schema:
        yield (*path, OF_LIST)
        yield from in_schema(schema["items"], defs, (*path, OF_LIST), within)


def in_form(part: Part, path: Path) -> Iterator[Path]:
    """Every path that a part of a form has a field for."""
    if isinstance(part, Either):
        for _, way in part.ways:
            yield from in_form(way, path)
    elif isinstance(part, Input):
        yield path
        if part.fact.several:
            yield (*path, OF_LIST)
        if part.instrumented:
            yield (*path, "with")
            yield (*path, "uncertainty")
    else:
        entry = (*path, ANY_NAME if isinstance(part, Growing) and part.named else OF_LIST)
        inside = entry if isinstance(part, Growing) else path
        yield path
        yield inside
        if part.key == "parts":
            return  # like what they are inside
        for one in part.entry.parts if isinstance(part, Growing) else part.parts:
            for key in [key for key, _ in one.keys] if isinstance(one, Input) and one.keys else [one.key]:
                yield from in_form(one, (*inside, key))
        if isinstance(part, Growing) and part.nested:
            yield (*inside, "parts")
            yield (*inside, "parts", OF_LIST)


def pack(name: str) -> Pack:
    folder, on = PACKS[name]
    return load_pack(open_folder(str(folder)), on)


@pytest.mark.parametrize("name", PACKS)
def test_every_path_of_the_schema_has_a_field_or_a_reason(name: str) -> None:
    schema = declaration_schema(pack(name))
    asked = set(in_schema(schema, schema["$defs"], (), ()))
    fields = set(in_form(form_of(pack(name)).root, ()))
    assert len(asked) > 100
    without = {path for path in asked - fields if not any(path[: len(one)] == one for one in ELSEWHERE)}
    assert sorted(map(".".join, without)) == []


def test_every_reason_is_needed() -> None:
    schema = declaration_schema(pack("dunlin"))
    asked = set(in_schema(schema, schema["$defs"], (), ()))
    assert ELSEWHERE.keys() <= asked - set(in_form(form_of(pack("dunlin")).root, ()))


def test_no_field_is_of_what_no_declaration_may_say() -> None:
    schema = declaration_schema(pack("dunlin"))
    asked = set(in_schema(schema, schema["$defs"], (), ()))
    fields = {path for path in in_form(form_of(pack("dunlin")).root, ()) if path and path[-1] != OF_LIST}
    by_name = {one for one in ELSEWHERE if one[-1] == ANY_NAME}
    assert sorted(path for path in fields - asked if (*plain(path)[:-1], ANY_NAME) not in by_name) == []


def plain(path: Path) -> Path:
    """Without how well it is known."""
    return path[:-1] if path[-1] in HOW_WELL else path
