"""What is read quickly is what is read strictly: the same data, the same places, the same problems."""

from __future__ import annotations

import json
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.reading import strict_yaml
from checker.reading.document import COMMAND_LINE, REMOVE, Document, Edit
from checker.reading.problems import InputError, Path, Problem
from checker.reading.strict_yaml import parse_document, parse_quickly
from checker.reading.values import NumberAsWritten, Plain, number_in, text_of_number
from tests import fleet
from tests.conftest import ROOT
from tests.examples import examples

CARS = sorted((ROOT / "samples" / "cars").glob("*.yaml"))
AS_YAML = [file.read_text(encoding="utf-8") for file in CARS]
AS_JSON = [json.dumps(car) for car in fleet.cars(2)]


def both(text: str) -> tuple[Document | tuple[Problem, ...], Document | tuple[Problem, ...]]:
    """The document read quickly and strictly, or the problems of each."""
    return _read(parse_quickly, text), _read(parse_document, text)


def _read(parse: object, text: str) -> Document | tuple[Problem, ...]:
    try:
        found = parse(text.encode("utf-8", "surrogatepass"), "car.yaml", "CD", 7)  # type: ignore[operator]
        assert isinstance(found, Document)
        return found
    except InputError as error:
        return error.problems


def is_same(text: str) -> bool:
    """Whether both readers agree on a text, down to the kinds of values and how numbers are written."""
    quick, strict = both(text)
    if not isinstance(quick, Document) or not isinstance(strict, Document):
        return quick == strict
    assert told(quick.data) == told(strict.data)
    paths = [path for path, value in parts(strict.data)]
    written = [quick.written(path) for path, value in parts(strict.data) if isinstance(value, int | Fraction)]
    assert written == [
        strict.written(path) for path, value in parts(strict.data) if isinstance(value, int | Fraction)
    ]
    return all(
        quick.span(path) == strict.span(path)
        and quick.key_span(path) == strict.key_span(path)
        and quick.written(path) == strict.written(path)
        for path in paths
    )


def told(data: Plain) -> object:
    """The data with the kind of each value, so that true is not 1 and text no number."""
    if isinstance(data, dict):
        return [(key, told(value)) for key, value in data.items()]
    if isinstance(data, list):
        return tuple(map(told, data))
    return (Fraction if isinstance(data, Fraction) else type(data)).__name__, data


def parts(data: Plain, path: Path = ()) -> Iterator[tuple[Path, Plain]]:
    """Everything in the data with its path."""
    yield path, data
    inside = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in inside:
        yield from parts(value, (*path, key))


@pytest.mark.parametrize(
    "text", [*AS_YAML, *AS_JSON], ids=[*(file.stem for file in CARS), "line 1", "line 2"]
)
def test_cars_are_read_alike(text: str) -> None:
    assert is_same(text)


ODD = (
    *('{"a": 1, "a": 2}', '{"a": NaN}', '{"a": -0}', '{"a": 1e99}', '{"a": "\\ud800"}', '{"a": "\\ud83c\\udfc1"}'),
    *('{"a" : 1}', '{"a"\n:1}', "{\t}", '{"a": [1,2]}', '{"a": ["1,2", "3,4 kg"]}', "{}", "[]", '{"a": {}}', "1", ""),
    *('{"' + "k" * 200 + '": 1}', '{"' + "k" * 2000 + '": 1}', '{"<<": {"a": 1}}', '{"": 1}', '{"1": 1}', '{"a": 1} x'),
    *('{"a": ' + "[" * depth + "]" * depth + "}" for depth in (38, 39, 40, 41, 2000)),
    *("a: " + "[" * depth + "]" * depth for depth in (38, 39, 40)),
    *("{a: 1,b}", "{a:b}", "{a: 143,4 kg}", "a: [95 mm,96 mm]", "a: [1,5 kg]", "{?a: 1}", "? a\n: 1", "a: 1\na: 2"),
    *("a: &b 1\nc: *b", "a: !!str 1", "a: |\n  x", "a: >-\n  x", "<<: 1", "true: 1", "no: 1", "null: 1", "1: 1", "-: 1"),
    *("a: -", "a: 1 #b", "a: 1 # b", "a: 'x'#b", "a: 'x' #b", "# c\na: 1", "a: [1,#b\n 2]", "a: [1, # b\n 2]"),
    *("a: {b: 1,\nc: 2}", "a: {b: 1,\n c: 2}", "a:\n  b: [1,\n  2]", "a: 'x\n y'", "a: x\n y", "'a\n b': 1", "a: .inf"),
    *("--- \na: 1", "a: 1\n---\nb: 1", "%YAML 1.2\n---\na: 1", "a: 1\n...", "a: 0x10", "a: +1", "a: 007", "a: 1.50"),
    *("a: True", "a: ~", "a:", "a: '1'", "a: 1_000", "a: 1e3", "a: .5", "a: 5.", "a: " + "1" * 41, "'': 1", "a: b: c"),
    *("a: \u2028", "a: \x07", "\ufeffa: 1", "a: 1\r\nb: 2\r\n", "a: [x, y: z]", "a: {x: , y: 1}", "a: @b", "a: `b"),
    *("a: what?", "a: 'x'\t#b", "a:\n- 1\n-2", "a: [1, 2", "a: \"\\x41\\u0041\"", "- a\n- b", "!!map {a: 1}", "&x {a: 1}"),
)  # fmt: skip


