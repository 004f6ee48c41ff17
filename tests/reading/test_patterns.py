"""A pattern is compiled when it is first used, and then is that of the standard library."""

from __future__ import annotations

import re

import pytest

from checker.reading.file_bytes import REFUSED
from checker.reading.patterns import pattern


def test_it_is_compiled_when_it_is_used(monkeypatch: pytest.MonkeyPatch) -> None:
    compiled: list[str] = []
    really = re.compile

    def noted(text: str, flags: int) -> re.Pattern[str]:
        compiled.append(text)
        return really(text, flags)

    monkeypatch.setattr(re, "compile", noted)
    word = pattern(r"([a-z]+)!", re.IGNORECASE)
    assert compiled == []
    found = word.search("Stop!")
    assert found is not None
    assert found[1] == "Stop"
    assert word.sub("", "a Stop!") == "a "
    assert word.fullmatch("stop") is None
    assert word.pattern == r"([a-z]+)!"
    for _ in range(3):
        word.search("Go!")
    assert len(compiled) == 4  # once for each of its methods; Python itself keeps the pattern


def test_a_text_with_any_character_that_an_editor_would_not_show_is_refused() -> None:
    shown = re.compile(
        r"[\t\n\r\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]+"
    )
    every = "".join(map(chr, range(0x110000)))
    refused = set(REFUSED.findall(every))
    assert refused
    assert refused == set(shown.sub("", every))
