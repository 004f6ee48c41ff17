"""Numbers that a text gives as those of clauses, and that no clause has."""

from __future__ import annotations

from pathlib import Path

from checker.pack.lint.everything import lint
from checker.pack.lint.numbers import named_in, numbers_without_clause
from tests.building import pack_of
from tests.examples import each_row
from tests.pack.folders import EDITION, bulletin, write


@each_row(
    ("text", "named"),
    [
        ("As clause 3.1 says.", ["3.1"]),
        ("See 4.4.", ["4.4"]),
        ("Clauses 3.1, 3.2 and 7", ["3.1", "3.2", "7"]),
        ("Each priced as in 5.1, or under rule A.3.", ["5.1", "A.3"]),
        ("See clause 4.4.2 (b).", ["4.4.2"]),
        ("\N{SECTION SIGN} 12", ["12"]),
        ("See 3.5 mm in the drawing.", []),
        ("See 3 of them, as in 2026.", []),
        ("At most 8.5 inches, see the drawing.", []),
        ("Rule 44 of the sporting code, clause 3 or 4 of the handbook.", []),
        ("Clause 44 of these regulations.", ["44"]),
        ("Subclause 4", []),
    ],
)
def test_what_a_text_calls_a_clause(text: str, named: list[str]) -> None:
    found = list(named_in(text))
    assert [number for _, number in found] == named
    assert all(text[start:].startswith(number) for start, number in found)


def told(text: str) -> list[str]:
    pack = pack_of(
        f'"3.1": {{title: A, text: "{text}", check: {{holds: a.b}}}}\n"7.10": {{title: B, check: {{holds: a.b}}}}',
        "facts: {a.b: {type: truth}}",
    )
    return [f"{p.span.column if p.span else 0} {p.message}" for p in numbers_without_clause(pack)]


def test_a_number_that_no_clause_has_is_told_where_it_stands() -> None:
    assert told("See clauses 3.1, 7 and 7.10.") == []
    column = len('  "3.1": {title: A, text: "See ') + 1
    assert told("See 7.1.") == [f"{column} there is no clause 7.1"]


def test_a_clause_that_a_bulletin_withdraws_is_no_longer_there(tmp_path: Path) -> None:
    text = EDITION.replace(
        "The frame is at most 1400 mm wide.", "At most 1400 mm wide; for its length see clause 2."
    )
    write(tmp_path, {"edition.yaml": text})
    assert [p for p in lint(tmp_path) if p.code == "PK606"] == []
    write(tmp_path, {"b.yaml": bulletin('{withdraw: "2"}')})
    assert [p.message for p in lint(tmp_path) if p.code == "PK606"] == ["there is no clause 2"]
