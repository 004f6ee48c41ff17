"""Anchors and aliases: bounded, and refused with their place.

Ids such as ZCZ6 name the case of the yaml-test-suite that asks the same question; they are recalled from
memory, and the texts are our own.
"""

from __future__ import annotations

from tests.examples import each_row
from tests.reading.reading import places, problems, read

REFUSED = [
    ("nothing to repeat", "a: *x\n", ["XX115 1:4"]),
    ("inside itself", "a: &x [1, *x]\n", ["XX115 1:11"]),
    ("inside itself, deeper", "a: &x {b: {c: *x}}\n", ["XX115 1:15"]),
    ("anchor twice", "a: &x 1\nb: &x 2\n", ["XX115 2:4"]),
    ("SR86 anchor on an alias", "a: &x 1\nb: &y *x\n", ["XX112 2:7"]),
    ("merge", "a: &x {b: 1}\nc:\n  <<: *x\n", ["XX115 3:3"]),
    ("before its anchor", "a: *x\nb: &x 1\n", ["XX115 1:4"]),
]


@each_row(("text", "expected"), [case[1:] for case in REFUSED], ids=[case[0] for case in REFUSED])
def test_what_is_refused_and_where(text: str, expected: list[str]) -> None:
    assert places(text) == expected


def test_aliases_of_aliases_are_bounded() -> None:
    lines = ["a: &a [x, x, x, x, x, x, x, x, x, x]"]
    for before, name in zip("abcdefgh", "bcdefghi", strict=True):
        lines.append(f"{name}: &{name} [{', '.join([f'*{before}'] * 10)}]")
    (problem,) = problems("\n".join(lines))
    assert problem.code == "XX115"
    assert problem.message == "the aliases of this file stand for more than 10000 values"
    assert problem.span is not None
    assert problem.span.line == 4


def test_aliases_that_add_few_values_are_read() -> None:
    document = read("a: &a [1, 2]\nb: &b [*a, *a]\nc: [*b, *b]\n")
    assert document.get(("c", 1, 0)) == [1, 2]


def test_aliases_cannot_nest_deeper_than_brackets() -> None:
    lines = ["- &a0 [x]", *(f"- &a{n} [*a{n - 1}]" for n in range(1, 60))]
    assert problems("\n".join(lines))[0].code == "XX117"
