from __future__ import annotations

import pytest
from hypothesis import given

from checker.reading.paths import format_path, parse_path
from checker.reading.problems import Path
from tests.examples import each_row
from tests.reading.strategies import paths

EXAMPLES: list[tuple[str, Path]] = [
    ("", ()),
    ("weighing", ("weighing",)),
    ("weighing.readings[0].front_left", ("weighing", "readings", 0, "front_left")),
    ('clauses."3.1".check.at_most', ("clauses", "3.1", "check", "at_most")),
    ("components[2].parts[0].materials", ("components", 2, "parts", 0, "materials")),
    ("[3]", (3,)),
    ("a[0][12]", ("a", 0, 12)),
    ('instruments."club pads".resolution', ("instruments", "club pads", "resolution")),
    (r'a."say \"B\\C\""', ("a", 'say "B\\C"')),
    ('a.""', ("a", "")),
    ("bränslen.größe", ("bränslen", "größe")),
]


@each_row(("text", "path"), EXAMPLES)
def test_reading_and_writing_a_path(text: str, path: Path) -> None:
    assert parse_path(text) == path
    assert format_path(path) == text


@given(paths)
def test_a_written_path_reads_back(path: Path) -> None:
    assert parse_path(format_path(path)) == path


@each_row(
    ("text", "complaint"),
    [
        ("a.", "a key is missing at the end"),
        (".a", "a key is missing before '.a'"),
        ("a..b", "a key is missing before '.b'"),
        ("a b", "a point is missing before ' b'"),
        ("a[x]", r"'\[' needs a position"),
        ("a[-1]", r"'\[' needs a position"),
        ("a[1", r"'\[' needs a position"),
        ("a[٣]", r"'\[' needs a position"),
        ("a[99999999999]", r"'\[' needs a position"),
        ("a[0]b", "a point is missing before 'b'"),
        ('a."b', "quotation mark at character 3 is not closed"),
        ('"a"b', "a point is missing before 'b'"),
        ("a]", "a point is missing before ']'"),
        ("a.'b'", "a key is missing"),
    ],
)
def test_a_wrong_path_is_refused(text: str, complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        parse_path(text)
