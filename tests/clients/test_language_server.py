"""What an editor shows of declarations and packs, by the language server that editors use for YAML."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from checker.kinds import all_kinds
from checker.pack.editions.loading import load_edition
from checker.pack.editors.new_pack import as_text
from checker.pack.editors.pack_schema import declaration_schema, pack_schema
from tests.clients.language_server import LanguageServer, language_server, node_package
from tests.conftest import ROOT

pytestmark = [
    pytest.mark.client,
    pytest.mark.skipif(
        shutil.which("node") is None or node_package("yaml-language-server") is None,
        reason="yaml-language-server is not found on NODE_PATH",
    ),
]

CAR = '# yaml-language-server: $schema=car.json\nformula: dunlin\ncar:\n  number: "27"\n'
PACK = (
    "# yaml-language-server: $schema=pack.json\n"
    'pack: x\nedition: "1"\ntitle: T\nin_force: {from: 2026-01-01}\nclauses:\n  "1":\n    check:\n      '
)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LanguageServer]:
    folder = tmp_path_factory.mktemp("editor")
    dunlin = load_edition(str(ROOT / "rulepacks/dunlin/2026.1.yaml"))
    (folder / "car.json").write_text(as_text(declaration_schema(dunlin)), "utf-8")
    (folder / "pack.json").write_text(as_text(pack_schema()), "utf-8")
    with language_server(folder) as started:
        yield started


def beside(path: Path, schema: str) -> str:
    """A file of the repository as if it stood beside the schemas."""
    first, _, rest = path.read_text("utf-8").partition("\n")
    assert "$schema=" in first
    return f"# yaml-language-server: $schema={schema}\n{rest}"


@pytest.mark.parametrize("name", ["legal", "light-at-the-flag", "hidden-alloy", "pads-that-disagree"])
def test_nothing_is_underlined_in_a_sample(server: LanguageServer, name: str) -> None:
    assert server.diagnostics("car.yaml", beside(ROOT / f"samples/cars/{name}.yaml", "car.json")) == []


@pytest.mark.parametrize("name", ["2025.1", "2026.1", "2026-B1", "approvals", "2026.1.cases"])
def test_nothing_is_underlined_in_a_pack(server: LanguageServer, name: str) -> None:
    assert server.diagnostics("pack.yaml", beside(ROOT / f"rulepacks/dunlin/{name}.yaml", "pack.json")) == []


VOLUME = "6: Write a volume as a number and its unit: L, ml, cc, cm3, mm3, m3, in3, gal_US, gal_imp."


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("engine:\n  capacity: 1428 kg\n", [VOLUME]),
        ("engine:\n  capacity: 1428\n", [VOLUME]),
        ("cage:\n  certified: 2026-02-30\n", ["6: Write a day of the calendar, such as 2026-03-01."]),
        ("colour: red\n", ["5: Property colour is not allowed."]),
        ("weighing:\n  driver: Out\n", []),
        ("components:\n  - {name: a, category: Chassis/Frame}\n", []),
        ("engine:\nballast:\ncomponents:\n", []),
    ],
)
def test_what_is_told_of_a_declaration(server: LanguageServer, more: str, told: list[str]) -> None:
    assert server.diagnostics("car.yaml", CAR + more) == told


def test_a_misspelt_kind_of_check_is_told_its_name(server: LanguageServer) -> None:
    assert "9: Did you mean 'limit'?" in server.diagnostics(
        "pack.yaml", f"{PACK}limits: a.b\n      at_most: 5 mm\n"
    )


def test_no_message_names_the_whole_schema(server: LanguageServer) -> None:
    told = server.diagnostics("car.yaml", f"{CAR}engine: 5\nballast: 5\n")
    assert len(told) == 2
    assert not any("Dunlin" in one or "eclaration" in one for one in told)


def test_hover_tells_what_a_fact_is_and_how_it_is_measured(server: LanguageServer) -> None:
    told = server.hover("car.yaml", f"{CAR}engine:\n  capacity: 1428 cc\n", "capacity")
    assert told.startswith("Swept volume of all cylinders. Taken: engine cold. Measured with: burette.")
    assert "The tank" in server.hover("car.yaml", f"{CAR}fuel:\n  capacity: 20 L\n", "fuel")


def test_a_completion_that_is_accepted_is_accepted(server: LanguageServer) -> None:
    offered = server.completions("car.yaml", f"{CAR}battery:\n  |\nrecord:\n  breaches: 1\n")
    assert {"secured", "place", "sealed"} <= set(offered)
    assert "aboard" in server.completions("car.yaml", f"{CAR}weighing:\n  driver: |\n")


def test_under_check_every_kind_is_offered_with_a_snippet(server: LanguageServer) -> None:
    offered = server.completions("pack.yaml", f"{PACK}|\n")
    assert set(all_kinds()) <= set(offered)
    assert offered["limit"] == "limit: frame.mass\nat_least: 620 kg"
    assert "- holds: net.fitted" in offered["at_least_of"]
