"""Documents of samples and small cars for the tests, each held to its published schema."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import jsonschema_rs

from checker.report.one_car.document import inspection_document
from checker.report.one_car.explanation import explanation_document
from checker.report.schemas import schema
from checker.verdict.inspection import Inspection
from checker.verdict.run import Request, inspect_request

NAMES = (
    "inspection",
    "explanation",
    "comparison",
    "cases",
    "affected",
    "affected_car",
    "sweep",
    "calendar",
    "since",
    "conditions",
    "plan",
    "reach",
    "weighing_comparison",
    "lint",
    "meeting",
    "slip",
    "verification",
    "record",
)

STORIES = (
    "legal",
    "light-at-the-flag",
    "creeping-inside",
    "ballast-by-another-name",
    "price-rise",
    "hidden-alloy",
    "misspelt-alloy",
    "belts-between-meetings",
    "built-2023",
    "built-2025",
    "pads-that-disagree",
)


@lru_cache
def validator(name: str) -> jsonschema_rs.Validator:
    """The validator of a kind of document, of a library that is quick enough for every document of the tests."""
    schemas = [schema(one) for one in NAMES]
    registry = jsonschema_rs.Registry([(one["$id"], one) for one in schemas])
    return jsonschema_rs.validator_for(schema(name), registry=registry)


def valid(document: dict[str, Any]) -> dict[str, Any]:
    """The document, after it has passed its schema."""
    validator(document["document"]).validate(document)
    return document


@lru_cache
def sample(name: str, **more: Any) -> Inspection:
    """A sample car, inspected; run in the root of the source tree."""
    return inspect_request(Request(f"samples/cars/{name}.yaml", **more))


def document_of(inspection: Inspection) -> dict[str, Any]:
    return valid(inspection_document(inspection))


def explained(inspection: Inspection, clause: str) -> dict[str, Any]:
    return valid(explanation_document(inspection, clause))


def clause_of(document: dict[str, Any], number: str) -> dict[str, Any]:
    """What an inspection's document says of one clause."""
    found: dict[str, Any] = next(o for o in document["outcomes"] if o["clause"] == number)
    return found


def not_met(document: dict[str, Any]) -> dict[str, str]:
    """Clauses that are neither met nor set aside, with their outcomes."""
    return {
        o["clause"]: o["outcome"]
        for o in document["outcomes"]
        if o["outcome"] not in ("pass", "not_applicable")
    }
