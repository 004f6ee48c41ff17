"""Tiny packs and cars for tests: one check, judged on one small car, through the same readers as any other."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from typing import Any

from checker.car.declaration.loading import load_car
from checker.kinds.judging.assessment import Assessment
from checker.pack.editions.loading import build_pack
from checker.pack.model import Pack
from checker.reading.problems import InputError, Problem
from checker.reading.strict_yaml import parse_document
from checker.report.words.amounts import margin_words
from checker.verdict.inspection import Inspection, inspect_car

HEAD = 'pack: example, edition: "1", title: Example, in_force: {from: 2026-01-01}, currency: GBP'
DAY = "2026-05-03"


def pack_text(check: str, facts: str = "{}", more: str = "{}", clause: str = "") -> str:
    """A pack of one clause, "1", as one YAML flow mapping.

    Args:
        check: The clause's check.
        facts: The pack's facts.
        more: Other sections of the pack.
        clause: Other keys of the clause, e.g. "severity: advisory".
    """
    sections = [HEAD, f"facts: {facts}", more.strip()[1:-1].strip()]
    keys = [f"check: {check}", clause]
    clauses = ", ".join(key for key in keys if key)
    sections.append(f'clauses: {{"1": {{{clauses}}}}}')
    return "{" + ", ".join(section for section in sections if section) + "}"


def pack_of(check: str, facts: str = "{}", more: str = "{}", clause: str = "") -> Pack:
    """The pack of `pack_text`."""
    return read_pack(pack_text(check, facts, more, clause))


def read_pack(text: str) -> Pack:
    return build_pack(parse_document(text.encode(), "pack.yaml", "PK"))


def inspect(pack: Pack, car: Mapping[str, Any] | None = None, *, audience: str = "entrant") -> Inspection:
    """A car, given by its sections and lists, judged by a pack on the day of its event."""
    declared: dict[str, Any] = {"formula": pack.name, **(car or {})}
    declared["car"] = {"number": "1", **declared.get("car", {})}
    declared["event"] = {"date": DAY, **declared.get("event", {})}
    document = parse_document(json.dumps(declared).encode(), "car.yaml", "CD")
    loaded = load_car(document, pack.vocabulary, None, audience=audience)
    return inspect_car(pack, loaded, date.fromisoformat(declared["event"]["date"]), audience)


def judge(
    check: str,
    car: Mapping[str, Any] | None = None,
    facts: str = "{}",
    more: str = "{}",
    *,
    audience: str = "entrant",
) -> Assessment:
    """One check on one car."""
    inspection = inspect(pack_of(check, facts, more), car, audience=audience)
    return inspection.outcomes[0].assessment


def shown(assessment: Assessment) -> tuple[str, str | None]:
    """Outcome and margin as a report shows them; None where there is no margin."""
    margin = assessment.margin
    return assessment.outcome, None if margin is None else margin_words(margin)


def problems_in(text: str) -> tuple[Problem, ...]:
    """Everything that reading a pack finds; () for a clean one."""
    try:
        return read_pack(text).warnings
    except InputError as error:
        return error.problems


def problems(check: str, facts: str = "{}", more: str = "{}", clause: str = "") -> tuple[Problem, ...]:
    """Everything that reading a pack of one check finds."""
    return problems_in(pack_text(check, facts, more, clause))


def codes(check: str, facts: str = "{}", more: str = "{}", clause: str = "") -> list[str]:
    """The codes of these problems, in the order of the file."""
    return [problem.code for problem in problems(check, facts, more, clause)]
