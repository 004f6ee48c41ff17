"""Bulletins laid over an edition, against a consolidation done by hand.

Source: none but the text below. The edition, the two bulletins and the consolidated text were written out by hand, as a
club's secretary would do it with scissors and paste; the program has to come to the same words.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.reading.document import Plain
from checker.reading.strict_yaml import parse_document

EDITION = """\
pack: skiff
edition: "4"
title: Skiff rules
in_force: {from: 2026-01-01}
facts: {hull.mass: {unit: kg}, hull.length: {unit: mm}, crew.count: {type: count}}
tables:
  lead:
    by: [crew]
    rows:
      - {crew: 1, value: 0 kg}
      - {crew: 2, value: 5 kg}
clauses:
  "1": {title: Mass, text: A hull weighs at least 90 kg., check: {limit: hull.mass, at_least: 90 kg}}
  "2": {title: Length, text: A hull is at most 4200 mm long., check: {limit: hull.length, at_most: 4200 mm}}
  "3": {title: Crew, text: Two sail., check: {limit: crew.count, exactly: 2}, consequence: Excluded}
"""
FIRST = """\
bulletin: "4-1"
amends: {pack: skiff, edition: "4"}
in_force: {from: 2026-04-01}
reason: Lighter timber
changes:
  - {change: "1", at: check.at_least, for: 90 kg, read: 86 kg}
  - {change: "1", at: text, for: A hull weighs at least 90 kg., read: A hull weighs at least 86 kg.}
  - {change: "3", at: consequence, for: Excluded}
  - {add: "2.1", read: {title: Shortest, text: And at least 3900 mm., check: {limit: hull.length, at_least: 3900 mm}}}
"""
SECOND = """\
bulletin: "4-2"
amends: {pack: skiff, edition: "4"}
in_force: {from: 2026-05-01, until: 2026-08-31}
reason: The summer's heat
changes:
  - {change: "1", at: check.at_least, for: 86 kg, read: 85 kg}
  - {change: tables.lead, at: "rows[1].value", for: 5 kg, read: 4 kg}
  - {withdraw: "3"}
"""

IN_MAY = """\
pack: skiff
edition: "4"
title: Skiff rules
in_force: {from: 2026-01-01}
facts: {hull.mass: {unit: kg}, hull.length: {unit: mm}, crew.count: {type: count}}
tables:
  lead:
    by: [crew]
    rows:
      - {crew: 1, value: 0 kg}
      - {crew: 2, value: 4 kg}
clauses:
  "1": {title: Mass, text: A hull weighs at least 86 kg., check: {limit: hull.mass, at_least: 85 kg}}
  "2": {title: Length, text: A hull is at most 4200 mm long., check: {limit: hull.length, at_most: 4200 mm}}
  "2.1": {title: Shortest, text: And at least 3900 mm., check: {limit: hull.length, at_least: 3900 mm}}
"""
IN_APRIL_AND_SEPTEMBER = """\
pack: skiff
edition: "4"
title: Skiff rules
in_force: {from: 2026-01-01}
facts: {hull.mass: {unit: kg}, hull.length: {unit: mm}, crew.count: {type: count}}
tables:
  lead:
    by: [crew]
    rows:
      - {crew: 1, value: 0 kg}
      - {crew: 2, value: 5 kg}
clauses:
  "1": {title: Mass, text: A hull weighs at least 86 kg., check: {limit: hull.mass, at_least: 86 kg}}
  "2": {title: Length, text: A hull is at most 4200 mm long., check: {limit: hull.length, at_most: 4200 mm}}
  "2.1": {title: Shortest, text: And at least 3900 mm., check: {limit: hull.length, at_least: 3900 mm}}
  "3": {title: Crew, text: Two sail., check: {limit: crew.count, exactly: 2}}
"""


def in_force(folder: Path, on: date) -> Plain:
    for name, text in (("edition", EDITION), ("first", FIRST), ("second", SECOND)):
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return load_pack(open_folder(folder), on).document.data


def by_hand(text: str) -> Plain:
    return parse_document(text.encode(), "by hand", "PK").data


def test_the_text_of_a_day_is_the_one_pasted_together_by_hand(tmp_path: Path) -> None:
    assert in_force(tmp_path, date(2026, 3, 31)) == by_hand(EDITION)
    assert in_force(tmp_path, date(2026, 4, 1)) == by_hand(IN_APRIL_AND_SEPTEMBER)
    assert in_force(tmp_path, date(2026, 5, 1)) == by_hand(IN_MAY)
    assert in_force(tmp_path, date(2026, 8, 31)) == by_hand(IN_MAY)
    assert in_force(tmp_path, date(2026, 9, 1)) == by_hand(IN_APRIL_AND_SEPTEMBER)


def test_clauses_stand_in_the_order_of_the_hand_made_text(tmp_path: Path) -> None:
    made, wanted = in_force(tmp_path, date(2026, 5, 1)), by_hand(IN_MAY)
    assert isinstance(made, dict)
    assert isinstance(wanted, dict)
    assert list(made["clauses"]) == list(wanted["clauses"])  # type: ignore[arg-type]
