"""Small packs and cars, built from a few lines of YAML, for tests of everything above them."""

from __future__ import annotations

from datetime import date
from textwrap import dedent, indent

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.pack.editions.loading import build_pack
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.strict_yaml import parse_document
from checker.verdict.inspection import Inspection, Outcome, inspect_car

HEAD = """\
pack: test
edition: "1"
title: Test formula
in_force: {from: 2020-01-01}
course: anticlockwise
currency: GBP
"""

DAY = date(2026, 5, 3)


def pack_document(clauses: str, more: str = "") -> Document:
    """The text of a pack with these clauses (as under `clauses:`) and other sections."""
    text = f"{HEAD}{dedent(more).strip()}\nclauses:\n{indent(dedent(clauses).strip(), '  ')}\n"
    return parse_document(text.encode(), "pack.yaml", "PK")


def pack_of(clauses: str, more: str = "") -> Pack:
    """A pack with these clauses, e.g. `"1": {title: T, check: {holds: body.sound}}`, and other sections."""
    return build_pack(pack_document(clauses, more))


def pack_of_check(check: str, more: str = "") -> Pack:
    """A pack with one clause "1" that has this check (flow YAML)."""
    return pack_of(f'"1": {{title: T, text: Words, check: {check}}}', more)


def car_document(sections: str = "", day: date = DAY) -> Document:
    """A declaration with these sections; a section `car` is given whole."""
    sections = dedent(sections).strip()
    car = "" if sections.startswith("car:") else 'car: {number: "7"}\n'
    text = f"formula: test\nevent: {{date: {day.isoformat()}}}\n{car}{sections}\n"
    return parse_document(text.encode(), "car.yaml", "CD")


def car_of(
    pack: Pack, sections: str = "", day: date = DAY, readings: str = "", audience: str = "entrant"
) -> Car:
    """A car declared with these sections, e.g. `body: {sound: true}`, and read with a pack's words."""
    official = None
    if readings:
        official = parse_document(
            f"formula: test\n{dedent(readings).strip()}\n".encode(), "readings.yaml", "RD"
        )
    return load_car(car_document(sections, day), pack.vocabulary, official, audience=audience)


def inspection_of(
    pack: Pack, sections: str = "", day: date = DAY, readings: str = "", audience: str = "entrant"
) -> Inspection:
    """A car with these sections judged by the pack."""
    return inspect_car(pack, car_of(pack, sections, day, readings, audience), day, audience)


def outcome_of(pack: Pack, sections: str = "", clause: str = "1", day: date = DAY, **more: str) -> Outcome:
    """What becomes of one clause."""
    judged = inspection_of(pack, sections, day, **more)
    return next(outcome for outcome in judged.outcomes if outcome.clause.number == clause)
