"""What is read, and the code, line and column of everything that is not.

Ids such as ZCZ6 name the case of the yaml-test-suite that asks the same question. They are recalled from
memory, and the texts are our own.
"""

from __future__ import annotations

import json
import os
from fractions import Fraction
from pathlib import Path

import pytest
import yaml
from hypothesis import example, given
from hypothesis import strategies as st

from checker.reading.document import Document
from checker.reading.file_bytes import REFUSED as REFUSED_CHARACTERS
from checker.reading.problems import InputError, Problem
from checker.reading.strict_yaml import parse_document, read_document
from tests.examples import each_row
from tests.reading.reading import places, problems, read
from tests.reading.strategies import same

# -- what is read ------------------------------------------------------------------------------------

READ = [
    ("FQ7F", "- kg\n- mm\n- lb\n", ["kg", "mm", "lb"]),
    (
        "SYW4",
        "mass:  612 kg   # with driver\nfuel: 6\nratio: 0.278\n",
        {"mass": "612 kg", "fuel": 6, "ratio": Fraction(139, 500)},
    ),
    (
        "PBJ2",
        "front:\n  - left\n  - right\nrear:\n  - left\n",
        {"front": ["left", "right"], "rear": ["left"]},
    ),
    ("229Q", "-\n  name: B1\n  mass: 6\n-\n  name: B2\n", [{"name": "B1", "mass": 6}, {"name": "B2"}]),
    (
        "ZF4X",
        "B1: {mass: 6, at: 2}\nB2: {\n    mass: 5,\n  }\n",
        {"B1": {"mass": 6, "at": 2}, "B2": {"mass": 5}},
    ),
    ("AZ63", "parts:\n- a\n- b\nmore: c\n", {"parts": ["a", "b"], "more": "c"}),
    ("93JH", " - key: a\n   other: b\n -\n  key: c\n", [{"key": "a", "other": "b"}, {"key": "c"}]),
    ("9J7A", "-\n  a: b\n", [{"a": "b"}]),
    ("D88J", "a: [b, c]", {"a": ["b", "c"]}),
    ("54T7", "{fuel: you, wear: far}", {"fuel": "you", "wear": "far"}),
    ("5KJE", "- [a, b, ]\n- [c,d]\n", [["a", "b"], ["c", "d"]]),
    ("4UYU", '"a: b\\": c"', 'a: b": c'),
    ("4V8U", "plain\\value\\with\\backslashes", "plain\\value\\with\\backslashes"),
    ("4GC6", "'here''s to \"quotes\"'", 'here\'s to "quotes"'),
    ("36F6", "plain: a\n b\n\n c\n", {"plain": "a b\nc"}),
    ("6JQW", "text: |\n  at most\n    53 %\n", {"text": "at most\n  53 %\n"}),
    ("96L6", "--- >\n  at most\n  53 %\n  of it\n", "at most 53 % of it\n"),
    ("A2M4", "? a\n: - b\n  -  - c\n     - d\n", {"a": ["b", ["c", "d"]]}),
    ("LQZ7", '"implicit key" : [\n  "other key" , \'third\']\n', {"implicit key": ["other key", "third"]}),
    (
        "DBG4",
        "- ::vector\n- Up, up, and away!\n- -123\n- a,b#c:d\n",
        ["::vector", "Up, up, and away!", -123, "a,b#c:d"],
    ),
    ("J3BT", 'quoted: "Quoted \t"\nblock:\t|\n  a\n', {"quoted": "Quoted \t", "block": "a\n"}),
    ("3GZX", "first: &x kg\nsecond: *x\n", {"first": "kg", "second": "kg"}),
    ("X38W", "[&x {at: 2}, *x, &y b, *y]", [{"at": 2}, {"at": 2}, "b", "b"]),
    ("SU74", "&x mass: &y 6\nother: *y\n", {"mass": 6, "other": 6}),
    ("QT73 with data", "a: 1\n# comment\n...\n", {"a": 1}),
    ("PUW8 first half", "---\na: b\n", {"a": "b"}),
    ("NHX3 like", "a: b\n\n\n", {"a": "b"}),
    ("empty values", "a:\nb: ''\nc: ~\nd: {}\ne: []\n", {"a": None, "b": "", "c": None, "d": {}, "e": []}),
    ("clause numbers", '"3.1": {}\n"3.10": {}\n\'4\': x\n', {"3.1": {}, "3.10": {}, "4": "x"}),
    (
        "text that others misread",
        "a: no\nb: 2026-03-01\nc: 1:30\nd: 1_000\n",
        {"a": "no", "b": "2026-03-01", "c": "1:30", "d": "1_000"},
    ),
    ("quoted is text", "a: '12'\nb: \"true\"\nc: |\n  1\n", {"a": "12", "b": "true", "c": "1\n"}),
    (
        "exact",
        "a: 0.1\nb: 1e-30\nc: 1.10",
        {"a": Fraction(1, 10), "b": Fraction(1, 10**30), "c": Fraction(11, 10)},
    ),
]


