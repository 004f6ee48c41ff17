"""What stands beside a pack and a meeting has a schema, its modeline, and a loader that refuses what the schema underlines."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any

import pytest
from jsonschema_rs import meta

from checker.car.declaration.loading import load_car
from checker.car.declaration.planning import with_shelf
from checker.meeting.session.gear import described_gear
from checker.meeting.session.procedure import read_procedure
from checker.meeting.session.procedure_schema import procedure_schema
from checker.meeting.tables.mapping import read_mapping
from checker.meeting.tables.mapping_schema import mapping_schema
from checker.pack.editions.loading import load_edition
from checker.pack.editors.companion_schemas import shelf_schema
from checker.pack.editors.gear_schema import gear_file_schema
from checker.pack.editors.new_pack import as_text
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.printer import to_yaml
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document, read_document
from checker.studies.one_car.season import read_meetings
from checker.studies.one_car.season_schema import season_schema
from tests.conftest import ROOT
from tests.examples import each_row, quick_first
from tests.meeting.test_sample_meeting import script
from tests.pack.editors.test_pack_schema import accepts, as_json

Where = tuple[str | int, ...]


@cache
def edition(name: str) -> Pack:
    return load_edition(str(ROOT / "rulepacks" / "dunlin" / f"{name}.yaml"))


def read_gear(document: Document) -> object:
    """As a meeting reads it, and as an inspection does."""
    described_gear(document, None)
    legal = read_document(str(ROOT / "samples" / "cars" / "legal.yaml"), "CD")
    return load_car(legal, edition("2026.1").vocabulary, gear=document)


def read_shelf(document: Document) -> object:
    legal = read_document(str(ROOT / "samples" / "cars" / "legal.yaml"), "CD")
    return with_shelf(document, legal, load_car(legal, edition("2026.1").vocabulary))


@dataclass(frozen=True)
class Companion:
    file: str
    published: str
    made: Callable[[], dict[str, Any]]
    load: Callable[[Document], object]
    free: tuple[Where, ...] = field(default=())
    """Where keys are names of the author's own; "*" stands for any."""


COMPANIONS = (
    Companion("rulepacks/dunlin/procedure.yaml", "rulepacks/schemas/procedure.schema.json", procedure_schema,
              lambda document: read_procedure(document, edition("2026.1")), (("success", "places"),)),
    Companion("rulepacks/dunlin/2025.1.procedure.yaml", "rulepacks/schemas/procedure.schema.json", procedure_schema,
              lambda document: read_procedure(document, edition("2025.1")), (("success", "places"),)),
    Companion("samples/gear/club.yaml", "rulepacks/schemas/gear.schema.json", gear_file_schema, read_gear,
              (("instruments",), ("checks", "*", "zero"), ("checks", "*", "shown"))),
    Companion("samples/meeting/pads-mapping.yaml", "rulepacks/schemas/mapping.schema.json", mapping_schema,
              read_mapping, (("words", "*"),)),
    Companion("samples/season/meetings.yaml", "rulepacks/schemas/season.schema.json", season_schema, read_meetings),
    Companion("samples/shelf.yaml", "rulepacks/dunlin/shelf.schema.json", lambda: shelf_schema(edition("2026.1")),
              read_shelf),
    Companion("samples/meeting/day.yaml", "samples/meeting/day.schema.json", script("replay").day_schema,
              script("replay").read_script, (("steps", "*", "facts"),)),
)  # fmt: skip
MODELINE = "# yaml-language-server: $schema="


@pytest.mark.parametrize("one", COMPANIONS, ids=lambda one: one.file)
def test_a_companion_has_its_schema_and_its_modeline(one: Companion, request: pytest.FixtureRequest) -> None:
    path, schema = ROOT / one.file, ROOT / one.published
    if request.config.getoption("--accept"):
        schema.write_text(as_text(one.made()), encoding="utf-8")
    assert schema.read_text(encoding="utf-8") == as_text(one.made())
    meta.validate(one.made())
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith(MODELINE)
    assert (path.parent / first.removeprefix(MODELINE)).resolve() == schema
    document = read_document(str(path), "MT")
    one.load(document)
    assert accepts(one.made(), as_json(document.data))