@pytest.mark.parametrize("text", ODD)
def test_what_is_odd_is_read_alike(text: str) -> None:
    assert is_same(text)


_PIECES = st.sampled_from(
    [*"ab1?#-|>&*!%@`'\"{}[],:.~<\\\n\t \r", ": ", ", ", "\n  ", "- ", " #", "# ", "\n- ", "1.5 kg", "true", "<<", "\\u", "---\n"]
)  # fmt: skip


@given(st.lists(_PIECES, max_size=14).map("".join))
@examples(4000)
def test_whatever_is_typed_is_read_alike(text: str) -> None:
    assert is_same(text)
    assert is_same("{" + text + "}")
    assert is_same("k:\n  l: " + text)
    assert is_same('{"k":' + text + "}")


@pytest.mark.deep
@given(st.sampled_from([*AS_YAML, *AS_JSON]), st.data())
@examples(600)
def test_a_car_with_slips_is_read_alike(text: str, data: st.DataObject) -> None:
    for _ in range(data.draw(st.integers(1, 2))):
        at = data.draw(st.integers(0, len(text) - 1))
        gone = data.draw(st.sampled_from([0, 0, 1, 2, 10]))
        text = text[:at] + data.draw(_PIECES) + text[at + gone :]
    assert is_same(text)


def test_places_are_made_only_when_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    document = parse_quickly(b"car: {number: '7'}\nengine: {ratio: 11.50, valves: 16}\n", "car.yaml", "CD")
    made: list[object] = []
    strictly = strict_yaml._read

    def noted(*of: Any) -> Any:
        made.append(of)
        return strictly(*of)

    monkeypatch.setattr(strict_yaml, "_read", noted)
    edited = document.edited([Edit(("event", "date"), "2026-07-05")], "CD199")
    assert edited.get(("engine", "valves")) == 16
    assert edited.written(("engine", "ratio")) == document.written(("engine", "ratio")) == "11.50"
    assert edited.file_at(("event", "date")) == COMMAND_LINE
    assert edited.file_at(("engine", "ratio")) == "car.yaml"
    assert not made
    assert str(edited.span(("engine", "valves"))) == "car.yaml:2:32"
    assert len(made) == 1


EDITS = (
    Edit(("engine", "ratio"), Fraction(3, 2)),
    Edit(("engine", "ratio"), REMOVE),
    Edit(("list", 1), REMOVE),
    Edit(("list", 3), "new"),
    Edit(("list", 0, "a"), 5),
    Edit(("made", "up"), {"b": [1]}),
    Edit(("engine",), {"valves": 8}),
)


def _edited(document: Document, edits: list[Edit]) -> Document | tuple[Problem, ...]:
    """The copy, made in two steps."""
    try:
        return document.edited(edits[:1], "CD199").edited(edits[1:], "CD199")
    except InputError as error:
        return error.problems


@given(st.lists(st.sampled_from(EDITS), min_size=1, max_size=3))
@examples(200)
def test_an_edited_copy_has_the_same_places(edits: list[Edit]) -> None:
    text = b"engine:\n  ratio: 11.50\n  valves: 16\nlist:\n- {a: 1, b: two}\n- x\n- [1.0]\n"
    first, second = (parse(text, "car.yaml", "CD") for parse in (parse_quickly, parse_document))
    quick, strict = (_edited(document, edits) for document in (first, second))
    if not isinstance(quick, Document) or not isinstance(strict, Document):
        assert quick == strict
        return
    paths = [path for path, _ in (*parts(strict.data), *parts(second.data))]
    assert told(quick.data) == told(strict.data)
    there = [path for path, _ in parts(strict.data)]
    assert [quick.file_at(path) for path in there] == [strict.span(path).file for path in there]
    assert [quick.file_at(path) for path in there] == [strict.file_at(path) for path in there]
    for of in (Document.written, Document.span, Document.key_span, Document.is_plain, Document.extent):
        assert [of(quick, path) for path in paths] == [of(strict, path) for path in paths]


@pytest.mark.parametrize("text", ["1", "-3", "1.50", ".5", "1e3", "-0.0"])
def test_a_number_tells_how_it_is_written(text: str) -> None:
    assert text_of_number(number_in(text)) == text


@pytest.mark.parametrize("text", ["007", "+1", "0x10", "-0", "true", "x", ""])
def test_what_does_not_tell_is_none(text: str) -> None:
    assert number_in(text) is None


def test_a_written_number_is_a_fraction_like_any_other() -> None:
    number = number_in("1.50")
    assert isinstance(number, NumberAsWritten)
    assert type(number + 1) is type(Fraction(number)) is Fraction
    assert {number} == {Fraction(3, 2)}