@each_row(("text", "data"), [case[1:] for case in READ], ids=[case[0] for case in READ])
def test_what_is_read(text: str, data: object) -> None:
    assert same(read(text).data, data)


@each_row(("text", "data"), [case[1:] for case in READ], ids=[case[0] for case in READ])
def test_windows_line_ends_change_nothing(text: str, data: object) -> None:
    document = read(text.replace("\n", "\r\n"))
    assert same(document.data, data)


def test_a_byte_order_mark_is_dropped_and_shifts_nothing() -> None:
    document = read(b"\xef\xbb\xbfa: 1\n")
    assert document.data == {"a": 1}
    assert document.text == "a: 1\n"
    assert str(document.span(("a",))) == "car.yaml:1:4"
    assert places(b"\xef\xbb\xbf1: 1\n") == ["XX119 1:1"]


def test_lines_are_counted_alike_with_every_line_end() -> None:
    for end in ("\n", "\r\n", "\r"):
        assert places(f"a: 1{end}b: 2{end}{end}a: 3{end}") == ["XX113 4:1"]


# -- what is refused -------------------------------------------------------------------------------

REFUSED = [
    ("27NA directive", "%YAML 1.2\n--- a\n", ["XX116 1:1"]),
    ("%YAML 1.1", "# c\n%YAML 1.1\n---\na: no\n", ["XX116 2:1"]),
    ("%YAML 3", "%YAML 3.0\n---\na: no\n", ["XX116 1:1"]),
    ("U3C3 %TAG", "%TAG !y! tag:example.org,2026:\n---\na: b\n", ["XX116 1:1"]),
    ("half a directive", "%TAG ! x", ["XX116 1:1"]),
    ("2LFX reserved directive", "%FOO  bar baz\n---\na: b\n", ["XX116 1:1"]),
    ("JHB9 two documents", "a: 1\n---\nb: 2\n", ["XX116 2:1"]),
    ("bare second document", "a: 1\n...\nb: 2\n", ["XX116 3:1"]),
    ("AVM7 empty", "", ["XX120 1:1"]),
    ("98YD comment only", "# Comment only.\n", ["XX120 1:1"]),
    ("blank lines", "\n  \n", ["XX120 1:1"]),
    ("start only", "---\n", ["XX120 1:1"]),
]


@each_row(("text", "expected"), [case[1:] for case in REFUSED], ids=[case[0] for case in REFUSED])
def test_what_is_refused_and_where(text: str, expected: list[str]) -> None:
    assert places(text) == expected


# -- laws -------------------------------------------------------------------------------------------


@given(st.binary(max_size=60) | st.text(max_size=40).map(str.encode))
@example(b"\xff\xfea\x00")
@example(b"&a [*a]")
@example(b"? ? ? [{")
def test_any_bytes_give_a_document_or_problems_with_a_place(data: bytes) -> None:
    found: tuple[Problem, ...] = ()
    try:
        document = parse_document(data, "x", "PK")
    except InputError as error:
        found = error.problems
    else:
        assert document.data is not None or document.text.strip()
        return
    assert found
    assert all(problem.span is not None and problem.code.startswith("PK1") for problem in found)


PIECES = (
    *(
        "a",
        "b: ",
        ": ",
        "- ",
        "\n",
        "\n  ",
        "[",
        "]",
        "{",
        "}",
        ", ",
        "'",
        '"',
        "&x ",
        "*x",
        "!t ",
        "#",
        "|\n",
        ">-\n",
    ),
    *(
        "? ",
        "---\n",
        "...\n",
        "%YAML",
        "\t",
        "\\",
        "\\u",
        "\\ud83c\\udfc1",
        "3.1",
        "~",
        "<<",
        "\r",
        "é",
        "🏁",
        " ",
    ),
)


