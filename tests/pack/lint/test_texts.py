"""A text that says another number than the check is told; a text that says more than a check needs is not."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.editions.loading import load_edition
from checker.pack.lint.everything import lint
from checker.pack.lint.texts import amounts_in, text_contradictions
from tests.building import pack_of
from tests.pack.folders import bulletin, write

FACTS = """
facts:
  frame.width: {unit: mm, taken: at 20 degC}
  frame.mass: {unit: kg}
  engine.capacity: {unit: cc}
  seat.made: {type: date}
  noise.level: {unit: dBA}
lists:
  parts: {fields: {price: {unit: GBP}, counted: {formula: price + 5 GBP, unit: GBP}}}
derived:
  doubled: {formula: 2 * frame.mass + 7 kg, unit: kg}
tables:
  longest: {by: [capacity], rows: [{capacity: up to 100 cc, value: 1800 mm}, {capacity: above 100 cc, value: 1900 mm}]}
"""


def told(text: str, check: str) -> list[str]:
    pack = pack_of(f'"1": {{title: T, text: "{text}", check: {check}}}', FACTS)
    return [p.message for p in text_contradictions(pack)]


WIDTH = "{limit: frame.width, at_most: 1400 mm}"


@pytest.mark.parametrize(
    ("text", "check"),
    [
        ("At most 1400 mm wide.", WIDTH),
        ("At most 140 cm wide.", WIDTH),
        ("At most 1400 millimetres wide.", WIDTH),
        ("At most 1.4 metres wide.", WIDTH),
        ("At most one metre and a bit, for a frame of 25 kg.", WIDTH),
        ("At most 1400 mm, at 20 °C.", WIDTH),
        ("The 12 bolts, 3 in each of 4 plates.", WIDTH),
        ("10 to 20 kg.", "{limit: frame.mass, at_least: 10 kg, at_most: 20 kg}"),
        (
            "10 kg or 20 kg.",
            "{any_of: [{limit: frame.mass, exactly: 10 kg}, {limit: frame.mass, exactly: 20 kg}]}",
        ),
        ("Up to 100 cc 1800 mm, above 1900 mm.", "{limit: frame.width, at_most: longest(engine.capacity)}"),
        ("Twice its mass and 7 kg are at most 90 kg.", "{limit: doubled, at_most: 90 kg}"),
        ("With 5 GBP at most 50 GBP.", "{each: parts, limit: counted, at_most: 50 GBP}"),
        ("Ten years.", "{valid: seat.made + 10 years}"),
        ("24 months, which is two years.", "{valid: seat.made + 24 months}"),
        ("At most 98 dB(A).", "{limit: noise.level, at_most: 98 dBA}"),
        ("", WIDTH),
    ],
)
def test_a_text_that_agrees_is_not_told(text: str, check: str) -> None:
    assert told(text, check) == []


@pytest.mark.parametrize(
    ("text", "check", "message"),
    [
        ("At most 1420 mm.", WIDTH, "the text says 1420 mm, which the check does not: it has 1400 mm"),
        ("At most 55 inches.", WIDTH, "the text says 55 inches, which the check does not: it has 1400 mm"),
        (
            "10 to 20 kg.",
            "{limit: frame.mass, at_least: 12 kg, at_most: 20 kg}",
            "the text says 10 kg, which",
        ),
        (
            "Above 1950 mm.",
            "{limit: frame.width, at_most: longest(engine.capacity)}",
            "it has 1800 mm, 1900 mm",
        ),
        ("Five years.", "{valid: seat.made + 10 years}", "the text says Five years, which"),
        ("At most 95 dB(A).", "{limit: noise.level, at_most: 98 dBA}", "the text says 95 dB(A), which"),
    ],
)
def test_a_text_with_another_number_is_told(text: str, check: str, message: str) -> None:
    [said] = told(text, check)
    assert message in said


def test_the_place_is_that_of_the_amount() -> None:
    pack = pack_of(
        '"1": {title: T, text: Some 1420 mm here., check: {limit: frame.width, at_most: 1400 mm}}', FACTS
    )
    [problem] = text_contradictions(pack)
    assert problem.span is not None
    assert problem.span.source_line[problem.span.column - 1 : problem.span.end_column - 1] == "1420 mm"
    assert (problem.code, problem.warning, problem.clause) == ("PK509", True, "1")


def test_an_older_check_has_its_numbers_too() -> None:
    clause = f"""
        "1":
          text: At most 1400 mm, before 2025 1450 mm.
          check: {WIDTH}
          earlier: [{{before: 2025-01-01, check: {{limit: frame.width, at_most: 1450 mm}}}}]
        """
    assert text_contradictions(pack_of(clause, FACTS)) == ()


def test_amounts_are_read_with_their_places() -> None:
    found = list(amounts_in("44 mm by 2.6 mm, 48 to 52 % and 1 1/2 inch", None))
    assert [a.text for a in found] == ["44 mm", "2.6 mm", "48 %", "52 %", "1 1/2 inch"]
    assert [("44 mm by 2.6 mm, 48 to 52 % and 1 1/2 inch")[a.start : a.end] for a in found][2] == "48"


def test_a_bulletin_that_changes_only_the_check_is_told(tmp_path: Path) -> None:
    from tests.pack.folders import EDITION

    write(
        tmp_path,
        {
            "edition.yaml": EDITION,
            "b.yaml": bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}'),
        },
    )
    [problem] = [p for p in lint(tmp_path) if p.code == "PK509"]
    assert "the text says 1400 mm, which the check does not: it has 1380 mm" in problem.message


@pytest.mark.parametrize("day", ["2026-05-03", "2026-07-05", "2026-08-02"])
def test_the_sample_rulebook_says_what_it_checks(day: str) -> None:
    pack = load_pack(open_folder("rulepacks/dunlin"), date.fromisoformat(day))
    assert text_contradictions(pack) == ()
    assert sum(len(list(amounts_in(c.text, "GBP"))) for c in pack.clauses.values()) >= 60


def test_the_edition_before_says_what_it_checks() -> None:
    assert text_contradictions(load_edition("rulepacks/dunlin/2025.1.yaml")) == ()
