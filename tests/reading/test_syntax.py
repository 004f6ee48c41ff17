"""What is no YAML at all: where it is shown, and in which words.

Ids such as ZCZ6 name the case of the yaml-test-suite that asks the same question; they are recalled from
memory, and the texts are our own.
"""

from __future__ import annotations

import pytest

from tests.examples import each_row
from tests.reading.reading import places, problems, read

REFUSED = [
    ("CQ3W no closing quote", 'key: "missing closing quote\n', ["XX112 1:6"]),
    ("ZCZ6 mapping in plain value", "a: b: c: d", ["XX112 1:5"]),
    ("ZL4Z nested mapping", "a: 'b': c\n", ["XX112 1:7"]),
    ("TD5N scalar after list", "- a\n- b\ninvalid\n", ["XX112 3:1"]),
    ("T833 missing comma", "{\n a: 1\n b: 2 }\n", ["XX112 3:3"]),
    ("5U3A list on the key's line", "key: - a\n     - b\n", ["XX112 1:6"]),
    ("7MNF missing colon", "a:\n  b: 1\ninvalid\n", ["XX112 3:1"]),
    ("4H7K extra bracket", "---\n[ a, b ] ]\n", ["XX112 2:10"]),
    ("6JTT no closing bracket", "---\n[ [ a, b, c ]\n", ["XX112 2:1"]),
    ("55WF unknown escape", '---\n"\\."\n', ["XX112 2:2"]),
    ("4EJS tab as indentation", "---\na:\n\tb:\n\t\tc: value\n", ["XX112 3:1"]),
    ("62EZ key after braces", "x: { y: z }in: valid\n", ["XX112 1:12"]),
    ("EB22 directive without end", "---\nscalar1 # comment\n%YAML 1.2\n---\nscalar2\n", ["XX116 3:1"]),
    ("glued colon in a block", "a: 1\nb:2\nc: 3\n", ["XX112 2:2"]),
    ("text after quotes", "title: 'a' and b\n", ["XX112 1:12"]),
    ("at sign", "a: @home\n", ["XX112 1:4"]),
    ("surrogate alone", '{"a": "\\ud83c"}', ["XX112 1:8"]),
    ("in a wide text", "a: '日本🏁'\nb: {ñ: '日本'x}\n", ["XX112 2:12"]),
    ("2JQS no keys", ": a\n: b\n", ["XX112 1:1"]),
]


@each_row(("text", "expected"), [case[1:] for case in REFUSED], ids=[case[0] for case in REFUSED])
def test_what_is_refused_and_where(text: str, expected: list[str]) -> None:
    assert places(text) == expected


# libyaml's words are for programmers; a user gets these.
MESSAGES = [
    (
        "a: 'x\nb: 2",
        "the quotation mark that opens here is never closed",
        "Put the same mark where the text ends, on this line.",
    ),
    (
        '"a\n...\nb"',
        "the quotation mark that opens here is never closed",
        "Put the same mark where the text ends, on this line.",
    ),
    (
        "a: [1, 2\nb: 3\n",
        "a ',' or ']' is missing before this",
        "Text that holds a comma or a bracket goes in quotes.",
    ),
    (
        "a: {b: 1",
        "the '{' that opens here is never closed",
        "The text ends before its brackets close: close them, or put text that holds one in quotes.",
    ),
    ("a: 1\nb:2\nc: 3", "'b:2' needs a blank after the colon", ""),
    ("a:\n  - limit:3\n    at: 3", "'limit:3' needs a blank after the colon", ""),
    ("a: 1\r\nb:2\r\nc: 3", "'b:2' needs a blank after the colon", ""),
    (
        "a: b: c",
        "there is a colon where no value can follow",
        "If the colon belongs to the text, put the text in quotes; else check the indentation.",
    ),
    (
        "a: 1\nb\nc: 2",
        "this line is no 'key: value'",
        "Check how far this line and those above it are indented.",
    ),
    (
        "a:\n  b: 1\n c: 2",
        "this does not fit what is above it",
        "Check how far this line and those above it are indented.",
    ),
    (
        "- a\nb: 1",
        "this line does not continue the list above it",
        "Check how far this line and those above it are indented.",
    ),
    ("a: 'x' y", "the quotation marks end before the text does", "Quote all of it, or nothing."),
    ("a: 'it's'", "the quotation marks end before the text does", "Quote all of it, or nothing."),
    ("a: [b] c", "the brackets end before the text does", "Text that begins with a bracket goes in quotes."),
    ("a: @x", "no value can begin with '@'", "Put the text in quotes."),
    ("a: %x", "no value can begin with '%'", "Put the text in quotes."),
    ("a: `x`", "no value can begin with '`'", "Put the text in quotes."),
    ("a:\n\tb: 1", "a tab is used to indent this line", "Indent with blanks only."),
    ("a: 1\n\tb: 2", "a tab is used to indent this line", "Indent with blanks only."),
    ("a: >\n\tb", "a tab is used to indent this line", "Indent with blanks only."),
    (
        'a: "\\q"',
        "there is no such escape with a backslash",
        "Between double quotes write \\\\ for a backslash, or use single quotes.",
    ),
    (
        'a: "\\xzz"',
        "this escape with a backslash needs more hexadecimal digits",
        "Between double quotes write \\\\ for a backslash, or use single quotes.",
    ),
    ('a: "\\ud83c"', "this escape with a backslash is no character", "Write the character itself."),
    ("a: * 2", "no text can begin with '&' or '*'", "Put it in quotes."),
    ("a: & 2", "no text can begin with '&' or '*'", "Put it in quotes."),
    (
        "a: | x\n  y",
        "after '|' or '>' the text begins on the next line",
        "Text that begins with '|' or '>' goes in quotes.",
    ),
    ("a: |0\n  y", "after '|' or '>' stands a number from 1 to 9", ""),
    ("a: ]", "a value is missing before this", "Text that begins with a special sign goes in quotes."),
    (
        "a: - b",
        "there is a '-' where no list can begin",
        "A list begins on a line of its own, or stands in [ ]; text that begins with '- ' goes in quotes.",
    ),
    (
        "a: ? b",
        "there is a '?' where no key can follow",
        "Text that begins with a special sign goes in quotes.",
    ),
    (
        " a: 1\nb: 2",
        "this stands after the end of the data",
        "A file holds one mapping; check brackets, and the indentation of the first lines.",
    ),
]


