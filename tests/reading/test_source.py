from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from checker.reading.problems import Span
from checker.reading.source import FileText


def test_a_span_has_lines_and_columns_from_one_and_its_line() -> None:
    source = FileText("car.yaml", "a: 1\r\nbc: 2\rd\n", "")
    assert source.span(0, 1) == Span("car.yaml", 1, 1, 1, 2, "a: 1")
    assert source.span(6, 8) == Span("car.yaml", 2, 1, 2, 3, "bc: 2")
    assert source.span(10, 13) == Span("car.yaml", 2, 5, 3, 2, "bc: 2")
    assert source.span(14, 14) == Span("car.yaml", 4, 1, 4, 1, "")


@given(st.text("ab\n\r日", max_size=30), st.data())
def test_a_place_leads_back_to_the_character(text: str, choose: st.DataObject) -> None:
    offset = choose.draw(st.integers(0, len(text)))
    span = FileText("x", text, "").span(offset, offset)
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    assert span.source_line == lines[span.line - 1]
    if offset < len(text) and text[offset] not in "\r\n":
        assert span.source_line[span.column - 1] == text[offset]
