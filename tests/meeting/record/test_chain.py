from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.meeting.record.chain import (
    FIRST,
    RecordEntry,
    canonical,
    faults,
    from_print,
    is_canonical,
    linked,
    printed,
)
from tests.examples import each_row

plain = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=10,
)
contents = st.dictionaries(st.text(max_size=8), plain, max_size=4)


def chain_of(*data: object) -> list[RecordEntry]:
    found: list[RecordEntry] = []
    previous = FIRST
    for number, content in enumerate(data, start=1):
        entry = linked(
            number, "said", f"2026-05-03T07:00:{number:02}.000Z", "KV", canonical(content), previous
        )
        found.append(entry)
        previous = entry.hash
    return found


FIVE = chain_of({"a": 1}, {"b": "two"}, {}, {"d": [1, 2]}, {"e": None})


def test_canonical_text_has_sorted_keys_no_blanks_and_letters_as_they_are() -> None:
    assert canonical({"b": [1, True, None], "a": "Küste"}) == '{"a":"Küste","b":[1,true,null]}'


@each_row("data", [1.5, {"a": 0.1}, [float("nan")], {1: "a"}, {"a": b"bytes"}, object()])
def test_what_has_no_exact_text_is_refused(data: object) -> None:
    with pytest.raises(TypeError):
        canonical(data)


@given(contents)
def test_canonical_text_reads_back_equal_and_is_its_own_canonical_text(data: dict[str, object]) -> None:
    try:
        text = canonical(data)
        text.encode()
    except UnicodeEncodeError:
        return  # half a surrogate pair, which no keyboard types
    assert json.loads(text) == data
    assert is_canonical(text)


@each_row("text", ['{"b":1,"a":2}', '{"a": 1}', "[1]", "1", "", '{"a":1.0}', '{"a":1,"a":2}', '{"a":1}\n'])
def test_another_spelling_is_not_canonical(text: str) -> None:
    assert not is_canonical(text)


def test_the_hash_of_an_entry_is_the_sha256_of_one_line_that_anybody_can_check() -> None:
    entry = FIVE[1]
    line = (
        '{"at":"2026-05-03T07:00:02.000Z","by":"KV","content":{"b":"two"},"kind":"said","number":2,"previous":"'
        + FIVE[0].hash
        + '"}'
    )
    assert entry.text == line
    assert entry.hash == hashlib.sha256(line.encode()).hexdigest()
    assert json.loads(line)["content"] == {"b": "two"}


def test_a_sound_chain_has_no_faults() -> None:
    assert faults(FIVE) == []
    assert faults([]) == []


@pytest.mark.parametrize("field", ["kind", "at", "by", "content", "previous", "hash"])
@pytest.mark.parametrize("at", range(5))
def test_a_change_of_any_part_of_any_entry_is_named(field: str, at: int) -> None:
    changed = list(FIVE)
    value: Any = {"content": '{"x":1}', "previous": "f" * 64, "hash": "e" * 64}.get(field, "other")
    changed[at] = replace(FIVE[at], **{field: value})
    found = faults(changed)
    assert found
    assert f"entry {at + 1}" in " ".join(fault.message for fault in found)


def test_an_entry_that_was_changed_and_hashed_anew_no_longer_carries_the_one_after_it() -> None:
    forged = linked(3, "said", FIVE[2].at, "KV", canonical({"c": "forged"}), FIVE[1].hash)
    (found,) = faults([*FIVE[:2], forged, *FIVE[3:]])
    assert found.code == "MT402"
    assert found.message == "entry 3 is not what entry 4 was written after: one of the two was exchanged"


@pytest.mark.parametrize("gone", range(4))
def test_an_entry_taken_out_is_named(gone: int) -> None:
    (found,) = faults([entry for at, entry in enumerate(FIVE) if at != gone])
    assert (found.code, found.message) == ("MT402", f"entry {gone + 1} is missing before entry {gone + 2}")


def test_several_entries_taken_out_are_named_together() -> None:
    (found,) = faults([FIVE[0], FIVE[4]])
    assert found.message == "entries 2 to 4 are missing before entry 5"


def test_entries_in_another_order_are_named() -> None:
    found = faults([FIVE[0], FIVE[2], FIVE[1], FIVE[3], FIVE[4]])
    assert {fault.code for fault in found} == {"MT402"}


def test_a_row_that_was_renumbered_to_fill_a_gap_is_named() -> None:
    moved = [*FIVE[:2], *(replace(entry, number=entry.number - 1) for entry in FIVE[3:])]
    assert {fault.code for fault in faults(moved)} == {"MT401", "MT402"}


def test_content_that_reaches_into_the_other_parts_of_the_line_is_found() -> None:
    """The line is put together as text; content that closes the object early must not pass as something else."""
    crafted = '{"a":1},"kind":"said","number":1,"previous":"' + FIRST + '"}'
    entry = linked(1, "said", FIVE[0].at, "KV", crafted, FIRST)
    assert [fault.code for fault in faults([entry])] == ["MT401"]


def test_a_cut_tail_shows_only_against_a_hash_known_from_outside() -> None:
    assert faults(FIVE[:3]) == []
    assert FIVE[4].hash not in {entry.hash for entry in FIVE[:3]}


def test_a_hash_is_printed_in_groups_and_read_back_from_paper() -> None:
    shown = printed(FIVE[0].hash)
    assert len(shown.split()) == 5
    assert all(len(group) == 4 for group in shown.split())
    assert FIVE[0].hash.startswith(from_print(shown.upper()))
    assert from_print(printed(FIVE[0].hash, 64)) == FIVE[0].hash


@pytest.mark.parametrize("text", ["", "12ab", "xyz" * 10, "a" * 65, "0123456789a"])
def test_what_is_no_printed_hash_is_told(text: str) -> None:
    with pytest.raises(ValueError, match="digits"):
        from_print(text)