@each_row(("text", "message", "hint"), MESSAGES, ids=[repr(case[0]) for case in MESSAGES])
def test_the_words_for_a_mistake(text: str, message: str, hint: str) -> None:
    problem = problems(text)[-1]
    assert (problem.code, problem.message, problem.hint) == ("XX112", message, hint)


LINE = '{"car": {"number": "27", "seats": [1, 2], "wet": true}, "name": "Red\\u0073hank"}'


def test_a_line_of_json_that_is_cut_off_anywhere_is_told_so() -> None:
    for end in range(1, len(LINE)):
        told = problems(LINE[:end])[-1].hint
        assert told.startswith("The text ends before its brackets close") or "\\" in LINE[end - 5 : end], (
            LINE[:end]
        )
    (problem,) = problems('{"a": "x, "b": 1}')
    assert "brackets close" not in problem.hint


def test_where_a_bracket_opens_is_shown_too() -> None:
    (problem,) = problems("a: {b: 1\nc: 2}\nd: 3\n")
    assert [(what, str(span)) for what, span in problem.related] == [("the '{' opens here", "car.yaml:1:4")]


def test_where_a_mapping_or_list_begins_is_shown_too() -> None:
    (problem,) = problems("x:\n  a: 1\n b: 2\n")
    assert [(what, str(span)) for what, span in problem.related] == [
        ("the mapping begins here", "car.yaml:1:1")
    ]
    (problem,) = problems("x:\n  - 1\n  b: 2\n")
    assert [(what, str(span)) for what, span in problem.related] == [("the list begins here", "car.yaml:2:3")]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ('car: {number: "27", name: "Redshank}\nfuel: 5 L\ntyres: "dry"\n', "1:27"),
        ('a:\n  name: "Big one\n  other: "small"\n', "2:9"),
        ("a:\n  name: 'Big one\n  other: [x, 'small']\n", "2:9"),
    ],
)
def test_a_quotation_mark_that_only_the_next_one_closes_is_told_where_it_opens(text: str, place: str) -> None:
    (problem,) = problems(text)
    assert f"{problem.span.line}:{problem.span.column}" == place if problem.span else False
    assert problem.message.startswith("the quotation mark that opens here is closed only lines below")
    assert problem.hint == "Put the same mark where the text ends, on this line."


def test_a_text_over_lines_is_not_blamed_for_what_stands_behind_it() -> None:
    assert read('a: "one\n  two"\nb: 1\n').data == {"a": "one two", "b": 1}
    (problem,) = problems('a: "one\n  two" three\n')
    assert problem.message == "the quotation marks end before the text does"
    (problem,) = problems('a: "one\n')
    assert problem.hint == "Put the same mark where the text ends, on this line."


def test_a_long_word_is_shortened() -> None:
    (problem,) = problems(f"a: 1\n{'b' * 5000}:2\nc: 3")
    assert len(problem.message) < 120
