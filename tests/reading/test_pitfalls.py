"""What looks like one thing and would be read as another is refused, with its place and a cure that works."""

from __future__ import annotations

import pytest

from checker.reading.problems import InputError
from tests.examples import each_row
from tests.reading.reading import read

REFUSED = [
    ("seal: SO #4417\n", "XX112 1:10", "'#4417' would not be read"),
    ("number: #27\n", "XX112 1:9", "'#27' would not be read"),
    ("a: [one #2\n  , two]\n", "XX112 1:9", "would not be read"),
    ('a: "value"# why\n', "XX112 1:11", "right after the value"),
    ("a: [b, c]#why\n", "XX112 1:10", "right after the value"),
    ("a: [b,#why\n  c]\n", "XX112 1:7", "right after a comma"),
    ("a: {b: 1,#why\n  c: 2}\n", "XX112 1:10", "right after a comma"),
    ("a: {b: 1,#why\n  }\n", "XX112 1:10", "right after a comma"),
    ("a: ># why\n  text\n", "XX112 1:5", "right after the sign for a text"),
    ("a: >\n   \n # why\n", "XX112 3:2", "go further in"),
    ("a: {?mass: 82 kg}\n", "XX112 1:5", "a '?' stands right before this key"),
    ("a: [?titanium, steel]\n", "XX112 1:5", "a '?' stands right before this key"),
    ("a: [-]\n", "XX112 1:5", "a '-' alone"),
    ("a: [-, b]\n", "XX112 1:5", "a '-' alone"),
    ("a: &an:chor value\n", "XX115 1:4", "goes on with ':'"),
    ("a: [b,\nc]\n", "XX112 2:1", "belongs to a value that begins above it"),
    ("a:\n  b: [c,\n  d]\n", "XX112 3:3", "belongs to a value that begins above it"),
    ('a: "b\nc"\n', "XX112 2:1", "belongs to a value that begins above it"),
    ('a: "b\n\tc"\n', "XX112 2:2", "a tab is used to indent"),
    ("- [b,\n\tc]\n", "XX112 2:2", "a tab is used to indent"),
]

READ = [
    ("seal: SO # 4417\n", {"seal": "SO"}),
    ("seal: 'SO #4417'\n", {"seal": "SO #4417"}),
    ("seal: SO#4417\n", {"seal": "SO#4417"}),
    ("a: 1 #\nb: 2 # #3\n#c\n", {"a": 1, "b": 2}),
    ("a: >\n  text #4\n  # more\nb: |\n\n  x\n", {"a": "text #4 # more\n", "b": "\nx\n"}),
    ("a: [b, # why, and more #2\n  c, # ,#\n  ] # end\n", {"a": ["b", "c"]}),
    ('a: {b: "x,#y", c: [d]} # end\n', {"a": {"b": "x,#y", "c": ["d"]}}),
    ("a: &x [b, c]\nd: [*x, e] # ,\n", {"a": ["b", "c"], "d": [["b", "c"], "e"]}),
    ("a: {\n  b: 1\n}\n", {"a": {"b": 1}}),
    ('{\n\t"a": [\n\t1,\n\t"two\nlines"\n]}', {"a": [1, "two lines"]}),
    ('{"a"\n: 1, "b"  \n  :{"c"\n:\n2}}', {"a": 1, "b": {"c": 2}}),
    ("a: -1\nb: -x\nc: [-1, -x]\n", {"a": -1, "b": "-x", "c": [-1, "-x"]}),
    ("a: why?\nb: {c?: d, '?e': 1}\n", {"a": "why?", "b": {"c?": "d", "?e": 1}}),
    ("a: |\n  x\n   ", {"a": "x\n \n"}),
    ("a: \"b\n\n  c\"\nd: 'e\n  f'\n", {"a": "b\nc", "d": "e f"}),
]


@each_row(("text", "place", "message"), REFUSED)
def test_what_can_be_misread_is_refused_where_it_stands(text: str, place: str, message: str) -> None:
    with pytest.raises(InputError) as raised:
        read(text.encode())
    (problem,) = raised.value.problems
    assert problem.span is not None
    assert f"{problem.code} {problem.span.line}:{problem.span.column}" == place
    assert message in problem.message
    assert problem.hint


@each_row(("text", "data"), READ)
def test_what_looks_nearly_alike_is_read_as_it_looks(text: str, data: object) -> None:
    assert read(text.encode()).data == data


def test_the_cures_of_a_lost_number_are_read() -> None:
    """Both that are told: quotes, and a blank that makes it a comment for every eye."""
    assert read(b"seal: 'SO #4417'").data == {"seal": "SO #4417"}
    assert read(b"seal: SO # 4417").data == {"seal": "SO"}
