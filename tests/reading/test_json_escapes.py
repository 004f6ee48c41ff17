from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.reading.json_escapes import hide_surrogate_pairs
from tests.examples import each_row
from tests.reading.reading import places, read

# RFC 8259, section 7: the G clef U+1D11E is escaped as \uD834\uDD1E.
CLEF = "\U0001d11e"


@each_row(
    ("text", "value"),
    [
        (r'"\uD834\uDD1E"', CLEF),
        (r'"\ud834\udd1e"', CLEF),
        (r'"\uD834\udd1e\uD834\uDD1E"', CLEF * 2),
        (r'"\\\ud834\udd1e"', f"\\{CLEF}"),
        (r'"\\ud834\\udd1e"', r"\ud834\udd1e"),
        (r'"\ud834\udd1e \ue000\uE001 \U0000e002' + '\ue003"', f"{CLEF} \ue000\ue001 \ue002\ue003"),
        ('"\ue000\\ud834\\udd1e\ue001"', f"\ue000{CLEF}\ue001"),
        (
            r'["\ud834\udd1e", \ud834\uDD1E, ' + r"'\uD834\udd1E \ue000']",
            [CLEF, r"\ud834\uDD1E", r"\uD834\udd1E \ue000"],
        ),
        ("a: |\n  \\uD834\\uDD1E\n", {"a": "\\uD834\\uDD1E\n"}),
        (r'{"\ud834\udd1e": 1}', {CLEF: 1}),
    ],
)
def test_a_pair_is_one_character_in_double_quotes_and_nothing_elsewhere(text: str, value: object) -> None:
    assert read(text).data == value


@pytest.mark.parametrize(
    "text", [r'"\ud834"', r'"\udd1e"', r'"\udd1e\ud834"', r'"\\\ud834\\udd1e"', r'"\ud834x"']
)
def test_half_a_pair_is_refused(text: str) -> None:
    assert places(text)[0].startswith("XX112 1:")


def test_columns_after_a_pair_are_right() -> None:
    assert places(r'{"\ud834\udd1e": 1, "a": 2, "a": 3}') == ["XX113 1:29"]


def test_a_text_without_pairs_is_left_alone() -> None:
    assert hide_surrogate_pairs("a: 1") is None
    assert hide_surrogate_pairs(r'"\u00e9 \ue000"') is None


@given(st.text(st.sampled_from(f"ab\\\"' {CLEF}🏁\ue000\ue001\uf8ff\u00e9"), max_size=12))
def test_what_python_escapes_is_read_back(value: str) -> None:
    assert read(json.dumps(value)).data == value
    hidden = hide_surrogate_pairs(json.dumps(value))
    assert hidden is None or len(hidden.text) == len(json.dumps(value))


def test_more_different_halves_than_there_are_private_characters_are_refused_not_misread() -> None:
    private = "".join(map(chr, range(0xE000, 0xF8FF + 1)))
    assert read(f'"{private[1:]}\\ud834\\ud834"'.replace("\\ud834\\ud834", "x")).data == private[1:] + "x"
    assert places(f'"{private}\\ud834\\udd1e"') == ["XX112 1:6402"]
    assert places(f'"{private[1:]}\\ud834\\udd1e"') == ["XX112 1:6407"]
    assert read(f'"{private[2:]}\\ud834\\udd1e"').data == private[2:] + CLEF
