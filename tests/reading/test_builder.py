"""Keys, tags, numbers and bounds: what is refused, and where.

Ids such as ZCZ6 name the case of the yaml-test-suite that asks the same question; they are recalled from
memory, and the texts are our own.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.examples import each_row
from tests.reading.reading import places, problems, read

REFUSED = [
    ("twice", "a: 1\nb: 2\na: 3\n", ["XX113 3:1"]),
    ("three times", "{a: 1, a: 2, 'a': 3}", ["XX113 1:8", "XX113 1:14"]),
    ("twice, deep", "x:\n  - {b: 1, c: 2, b: 3}\n", ["XX113 2:18"]),
    ("33X3 !!int", "- !!int 1\n- !!int -2\n", ["XX114 1:3", "XX114 2:3"]),
    ("!!str", "a: !!str 3.1\n", ["XX114 1:4"]),
    ("non-specific", "a: ! 3\n! b: 4\n", ["XX114 1:4", "XX114 2:1"]),
    ("local", "a: !mine {b: 1}\n", ["XX114 1:4"]),
    ("verbatim", "a: !<tag:example.org,2026:x> b\n", ["XX114 1:4"]),
    ("on a list", "a: !!seq\n  - 1\n", ["XX114 1:4"]),
    ("9KAX after an anchor", "a: &x !!str b\nc: !!str &y d\n", ["XX114 1:7", "XX114 2:4"]),
    ("unknown handle", "a: !e!b c\n", ["XX114 1:4"]),
    ("python object", "a: !!python/object/apply:os.system [x]\n", ["XX114 1:4"]),
    ("on an empty value", "a: !!null\n", ["XX114 1:4"]),
    ("not finite", "a: .inf\nb: [-.INF, .nan]\n", ["XX118 1:4", "XX118 2:5", "XX118 2:12"]),
    ("many digits", f"a: {'1' * 41}\n", ["XX118 1:4"]),
    ("exponent", "a: 1e31\n", ["XX118 1:4"]),
    ("no key", "?\n: a\n", ["XX119 1:2"]),
    ("number", "3.10: a\n", ["XX119 1:1"]),
    ("others", "12: a\ntrue: b\nnull: c\n~: d\n.inf: e\n1e99: f\n", [f"XX119 {n}:1" for n in range(1, 7)]),
    ("list", "{[a]: 1}", ["XX119 1:2"]),
    ("mapping", "{{a: 1}: 1}", ["XX119 1:2"]),
    ("M5DD explicit", "? - a\n  - b\n: - c\n", ["XX119 1:3"]),
    ("missing", "{: a}", ["XX112 1:2"]),
    ("anchored number", "&x 3.1: a\n", ["XX119 1:1"]),
    ("alias of a number", "a: &x 3\n*x : b\n", ["XX119 2:1"]),
    ("glued", "check: {limit:weight.total, at_least: 5 kg}\n", ["XX121 1:14"]),
    ("glued twice", "{a:b, c:d}", ["XX121 1:3", "XX121 1:8"]),
    (
        "many mistakes",
        "3.1: .nan\na: !!str b\na: {c:d}\nb: *q\n",
        ["XX119 1:1", "XX118 1:6", "XX114 2:4", "XX113 3:1", "XX121 3:6", "XX115 4:4"],
    ),
    ("then the syntax", "a: 1\na: 2\nb: 'c\n", ["XX113 2:1", "XX112 3:4"]),
]


@each_row(("text", "expected"), [case[1:] for case in REFUSED], ids=[case[0] for case in REFUSED])
def test_what_is_refused_and_where(text: str, expected: list[str]) -> None:
    assert places(text) == expected


@each_row("text", ["{a}", "{a: }", "{'a:b'}", "{a:b: c}", "[a:b]", "{a:b: }", '{"a":b}', "{a: b:c}"])
def test_what_only_looks_like_a_colon_without_a_blank(text: str) -> None:
    if text == "{a:b: }":
        assert places(text) == ["XX121 1:3"]
    else:
        assert isinstance(read(text).data, dict | list)


def test_the_message_for_a_number_as_a_key_says_how_to_write_it() -> None:
    (problem,) = problems("clauses:\n  3.10: {}\n")
    assert problem.message == 'key 3.10 is a number; put it in quotes: "3.10"'
    assert problem.span is not None
    assert problem.span.source_line == "  3.10: {}"
    assert (problem.span.end_line, problem.span.end_column) == (2, 7)


def test_a_key_given_twice_shows_the_first() -> None:
    (problem,) = problems("b: 1\na: 1\na: 2\n")
    assert problem.message == "'a' is given twice"
    assert [(what, str(span)) for what, span in problem.related] == [("first given here", "car.yaml:2:1")]


def test_a_glued_colon_shows_the_cure() -> None:
    (problem,) = problems("check: {limit:weight.total}")
    assert problem.message == "'limit:weight.total' needs a blank after the colon"
    assert problem.hint == "Write limit: weight.total"


def test_forty_levels_are_read_and_forty_one_refused() -> None:
    assert read("[" * 40 + "]" * 40).data
    assert places("[" * 41 + "]" * 41) == ["XX117 1:41"]
    assert places("a: " + "{a: " * 40) == ["XX117 1:160"]
    assert places("- " * 41 + "a") == ["XX117 1:81"]


@each_row("opening", ["[", "{", "[{a: ", "- ", "? ", "[[]", '{"a":'])
def test_very_deep_nesting_is_refused(opening: str) -> None:
    (code,) = {problem.code for problem in problems(opening * 100_000)}
    assert code in ("XX117", "XX112")


@pytest.mark.deep
def test_the_number_of_values_is_bounded() -> None:
    assert len(read(f"[{'a,' * 199_000}]").data) == 199_000  # type: ignore[arg-type]
    assert [place.split()[0] for place in places(f"[{'a,' * 200_001}]")] == ["XX117"]


def test_the_size_is_bounded() -> None:
    most = 4 * 1024 * 1024
    assert read(b"a: 1 # " + b"x" * (most - 7)).data == {"a": 1}
    assert places(b"a: 1 #" + b"x" * (most - 5)) == ["XX117 1:1"]


def test_a_file_full_of_mistakes_stops_after_a_hundred() -> None:
    assert len(problems("{" + "1: a, " * 5000 + "}")) == 100


def test_a_file_of_one_long_line_with_many_mistakes_is_reported_quickly() -> None:
    found = problems("{" + "a: 1, " * 300_000 + "}")
    assert len({id(problem.span.source_line) for problem in found if problem.span}) == 1


@pytest.mark.parametrize(
    ("text", "place", "hint"),
    [
        ("a: {x: 143,4 kg, y: 1}", "XX112 1:8", "Write 143.4: the decimal mark is a point."),
        ("a: {x: 52,5%}", "XX112 1:8", "Write 52.5: the decimal mark is a point."),
        ("a: [1 kg, 143,4 kg]", "XX112 1:11", "Write 143.4: the decimal mark is a point."),
        ("a: {x: 1.158,5 kg}", "XX112 1:8",
         "Write 1158.5: the decimal mark is a point, and thousands have no mark."),
        ("a: [94 mm, 1.158,5 mm]", "XX112 1:12",
         "Write 1158.5: the decimal mark is a point, and thousands have no mark."),
        ("a: {x: 0,745 kg/L}", "XX112 1:8", "Write 0.745: the decimal mark is a point."),
        ("a: {x: 1,143 kg}", "XX112 1:8",
         "Write 1143, or 1.143: the decimal mark is a point, and thousands have no mark."),
    ],
)  # fmt: skip
def test_a_decimal_comma_in_brackets_is_told_with_the_figure_that_was_meant(
    text: str, place: str, hint: str
) -> None:
    assert places(text)[:1] == [place]
    assert problems(text)[0].hint == hint


def test_commas_that_part_values_are_no_decimal_commas() -> None:
    assert read("a: [1,2,3]\nb: [1 kg,2 kg]\nc: [x,2 kg]\nd: [0.5,2 kg]").data == {
        "a": [1, 2, 3], "b": ["1 kg", "2 kg"], "c": ["x", "2 kg"], "d": [Fraction(1, 2), "2 kg"],
    }  # fmt: skip