def keys_of(data: Any, *path: str | int) -> Iterator[Where]:
    """The path of every key, of a list those of its first entries of each form."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield (*path, key)
            yield from keys_of(value, *path, key)
    elif isinstance(data, list):
        forms: set[tuple[str, ...]] = set()
        for at, value in enumerate(data):
            form = tuple(map(str, value)) if isinstance(value, dict) else ()
            if form and form not in forms:
                yield from keys_of(value, *path, at)
            forms.add(form)


def shortened(data: Any) -> Any:
    """The same with only the first entries of each form in its lists, which are all that `keys_of` goes through."""
    if isinstance(data, dict):
        return {key: shortened(value) for key, value in data.items()}
    if isinstance(data, list):
        first = {tuple(map(str, value)): value for value in reversed(data) if isinstance(value, dict)}
        kept = [
            value for value in data if not isinstance(value, dict) or first[tuple(map(str, value))] is value
        ]
        return [shortened(value) for value in kept]
    return data


def misspelt(data: Any, path: Where) -> Any:
    """The same with one key misspelt."""
    key, rest = path[0], path[1:]
    if isinstance(data, list):
        return [misspelt(value, rest) if at == key else value for at, value in enumerate(data)]
    if rest:
        return {k: misspelt(value, rest) if k == key else value for k, value in data.items()}
    return {f"{k}x" if k == key else k: value for k, value in data.items()}


def is_free(one: Companion, path: Where) -> bool:
    return any(
        len(free) == len(path) - 1 and all(a in ("*", b) for a, b in zip(free, path, strict=False))
        for free in one.free
    )


def is_refused(one: Companion, document: Document) -> bool:
    try:
        one.load(document)
    except InputError:
        return True
    return False


@pytest.mark.parametrize("one", quick_first(COMPANIONS, len(COMPANIONS) - 1))
def test_every_misspelt_key_is_underlined_and_refused(one: Companion) -> None:
    data, schema = shortened(read_document(str(ROOT / one.file), "MT").data), one.made()
    assert accepts(schema, as_json(data))
    one.load(parse_document(to_yaml(data).encode(), one.file, "MT"))
    paths = [path for path in keys_of(data) if not is_free(one, path)]
    assert paths
    for path in paths:
        wrong = misspelt(data, path)
        assert not accepts(schema, as_json(wrong)), f"{path} is not underlined"
        assert is_refused(one, parse_document(to_yaml(wrong).encode(), one.file, "MT")), (
            f"{path} is not refused"
        )


@each_row(
    ("made", "load", "text"),
    [
        (procedure_schema, COMPANIONS[0].load, "procedure: dunlin\nsteps: [{name: scales}]"),
        (procedure_schema, COMPANIONS[0].load, "procedure: dunlin\nsteps: [{name: a, weighing: true, clauses: ['3.1']}]"),
        (procedure_schema, COMPANIONS[0].load, "procedure: dunlin\nsteps: [{name: a, weighing: false}]"),
        (procedure_schema, COMPANIONS[0].load, "procedure: dunlin\neditions: []"),
        (procedure_schema, COMPANIONS[0].load, "procedure: dunlin\nweighings: 0"),
        (procedure_schema, COMPANIONS[0].load, "procedure: dunlin\nreweigh: {when: sometimes}"),
        (procedure_schema, COMPANIONS[0].load,
         "procedure: dunlin\nsuccess: {place: results.last_place, places: {winner: 1}, others: lower,"
         " due: success_ballast_due}"),
        (mapping_schema, read_mapping, "import: weighings\ncolumns: {front_left: FL}"),
        (mapping_schema, read_mapping, "import: cars\ncolumns: {car: No}"),
        (mapping_schema, read_mapping, "import: weighings\ncolumns: {car: No}\nzone: summer"),
        (mapping_schema, read_mapping, 'import: weighings\ncolumns: {car: No}\nzone: "+15:00"'),
        (mapping_schema, read_mapping, 'import: weighings\ncolumns: {car: No}\nseparator: "|"'),
        (season_schema, read_meetings, "[]"),
        (season_schema, read_meetings, "- {name: Spring, date: Sunday}"),
        (season_schema, read_meetings, "- {name: '', date: 2026-05-03}"),
    ],
)  # fmt: skip
def test_a_wrong_value_is_underlined_and_refused(
    made: Callable[[], dict[str, Any]], load: Callable[[Document], object], text: str
) -> None:
    document = parse_document(text.encode(), "text", "MT")
    assert not accepts(made(), as_json(document.data))
    with pytest.raises(InputError):
        load(document)
