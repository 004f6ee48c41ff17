from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.reading.printer import number_text, to_yaml
from checker.reading.problems import Path
from checker.reading.values import Plain
from tests.examples import each_row
from tests.reading.reading import read
from tests.reading.strategies import WORDS_WITH_A_CATCH, plain_data, same, texts

CAR: Plain = {
    "formula": "dunlin",
    "car": {"number": "27", "chassis_built": "2024-11-02"},
    "clauses": {"3.10": {"text": "At most 53.0 %\nin every condition.\n", "act": "Add\nballast"}},
    "readings": [{"front_left": "158.5 kg", "ratio": Fraction(1, 4)}, [1, [2]], []],
    "ballast": None,
    "more": {},
}

PRINTED = """\
formula: dunlin
car:
  # on the entry form
  number: "27"
  chassis_built: 2024-11-02
clauses:
  "3.10":
    text: |
      At most 53.0 %
      in every condition.
    act: |-
      Add
      ballast
readings:
  # first weighing
  # front
  - front_left: 158.5 kg
    # rear by front
    ratio: 0.25
  - - 1
    - - 2
  - []
ballast: null
# anything
#
# else
more: {}
"""

COMMENTS: dict[Path, str] = {
    ("car", "number"): "on the entry form",
    ("readings", 0): "first weighing",
    ("readings", 0, "front_left"): "front",
    ("readings", 0, "ratio"): "rear by front",
    ("more",): "anything\n\nelse",
}


def test_data_is_printed_as_a_person_would_write_it() -> None:
    assert to_yaml(CAR, COMMENTS) == PRINTED
    assert same(read(PRINTED).data, CAR)


@given(plain_data)
def test_what_is_printed_reads_back_equal(data: Plain) -> None:
    assert same(read(f"x: 1\n{to_yaml({'y': data})}").data, {"x": 1, "y": data})
    assert same(read(to_yaml(data)).data, data)


@given(plain_data, st.text(st.characters(), max_size=20), st.data())
def test_comments_change_nothing(data: Plain, comment: str, choose: st.DataObject) -> None:
    paths: list[Path] = []

    def walk(value: object, path: Path) -> None:
        paths.append(path)
        if isinstance(value, dict):
            for key, inner in value.items():
                walk(inner, (*path, key))
        if isinstance(value, list):
            for position, inner in enumerate(value):
                walk(inner, (*path, position))

    walk(data, ())
    chosen = choose.draw(st.lists(st.sampled_from(paths), max_size=5))
    assert same(read(to_yaml(data, dict.fromkeys(chosen, comment))).data, data)


@each_row("text", WORDS_WITH_A_CATCH)
def test_text_with_a_catch_reads_back(text: str) -> None:
    data: Plain = {text: [text, {"x": text}]}
    assert same(read(to_yaml(data)).data, data)
    assert same(read(to_yaml(text)).data, text)


@given(texts)
def test_printed_text_holds_nothing_that_cannot_be_seen(text: str) -> None:
    assert to_yaml({text: text}).replace("\n", "").isprintable()


@each_row("text", ["612 kg", "no", "2026-03-01", "69 5/8 in", "a,b", "brakes/disc", "it's", "é 日本"])
def test_ordinary_text_needs_no_quotes(text: str) -> None:
    assert to_yaml({"a": text}) == f"a: {text}\n"


@each_row(
    ("number", "text"),
    [
        (0, "0"),
        (-12, "-12"),
        (Fraction(2), "2.0"),
        (Fraction(-1, 8), "-0.125"),
        (Fraction(105, 2), "52.5"),
        (Fraction(1, 1000), "0.001"),
        (Fraction(10**30), "1" + "0" * 30 + ".0"),
        (Fraction(1, 10**39), "0." + "0" * 38 + "1"),
        (Fraction(1, 10**40), "0.0000000001e-30"),
        (Fraction(-3, 2) / 10**68, "-0." + "0" * 37 + "15e-30"),
        (Fraction(10**50), "1" + "0" * 20 + ".0e30"),
    ],
)
def test_a_number_is_printed_exactly(number: int | Fraction, text: str) -> None:
    assert number_text(number) == text
    assert same(read(f"a: {text}").data, {"a": number})


@each_row(
    "number",
    [
        Fraction(1, 3),
        Fraction(1, 7),
        10**40,
        -(10**40),
        Fraction(10**69),
        Fraction(1, 10**70),
        Fraction(1, 2**60),
    ],
)
def test_a_number_that_would_not_read_back_is_refused(number: int | Fraction) -> None:
    with pytest.raises(ValueError, match="cannot be written as a decimal of at most 40 digits"):
        to_yaml({"a": number})


@given(st.fractions(max_denominator=10**6) | st.integers(-(10**6), 10**6).map(lambda n: Fraction(n, 10**6)))
def test_a_fraction_is_printed_exactly_or_refused(number: Fraction) -> None:
    rest = number.denominator
    for factor in (2, 5):
        while rest % factor == 0:
            rest //= factor
    if rest == 1:
        assert read(f"a: {number_text(number)}").data == {"a": number}
    else:
        with pytest.raises(ValueError, match="cannot be written"):
            number_text(number)


@each_row(
    ("data", "complaint"),
    [
        ({"a": [1.5]}, r"a\[0\] is a float"),
        ({"a": {3: 1}}, "the key 3 in a is not text"),
        ({1: 2}, "the key 1 in the data is not text"),
        ({"a": "\ud83c"}, r"half of a surrogate pair, U\+D83C"),
        ({"a": {1, 2}}, "a is a set"),
        (object(), "the data is a object"),
    ],
)
def test_what_no_file_can_say_is_refused(data: Plain, complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        to_yaml(data)


def test_data_nested_too_deep_to_be_read_is_refused() -> None:
    data: Plain = "x"
    for _ in range(40):
        data = [data]
    assert same(read(to_yaml(data)).data, data)
    with pytest.raises(ValueError, match="nested more than 40 levels"):
        to_yaml([data])
    endless: list[Plain] = []
    endless.append(endless)
    with pytest.raises(ValueError, match="nested more than 40 levels"):
        to_yaml(endless)


def test_a_text_can_be_kept_in_quotes() -> None:
    written = to_yaml({"a": "12 kg", "b": ["12 kg", "x"]}, quoted={("b", 0)})
    assert written == 'a: 12 kg\nb:\n  - "12 kg"\n  - x\n'
