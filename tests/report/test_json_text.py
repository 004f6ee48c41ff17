"""JSON for programs and for eyes: nothing unseen stands in it, and it says the same."""

from __future__ import annotations

import json
import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from checker.report.json_text import json_text


@given(
    st.recursive(
        st.text() | st.integers() | st.none(),
        lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
    )
)
def test_what_is_read_is_what_was_written_and_nothing_unseen_is_shown(document: object) -> None:
    text = json_text(document)
    assert json.loads(text) == document
    assert text.endswith("\n")
    unseen = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
    assert not [sign for sign in text[:-1] if unicodedata.category(sign) in unseen]


def test_what_turns_the_reading_direction_or_is_not_seen_is_escaped_and_letters_are_not() -> None:
    assert json_text({"name": "Größe 車 \u202e\x9b\u200b\x7f\U000e0001"}) == (
        '{"name": "Größe 車 \\u202e\\u009b\\u200b\\u007f\\udb40\\udc01"}\n'
    )


def test_it_can_be_indented() -> None:
    assert json_text({"a": [1]}, indent=1) == '{\n "a": [\n  1\n ]\n}\n'
