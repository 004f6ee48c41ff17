from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from checker.reading.plain_text import printable, shortened
from tests.examples import each_row


@each_row("text", ["Redshank", "Bjørn Ångström", "日本", "Ελένη", "e\u0301", "±0.5 kg ≤ 3", "🏁", ""])
def test_what_can_be_seen_stays(text: str) -> None:
    assert printable(text) == text


@each_row(
    ("text", "shown"),
    [
        ("\x1b[31mred\x1b[0m", "\\x1b[31mred\\x1b[0m"),
        ("\x9b31m", "\\x9b31m"),
        ("a\x00b\x07\x08\x7f", "a\\x00b\\x07\\x08\\x7f"),
        ("abc\u202edef", "abc\\u202edef"),
        ("\u2066a\u2069", "\\u2066a\\u2069"),
        ("a\u200bb\ufeff", "a\\u200bb\\ufeff"),
        ("a\u2028b", "a\\u2028b"),
        ("\U000e0041", "\\U000e0041"),
        ("\ud83c", "\\ud83c"),
        ("a\tb\nc\r\nd\re\u00a0f", "a b c d e f"),
    ],
)
def test_what_cannot_be_seen_is_escaped(text: str, shown: str) -> None:
    assert printable(text) == shown


def test_line_ends_may_be_kept() -> None:
    assert printable("a\nb\r\nc\rd\x1b", keep_newlines=True) == "a\nb\nc\nd\\x1b"


@given(st.text(st.characters()))
def test_the_result_is_printable(text: str) -> None:
    assert printable(text).isprintable()
    assert printable(text, keep_newlines=True).replace("\n", "").isprintable()
    assert printable(printable(text)) == printable(text)


def test_long_text_is_shortened_for_a_message() -> None:
    assert shortened("a" * 60) == "a" * 60
    assert shortened("a" * 50 + "b" * 50) == "a" * 28 + "..." + "b" * 28
