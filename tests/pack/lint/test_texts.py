"""A text that says another number than the check is told; a text that says more than a check needs is not."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.editions.loading import load_edition
from checker.pack.lint.amounts import amounts_in
from checker.pack.lint.everything import lint
from checker.pack.lint.texts import text_contradictions
from tests.building import pack_of
from tests.examples import each_row
from tests.pack.folders import EDITION, bulletin, write

FACTS = """
facts:
  frame.width: {unit: mm, taken: at 20 degC}
  frame.mass: {unit: kg}
  engine.capacity: {unit: cc}
  seat.made: {type: date}
  fuel.sampled: {unit: degC}
  air.shade: {unit: degC}
  noise.level: {unit: dBA}
  battery.voltage: {unit: V}
  frame.share: {unit: "%"}
  frame.standard_mass: {unit: kg}
lists:
  parts: {fields: {price: {unit: GBP}, counted: {formula: price + 5 GBP, unit: GBP}}}
derived:
  doubled: {formula: 2 * frame.mass + 7 kg, unit: kg}
tables:
  longest: {by: [capacity], rows: [{capacity: up to 100 cc, value: 1800 mm}, {capacity: above 100 cc, value: 1900 mm}]}
"""


FUEL = "{limit: fuel.sampled, at_least: 'max(air.shade - 10 K, 5 degC)'}"


def told(text: str, check: str) -> list[str]:
    pack = pack_of(f'"1": {{title: T, text: "{text}", check: {check}}}', FACTS)
    return [p.message for p in text_contradictions(pack)]


WIDTH = "{limit: frame.width, at_most: 1400 mm}"


@each_row(
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
        ("At most 1400 mm (55.1 in).", WIDTH),
        ("At most 1400 mm (about 55 inches) wide.", WIDTH),
        ("At most 1400 mm / 4.6 ft.", WIDTH),
        ("At most 1400 mm (55 1/8 in).", WIDTH),
        ("At most 98 dB(A).", "{limit: noise.level, at_most: 98 dBA}"),
        ("", WIDTH),
        ("At most 48 V.", "{limit: battery.voltage, at_most: 48 V}"),
        ("3 in each of 4 plates.", WIDTH),
        ("At most 10 % above the standard.", "{limit: frame.share, at_most: 110 %}"),
        ("It may exceed the standard by 10 %.", "{limit: frame.share, at_most: 110 %}"),
        ("Not more than 10 % below it.", "{limit: frame.share, at_least: 90 %}"),
        ("At most 10 % more.", "{limit: frame.mass, at_most: 1.1 * (90 % * frame.standard_mass)}"),
        ("At most 1400 mm, in steps of 5 mm.", WIDTH),
        ("At most 1400 mm, rounded up to the next 1 mm.", WIDTH),
        (
            "At least 7 kg and 2 kg for each 100 cc.",
            "{limit: frame.mass, at_least: 0.02 kg/cc * engine.capacity + 7 kg}",
        ),
        (
            "At least 7 kg and 2 kg for every further 100 cc.",
            "{limit: frame.mass, at_least: 0.02 kg/cc * engine.capacity + 7 kg}",
        ),
        ("Not more than 10 degC below ambient, nor under 5 degC.", FUEL),
        ("Not more than 18 degF below ambient, nor under 41 °F.", FUEL),
        ("Within 10 °C of ambient.", FUEL),
        ("It differs from ambient by at most 10 degC.", FUEL),
        ("7 kg and 0.02 kg per cc.", "{limit: frame.mass, at_least: 0.02 kg/cc * engine.capacity + 7 kg}"),
    ],
)
def test_a_text_that_agrees_is_not_told(text: str, check: str) -> None:
    assert told(text, check) == []


@each_row(
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
        ("At most 60 V.", "{limit: battery.voltage, at_most: 48 V}", "the text says 60 V, which"),
        ("At most 1.5 m wide.", WIDTH, "the text says 1.5 m, which"),
        ("At most 1400 mm (54 in).", WIDTH, "the text says 54 in, which"),
        ("At most 1400 mm (55.3 in).", WIDTH, "the text says 55.3 in, which"),
        ("At most 1400 mm (1410 mm).", WIDTH, "the text says 1410 mm, which"),
        ("At most 54 in wide.", WIDTH, "the text says 54 in, which"),
        ("At most 9 kilograms.", "{limit: frame.mass, at_most: 8 kg}", "the text says 9 kilograms, which"),
        ("At most 12 % above.", "{limit: frame.share, at_most: 110 %}", "the text says 12 %, which"),
        ("At most 10 %.", "{limit: frame.share, at_most: 110 %}", "the text says 10 %, which"),
        (
            "Rounded to the next 2 mm.",
            "{limit: frame.width, at_most: 1400 mm, rounded: {to: 1 mm, mode: up}}",
            "the text says 2 mm, which",
        ),
        (
            "At least 7 kg and 3 kg for each 100 cc.",
            "{limit: frame.mass, at_least: 0.02 kg/cc * engine.capacity + 7 kg}",
            "the text says 3 kg, which",
        ),
        (
            "Not more than 15 degC below ambient.",
            FUEL,
            "the text says 15 degC, which the check does not: it has 10 K",
        ),
        ("Not under 10 degC.", FUEL, "the text says 10 degC, which the check does not: it has 5 degC"),
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
    write(
        tmp_path,
        {
            "edition.yaml": EDITION,
            "b.yaml": bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}'),
        },
    )
    [problem] = [p for p in lint(tmp_path) if p.code == "PK509"]
    assert "the text says 1400 mm, which the check does not: it has 1380 mm" in problem.message


KEPT = "\n    earlier: [{before: 2020-01-01, check: {limit: frame.width, at_most: 1400 mm}}]"
THREE = '\n  "11":\n    title: Three\n    text: At most three, which is 3 of them.\n    check: {limit: count(ballast), at_most: 3}'
TEXT = "for: The frame is at most 1400 mm wide."


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ('{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}', ["1400 mm"]),
        (
            f'{{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}}\n{{change: "1", at: text, {TEXT}, read: 1380 mm; 1400 mm before 2020.}}',
            [],
        ),
        ('{change: "11", at: check.at_most, for: 3, read: 4}', ["three", "3"]),
        ('{change: "11", at: title, for: Three, read: Four}', []),
        ('{change: tables.longest, at: "rows[0].value", for: 1800 mm, read: 1850 mm}', []),
        ('{change: "10", at: check.at_most, for: 125 cc, read: 130 cc}', []),
    ],
)  # fmt: skip
def test_a_number_that_a_bulletin_changed_and_the_text_still_says_is_told(
    tmp_path: Path, changes: str, says: list[str]
) -> None:
    """Also where the number still stands in the rules, for older cars."""
    check = "check: {limit: frame.width, at_most: 1400 mm}"
    edition = EDITION.replace(check, check + KEPT).rstrip() + THREE + "\n"
    write(tmp_path, {"edition.yaml": edition, "b.yaml": bulletin(changes)})
    found = [p for p in lint(tmp_path) if p.code == "PK509"]
    assert [p.message for p in found] == [
        f"the text still says {one}, which bulletin B1 changed" for one in says
    ]


def test_it_is_told_once(tmp_path: Path) -> None:
    change = '{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}'
    write(tmp_path, {"edition.yaml": EDITION, "b.yaml": bulletin(change)})
    assert len([p for p in lint(tmp_path) if p.code == "PK509"]) == 1


@pytest.mark.parametrize("day", ["2026-05-03", "2026-07-05", "2026-08-02"])
def test_the_sample_rulebook_says_what_it_checks(day: str) -> None:
    pack = load_pack(open_folder("rulepacks/dunlin"), date.fromisoformat(day))
    assert text_contradictions(pack) == ()
    assert sum(len(list(amounts_in(c.text, "GBP"))) for c in pack.clauses.values()) >= 60


def test_the_edition_before_says_what_it_checks() -> None:
    assert text_contradictions(load_edition("rulepacks/dunlin/2025.1.yaml")) == ()
