"""Every part of a file that is not as it should be is noted once, at its place, and reading goes on."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from checker.reading.file_reader import Codes, FileReader, Mistake
from tests.examples import each_row
from tests.reading.reading import read

TEXT = "words: {coluns: a, b: ' ', d: }\nlist: x\ncount: 0\nword: meen\ntruth: maybe\ndays: [1, 2026-13-01]\n"
CODES = Codes("XX", 900, {Mistake.WORD: 901, Mistake.TRUTH: 902})


@each_row(
    ("step", "found", "code", "message", "hint", "place"),
    [
        (lambda r: r.mapping("list"), {}, 900, "list holds the text 'x'; a mapping was wanted", "", "2:7"),
        (lambda r: r.listed("list"), [], 900, "list holds the text 'x'; a list was wanted", "begin it with a dash, or put it in [ ]", "2:7"),
        (lambda r: r.listed("count", hint="[1]"), [], 900, "count holds the number 0; a list was wanted", "[1]", "3:8"),
        (lambda r: r.text("words", "b", needed=True), "", 900, "words.b holds the text ' '; text was wanted", "put it in quotes", "1:23"),
        (lambda r: r.text("absent", needed=True), "", 900, "absent holds nothing; text was wanted", "put it in quotes", "1:1"),
        (lambda r: r.text("words"), "", 900, "words holds a mapping; text was wanted", "put it in quotes", "1:8"),
        (lambda r: r.texts("days")[1:], ("2026-13-01",), 900, "days[0] holds the number 1; text was wanted", "put it in quotes", "6:8"),
        (lambda r: r.count(1, "count"), 1, 900, "`count` needs a whole number of 1 or more; here stands the number 0", "", "3:8"),
        (lambda r: r.word(("mean", "last"), "word"), "mean", 901, "`word` is mean or last; here stands the text 'meen'", "Did you mean 'mean'?", "4:7"),
        (lambda r: r.truth("truth"), False, 902, "`truth` is true or false; here stands the text 'maybe'", "", "5:8"),
        (lambda r: r.parsed(int, 907, "a number", "list"), None, 907, "list: invalid literal for int() with base 10: 'x'", "", "2:7"),
        (lambda r: r.parsed(int, 907, "a number", "days", 0), None, 907, "days[0]: a number was wanted; here stands the number 1", "", "6:8"),
        (lambda r: r.known_keys(("columns", "b", "d"), "words", what="a word"), False, 900, "'coluns' is not a key of a word", "Did you mean 'columns'?", "1:9"),
        (lambda r: r.known_keys(("coluns", "b", "d"), "words", what="a word", filled=True), False, 900, "nothing is written for words.d", "", "1:28"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_noted_and_something_sound_given(
    step: Callable[[FileReader], Any], found: object, code: int, message: str, hint: str, place: str
) -> None:
    reader = FileReader(read(TEXT), CODES)
    assert step(reader) == found
    (problem,) = reader.problems.found
    assert problem.span is not None
    assert (problem.code, problem.message, problem.hint) == (f"XX{code}", message, hint)
    assert f"{problem.span.line}:{problem.span.column}" == place


def test_what_is_absent_is_no_mistake_unless_it_is_needed() -> None:
    reader = FileReader(read(TEXT), CODES)
    assert (reader.mapping("no"), reader.listed("no"), reader.text("no"), reader.texts("no")) == (
        {},
        [],
        "",
        (),
    )
    assert (reader.count(2, "no"), reader.truth("no"), reader.parsed(int, 907, "a number", "no")) == (
        2,
        False,
        None,
    )
    assert (reader.word(("a", "b"), "no"), reader.word(("a", "b"), "no", default="b")) == ("a", "b")
    assert not reader.problems.found
    assert reader.mapping("no", needed=True) == {}
    assert len(reader.problems.found) == 1


def test_a_problem_names_the_clause_that_is_read() -> None:
    reader = FileReader(read(TEXT), CODES, clause="3.1")
    reader.problem(905, "this", "list")
    reader.key_problem(Mistake.UNIT, "that", "list")
    assert [(p.code, p.clause) for p in reader.problems.found] == [("XX905", "3.1"), ("XX900", "3.1")]
