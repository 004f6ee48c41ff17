"""The schemas in another program's validator: ajv, in its strictest mode, with the two words that editors add."""

from __future__ import annotations

import json
import shutil
import subprocess
from typing import Any

import pytest

from checker.pack.editions.loading import load_edition
from checker.pack.editors.pack_schema import declaration_schema, pack_schema
from checker.report.schemas import schema
from tests.clients.language_server import NODE_PATH, node_package
from tests.conftest import ROOT
from tests.pack.editors.test_pack_schema import PACK_FILES, SAMPLES, read
from tests.report.documents import NAMES, document_of, sample

pytestmark = [
    pytest.mark.client,
    pytest.mark.usefixtures("at_root"),
    pytest.mark.skipif(
        shutil.which("node") is None or not (node_package("ajv") and node_package("ajv-formats")),
        reason="ajv and ajv-formats are not found on NODE_PATH",
    ),
]

SCRIPT = """
const path = require("path"), from = (name) => require(path.join(process.argv[1], name));
const Ajv = from("ajv/dist/2020").default;
const asked = JSON.parse(require("fs").readFileSync(0));
const ajv = new Ajv({strict: true, allErrors: true, allowUnionTypes: asked.unions});
from("ajv-formats").default(ajv);
ajv.addVocabulary(["errorMessage", "defaultSnippets"]);
for (const one of asked.beside) ajv.addSchema(one);
const valid = ajv.compile(asked.schema);
console.log(JSON.stringify(asked.data.map((one) => valid(one) ? [] : valid.errors)));
"""


def found_by_ajv(schema: dict[str, Any], *data: Any, beside: tuple[Any, ...] = ()) -> list[Any]:
    """What ajv says against each of these; it fails if the schema itself is not as its strict mode wants it."""
    asked = json.dumps({"schema": schema, "data": data, "beside": beside, "unions": bool(beside)})
    command = ("node", "-e", SCRIPT, str(NODE_PATH))
    done = subprocess.run(command, input=asked, capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    answer: list[Any] = json.loads(done.stdout)
    return answer


def test_every_file_of_a_pack_is_accepted() -> None:
    assert found_by_ajv(pack_schema(), *map(read, PACK_FILES)) == [[]] * len(PACK_FILES)


def test_every_sample_is_accepted_and_what_is_wrong_is_not() -> None:
    declaration = declaration_schema(load_edition(str(ROOT / "rulepacks/dunlin/2026.1.yaml")))
    wrong = {"formula": "dunlin", "car": {"number": "27"}, "engine": {"capacity": "1428 kg"}}
    *found, last = found_by_ajv(declaration, *map(read, SAMPLES), wrong)
    assert found == [[]] * len(SAMPLES)
    assert last


@pytest.mark.parametrize("name", NAMES)
def test_the_schema_of_each_document_compiles(name: str) -> None:
    beside = tuple(schema(one) for one in NAMES if one != name)
    data = (document_of(sample("legal")),) if name == "inspection" else ()
    assert found_by_ajv(schema(name), *data, beside=beside) == [[]] * len(data)
