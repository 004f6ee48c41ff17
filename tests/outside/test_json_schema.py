"""The JSON Schemas that we emit against the meta-schema of draft 2020-12, by two independent implementations."""

from __future__ import annotations

import json
from typing import Any

import jsonschema_rs
import pytest
from jsonschema import Draft202012Validator

from tests.examples import quick_first
from tests.pack.editors.test_pack_schema import DECLARATION, PACK


@pytest.mark.parametrize("schema", quick_first([PACK, DECLARATION], 1), ids=["pack", "declaration"])
def test_the_schemas_are_valid_themselves(schema: dict[str, Any]) -> None:
    Draft202012Validator.check_schema(schema)
    assert jsonschema_rs.meta.is_valid(schema)
    assert json.loads(json.dumps(schema)) == schema
