"""Whole packs, each with one car and cases that say what becomes of its clauses.

A pack stands in a folder of its own: editions, bulletins, a register, `car.yaml` and `cases.yaml`. A case starts from
that car, or from an empty declaration, and changes only what it names. What is expected was worked out by hand from
the rules' wording, never copied from a report; margins are exact, in the unit that the report shows.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from checker.kinds.judging.assessment import Amount, Assessment, every
from checker.pack.editions.finding import open_folder
from checker.pack.keeping.kept import pack_on
from checker.reading.document import REMOVE, Document, Edit
from checker.reading.paths import parse_path
from checker.reading.strict_yaml import parse_document, read_document
from checker.report.words.acts import act_words
from checker.report.words.findings import found_words, penalty_words
from checker.verdict.inspection import Inspection, Outcome
from checker.verdict.run import dated, inspect_document

PACKS = Path(__file__).parent / "packs"


@dataclass(frozen=True, slots=True)
class Case:
    """One car and what is expected of it."""

    pack: str
    name: str
    given: Mapping[str, Any]

    @property
    def on(self) -> date:
        day = self.given.get("on") or _car(self.pack).get(("event", "date"))
        return date.fromisoformat(str(day))

    def document(self) -> Document:
        """The declaration with the case's changes made."""
        start = _car(self.pack)
        if self.given.get("from") == "nothing":
            empty = f"formula: {start.get(('formula',))}\ncar: {{number: '1'}}\n"
            start = parse_document(empty.encode(), "empty", "CD")
        changes = [Edit(parse_path(path), REMOVE) for path in self.given.get("remove", ())]
        changes += [Edit(parse_path(path), value) for path, value in self.given.get("set", {}).items()]
        return start.edited(changes, code="CD199") if changes else start

    def inspect(self) -> Inspection:
        """The case's car judged by the pack in force on its day."""
        readings = None
        if "readings" in self.given:
            text = str(self.given["readings"])
            readings = parse_document(text.encode(), "readings", "RD")
        pack = pack_on(open_folder(PACKS / self.pack), self.on)
        document = dated(self.document(), self.on)
        return inspect_document(pack, document, self.on, self.given.get("for", "entrant"), readings)


def cases() -> Iterator[Case]:
    """The cases of every pack."""
    for folder in sorted(PACKS.iterdir()):
        listed = read_document(str(folder / "cases.yaml"), "PK").data
        assert isinstance(listed, list)
        for given in listed:
            assert isinstance(given, dict)
            yield Case(folder.name, str(given["name"]), given)


@cache
def _car(pack: str) -> Document:
    return read_document(str(PACKS / pack / "car.yaml"), "CD")


def differences(inspection: Inspection, expected: Mapping[str, Any]) -> list[str]:
    """In words, where the outcomes are not as expected; [] where all are."""
    by_number = {outcome.clause.number: outcome for outcome in inspection.outcomes}
    found: list[str] = []
    for number, wanted in expected.items():
        found += (f"{number}: {told}" for told in _compare(by_number[number], wanted))
    return found


def _compare(outcome: Outcome, wanted: Any) -> Iterator[str]:
    """Each way in which a clause's outcome differs from what is wanted.

    `wanted` is "OUTCOME", "OUTCOME MARGIN" (a fraction and its unit, or "none"), or a mapping with `is` holding that
    and, as far as they matter, `condition`, `item`, `penalty`, `act`, `absent`, `failing`, `without` and `reference`.
    """
    more = dict(wanted) if isinstance(wanted, dict) else {"is": wanted}
    assessment = outcome.assessment
    word, _, margin = str(more.pop("is")).partition(" ")
    if assessment.outcome != word:
        yield f"{assessment.outcome} ({_why(assessment)}), not {word}"
    if margin and shown(assessment.margin) != _reduced(margin):
        yield f"margin {shown(assessment.margin)}, not {margin}"
    for key, value in more.items():
        got = _property(outcome, key)
        if got != value:
            yield f"{key} {got!r}, not {value!r}"


def _reduced(margin: str) -> str:
    """A margin as `shown` writes it: its fraction in lowest terms."""
    amount, _, unit = margin.partition(" ")
    return margin if amount == "none" else f"{Fraction(amount)} {unit}".strip()


def _property(outcome: Outcome, key: str) -> Any:
    assessment = outcome.assessment
    match key:
        case "condition":
            return assessment.condition
        case "item":
            return assessment.item
        case "penalty":
            return penalty_words(outcome.penalty)
        case "act":
            return act_words(assessment.act)
        case "absent":
            return sorted(assessment.unknown.absent)
        case "failing":
            return [a.item for a in every(assessment) if a.item and a.outcome == "fail" and not a.branches]
        case "without":
            return None if outcome.without is None else outcome.without.outcome
        case "reference":
            return outcome.reference
        case "value":
            return shown(assessment.value)
    raise ValueError(f"a case cannot expect '{key}'")


def _why(assessment: Assessment) -> str:
    return "; ".join(assessment.unknown.told()) or found_words(assessment.finding) or shown(assessment.margin)


def shown(amount: Amount | None) -> str:
    """An amount, exact, with the unit it is shown in: "-3/2 kg"."""
    if amount is None:
        return "none"
    if not isinstance(amount.value, Fraction | int):
        return str(amount.value)
    if amount.unit is None:
        return str(Fraction(amount.value))
    return f"{Fraction(amount.value) / amount.unit.factor} {amount.unit.name}"