@given(st.lists(st.sampled_from(PIECES), max_size=25).map("".join))
def test_any_mixture_of_signs_gives_a_document_or_problems_with_a_place(text: str) -> None:
    found: tuple[Problem, ...] = ()
    try:
        document = read(text)
    except InputError as error:
        found = error.problems
    else:
        check_all_places(document, (), document.data)
        return
    for problem in found:
        assert problem.span is not None
        assert problem.span.line <= text.count("\n") + text.count("\r") + 1
        assert "cannot be read as YAML" not in problem.message, "libyaml's words reached the user"


def check_all_places(document: Document, path: tuple[str | int, ...], data: object) -> None:
    """Every place lies in the file, and an unquoted text stands where its place says."""
    span = document.span(path)
    lines = document.text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    assert 1 <= span.line <= len(lines)
    assert span.source_line == lines[span.line - 1]
    assert (span.line, span.column) <= (span.end_line, span.end_column)
    if isinstance(data, str) and document.is_plain(path) and span.line == span.end_line:
        assert span.source_line[span.column - 1 : span.end_column - 1] == data == document.written(path)
    if isinstance(data, dict):
        for key, value in data.items():
            assert document.key_span((*path, key)).source_line
            check_all_places(document, (*path, key), value)
    if isinstance(data, list):
        for position, value in enumerate(data):
            check_all_places(document, (*path, position), value)


# -- JSON --------------------------------------------------------------------------------------------

json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**30), 10**30)
    | st.floats(allow_nan=False, allow_infinity=False, min_value=-1e15, max_value=1e15).map(
        lambda x: round(x, 6)
    )
    | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=10,
)


@given(json_values, st.sampled_from([None, 1, "\t"]))
def test_json_is_read_as_json(value: object, indent: int | str | None) -> None:
    """With escapes for all that is not ASCII, as RFC 8259 allows and many programs write."""
    text = json.dumps(value, indent=indent)
    if "\x7f" in text:
        return  # YAML allows this control character nowhere
    expected = json.loads(text, parse_float=Fraction)
    if value is None or not same(value, expected):
        assert read(text).data == expected
    else:
        assert same(read(text).data, expected)


def test_a_json_file_with_tabs_and_places() -> None:
    text = (
        '{\n\t"formula":\t"dunlin",\n\t"name": "\\ud83c\\udfc1 Redshank",\n\t"mass": 612.5,\n\t"mass": 1\n}\n'
    )
    (problem,) = problems(text)
    assert str(problem.span) == "car.yaml:5:2"
    data = read(text.replace('\t"mass": 1\n', '\t"wear": 1e0\n')).data
    assert data == {"formula": "dunlin", "name": "🏁 Redshank", "mass": Fraction(1225, 2), "wear": 1}


# -- files -------------------------------------------------------------------------------------------


def test_a_file_is_read_under_the_name_given(tmp_path: Path) -> None:
    file = tmp_path / "car.yaml"
    file.write_bytes(b"a: 1\r\n")
    document = read_document(file, "CD")
    assert document.name == os.fspath(file)
    assert document.data == {"a": 1}
    # printf 'a: 1\r\n' | sha256sum
    assert document.sha256 == "db9bda4272ee21cda5ff1d213fa8366a2cca3143c5a795bdcd5f75a85106033d"


def test_every_character_that_is_let_through_is_one_that_libyaml_reads() -> None:
    """So that no complaint of libyaml about a character, which has no place, can reach a user."""
    for first in range(0x20, 0x110000, 0x8000):
        letters = "".join(
            chr(code) for code in range(first, min(first + 0x8000, 0x110000)) if not 0xD800 <= code < 0xE000
        )
        kept = REFUSED_CHARACTERS.sub("", letters).replace("'", "")
        assert read(f"'a{kept}a'").data == f"a{kept}a"


def test_without_libyaml_nothing_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(yaml, "__with_libyaml__", False)
    (problem,) = problems("a: 1")
    assert problem.code == "XX100"
    assert "libyaml" in problem.message
