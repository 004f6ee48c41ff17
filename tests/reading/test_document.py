from __future__ import annotations

from checker.reading.document import Document, Plain
from checker.reading.problems import Path, Span
from tests.reading.reading import read

TEXT = """\
formula: dunlin
car:
  number: "27"   # quoted
  name: 'Red''s'
weighing:
  fuel: 6 L
  readings:
    - {front_left: 158.5 kg, rear_left: 152.0 kg}
    - front_left: 158.0 kg

      rear_left: 152.5 kg
# a comment
clauses:
  "3.1":
    check: {limit: 'sum(a) < 3', text: "a\\tb"}
    act: >-
      Add
      ballast
empty:
last: long text
  over two lines
"""


def marked(document: Document, span: Span) -> str:
    """The text that a span covers."""
    lines = document.text.splitlines(keepends=True)
    starts = [0]
    for line in lines:
        starts.append(starts[-1] + len(line))
    return document.text[
        starts[span.line - 1] + span.column - 1 : starts[span.end_line - 1] + span.end_column - 1
    ]


def test_the_place_of_a_value() -> None:
    document = read(TEXT)
    spans: dict[Path, str] = {
        ("formula",): "dunlin",
        ("car", "number"): '"27"',
        ("car", "name"): "'Red''s'",
        ("weighing", "fuel"): "6 L",
        ("weighing", "readings", 0): "{front_left: 158.5 kg, rear_left: 152.0 kg}",
        ("weighing", "readings", 0, "rear_left"): "152.0 kg",
        ("weighing", "readings", 1): "front_left: 158.0 kg\n\n      rear_left: 152.5 kg",
        ("clauses", "3.1", "check", "limit"): "'sum(a) < 3'",
        ("empty",): "",
        ("last",): "long text\n  over two lines",
    }
    for path, text in spans.items():
        assert marked(document, document.span(path)) == text
    span = document.span(("weighing", "fuel"))
    assert span == Span("car.yaml", 6, 9, 6, 12, "  fuel: 6 L")


def test_a_mapping_ends_with_its_last_value_and_not_at_the_next_key() -> None:
    document = read(TEXT)
    assert marked(document, document.span(("car",))) == "number: \"27\"   # quoted\n  name: 'Red''s'"
    assert marked(document, document.span(("weighing", "readings"))).endswith("rear_left: 152.5 kg")
    whole = document.span(())
    assert (whole.line, whole.column, whole.end_line) == (1, 1, 21)


def test_the_place_of_a_key() -> None:
    document = read(TEXT)
    assert marked(document, document.key_span(("weighing", "fuel"))) == "fuel"
    assert marked(document, document.key_span(("clauses", "3.1"))) == '"3.1"'
    assert document.key_span(("empty",)) == Span("car.yaml", 19, 1, 19, 6, "empty:")
    assert document.key_span(("weighing", "readings", 0)) == document.span(("weighing", "readings", 0))
    assert document.key_span(()) == document.span(())


def test_what_the_file_does_not_have_is_placed_at_the_nearest_part_above() -> None:
    document = read(TEXT)
    car = document.span(("car",))
    for path in [("car", "class"), ("car", "class", "name"), ("car", 0), ("car", "number", "x")]:
        above = ("car", "number") if path[1] == "number" else ("car",)
        assert document.span(path) == document.key_span(path) == document.span(above)
    assert document.span(("weighing", "readings", 7, "x")) == document.span(("weighing", "readings"))
    assert document.span(("weighing", "readings", -1)) == document.span(("weighing", "readings"))
    assert document.span(("nothing",)) == document.span(())
    assert car.line == 3


def test_looking_up() -> None:
    document = read(TEXT)
    assert document.get(("weighing", "readings", 1, "front_left")) == "158.0 kg"
    assert document.get(("weighing", "readings", 2)) is None
    assert document.get(("weighing", "readings", -1), "default") == "default"
    assert document.get(("weighing", "readings", True), "default") == "default"
    assert document.get(("formula", 0), "default") == "default"
    assert document.get(("empty",), "default") is None
    assert document.get(()) is document.data
    assert document.has(("empty",))
    assert document.has(())
    assert not document.has(("absent",))
    assert not document.has(("car", "number", 0))


