"""Every part of a file that is not as it should be is noted once, at its place, and reading goes on."""

from __future__ import annotations

import pytest

from checker.reading.file_reader import FileReader
from checker.reading.problems import Path
from tests.reading.reading import read

TEXT = "words: {coluns: a, b: ' '}\nlist: x\ncount: 0\nword: meen\n"


@pytest.mark.parametrize(
    ("step", "found", "message", "hint", "place"),
    [
        (lambda r: r.mapping(("list",), None), {}, "list needs names and values", "", "2:7"),
        (lambda r: r.listed(("list",)), [], "`list` needs a list", "put it in [ ]", "2:7"),
        (lambda r: r.text(("words", "b")), "", "`b` needs a text", "put it in quotes", "1:23"),
        (lambda r: r.text(("absent",)), "", "`absent` needs a text", "put it in quotes", "1:1"),
        (lambda r: r.count(("count",), 1), 1, "`count` needs a whole number of 1 or more", "", "3:8"),
        (lambda r: r.word(("word",), ("mean", "last")), "mean", "'meen' is not known here", "Did you mean 'mean'?", "4:7"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_noted_and_something_sound_given(
    step: object, found: object, message: str, hint: str, place: str
) -> None:
    reader = FileReader(read(TEXT), "XX900")
    assert callable(step)
    assert step(reader) == found
    (problem,) = reader.problems.found
    assert problem.span is not None
    assert (problem.code, problem.message, problem.hint) == ("XX900", message, hint)
    assert f"{problem.span.line}:{problem.span.column}" == place


def test_an_unknown_key_is_told_with_the_nearest() -> None:
    reader = FileReader(read(TEXT), "XX900")
    where: Path = ("words",)
    assert reader.mapping(where, ("columns", "b")) == {"coluns": "a", "b": " "}
    (problem,) = reader.problems.found
    assert (problem.message, problem.hint) == ("'coluns' is not known here", "Did you mean 'columns'?")
    assert reader.mapping(where, None)
    assert len(reader.problems.found) == 1, "its keys are names of its own"
