"""The schemas in the repository are up to date, and every pack and sample points to the one that describes it.

`pytest --accept` renews them.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.pack.editions.loading import load_edition
from checker.pack.editors.new_pack import as_text
from checker.pack.editors.pack_schema import declaration_schema, pack_schema
from tests.examples import each_row

ROOT = Path(__file__).parents[2]
PACK = ROOT / "rulepacks" / "schemas" / "pack.schema.json"
DECLARATION = ROOT / "rulepacks" / "dunlin" / "declaration.schema.json"
EDITION = ROOT / "rulepacks" / "dunlin" / "2026.1.yaml"
MODELINE = "# yaml-language-server: $schema="


def test_the_published_schemas_are_up_to_date(request: pytest.FixtureRequest) -> None:
    schemas = {PACK: pack_schema(), DECLARATION: declaration_schema(load_edition(str(EDITION)))}
    for file, schema in schemas.items():
        if request.config.getoption("--accept"):
            file.write_text(as_text(schema), encoding="utf-8")
        assert file.read_text(encoding="utf-8") == as_text(schema)


def described() -> list[tuple[Path, Path]]:
    """Every file that a schema describes, with that schema."""
    packs = [
        (path, PACK)
        for path in sorted((ROOT / "rulepacks").glob("*/*.yaml"))
        if not path.name.endswith("procedure.yaml")
    ]
    folders = (ROOT / "samples" / "cars", ROOT / "samples" / "readings")
    return packs + [(path, DECLARATION) for folder in folders for path in sorted(folder.glob("*.yaml"))]


@each_row(("path", "schema"), described(), ids=lambda path: path.name)
def test_every_pack_and_sample_begins_with_its_modeline(path: Path, schema: Path) -> None:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith(MODELINE)
    assert (path.parent / first.removeprefix(MODELINE)).resolve() == schema