def test_scalars_as_written() -> None:
    document = read(TEXT)
    assert document.written(("car", "number")) == '"27"'
    assert document.written(("car", "name")) == "'Red''s'"
    assert document.written(("weighing", "fuel")) == "6 L"
    assert document.written(("empty",)) == ""
    assert document.written(("car",)) == ""
    assert document.written(("absent",)) == ""
    assert document.written(("last",)) == "long text\n  over two lines"
    assert document.is_plain(("weighing", "fuel"))
    assert document.is_plain(("empty",))
    for path in [("car", "number"), ("car", "name"), ("clauses", "3.1", "act"), ("car",), ("absent",)]:
        assert not document.is_plain(path)


def test_characters_within_a_scalar() -> None:
    document = read(TEXT)
    check = ("clauses", "3.1", "check")
    assert marked(document, document.span_within(("weighing", "fuel"), 2, 3)) == "L"
    assert marked(document, document.span_within((*check, "limit"), 4, 5)) == "a"
    assert document.span_within((*check, "limit"), 4, 5).column == document.span((*check, "limit")).column + 5
    assert marked(document, document.span_within(("car", "number"), 1, 2)) == "7"


def test_characters_beyond_a_scalar_are_its_end() -> None:
    document = read(TEXT)
    for path in [("weighing", "fuel"), ("car", "number")]:
        end = document.span_within(path, 99, 120)
        assert marked(document, end) == ""
        assert marked(document, document.span_within(path, -5, 99)).strip('"') in ("6 L", "27")
    assert document.span_within(("weighing", "fuel"), 5, 2).column == 12


def test_where_columns_do_not_map_the_first_character_is_shown() -> None:
    document = read(TEXT)
    check = ("clauses", "3.1")
    for path, first in [
        (("car", "name"), "'"),
        ((*check, "check", "text"), '"'),
        ((*check, "act"), ">"),
        (("last",), "l"),
    ]:
        assert marked(document, document.span_within(path, 1, 2)) == first
        assert document.span_within(path, 1, 2).column == document.span(path).column
    assert document.span_within(("car",), 1, 2) == document.span(("car",))
    assert document.span_within(("car", "absent"), 1, 2) == document.span(("car",))


def test_an_alias_is_placed_where_its_value_is_written() -> None:
    document = read("a: &x  {b: 1 kg}\nc: *x\n")
    assert marked(document, document.span(("c",))) == "{b: 1 kg}"
    assert document.span(("c", "b")) == document.span(("a", "b"))
    assert marked(document, document.key_span(("c",))) == "c"
    assert document.key_span(("c",)).line == 2


def test_an_anchor_is_not_part_of_the_value() -> None:
    document = read("a: &x 6 kg\nb: &y  # why\n  c: 1\nd: &z 'q'\ne: &w\nf: &v # w\n  {g: 1}\n")
    assert document.written(("a",)) == "6 kg"
    assert marked(document, document.span_within(("a",), 2, 4)) == "kg"
    assert marked(document, document.span(("b",))) == "c: 1"
    assert document.written(("d",)) == "'q'"
    assert not document.is_plain(("d",))
    assert document.written(("e",)) == ""
    assert document.is_plain(("e",))
    assert marked(document, document.span(("f",))) == "{g: 1}"


def test_columns_count_characters() -> None:
    document = read("{日本: 'é🏁', b: x}")
    assert document.span(("b",)).column == 15
    assert document.key_span(("日本",)) == Span("car.yaml", 1, 2, 1, 4, "{日本: 'é🏁', b: x}")


def test_what_a_document_says_of_itself() -> None:
    document = read("a: 1")
    data: Plain = document.data
    assert data == {"a": 1}
    assert (document.name, document.text) == ("car.yaml", "a: 1")
    assert repr(document) == "Document('car.yaml')"
