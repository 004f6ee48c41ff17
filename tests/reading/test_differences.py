"""The edits between two states of a file lead from one to the other, and touch nothing else."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from checker.reading.differences import differences, same
from checker.reading.document import REMOVE, Edit
from checker.reading.printer import to_yaml
from checker.reading.rewriting import rewritten
from checker.reading.strict_yaml import parse_document
from tests.reading.test_rewriting import DATA, TEXT, places


def test_one_changed_value_is_one_edit() -> None:
    before: Any = {"a": {"b": "1 kg", "c": ["x", "y"]}}
    assert differences(before, {"a": {"b": "2 kg", "c": ["x", "y"]}}) == [Edit(("a", "b"), "2 kg")]
    assert differences(before, {"a": {"b": "1 kg", "c": ["x", "y", "z"]}}) == [Edit(("a", "c", 2), "z")]
    assert differences(before, {"a": {"b": "1 kg", "c": ["y"]}}) == [Edit(("a", "c", 0), REMOVE)]
    assert differences(before, {"a": {"b": "1 kg"}}) == [Edit(("a", "c"), REMOVE)]


def test_a_truth_is_no_number() -> None:
    assert not same(True, 1)
    assert not same([0], [False])
    assert same(2, Fraction(2))


FILES = st.dictionaries(st.sampled_from("abcd"), DATA, min_size=1, max_size=4)


@given(before=FILES, after=FILES)
def test_they_lead_from_one_to_the_other(before: Any, after: Any) -> None:
    document = parse_document(to_yaml(before).encode(), "car.yaml", "CD")
    text = rewritten(document, differences(before, after), "CD214")
    assert same(parse_document(text.encode(), "car.yaml", "CD").data, after)


@given(after=st.data())
def test_several_edits_keep_every_comment_of_what_is_not_edited(after: st.DataObject) -> None:
    document = parse_document(TEXT.encode(), "car.yaml", "CD")
    leaves = [path for path in places(document.data) if document.has(path) and _is_leaf(document.get(path))]
    chosen = after.draw(st.lists(st.sampled_from(leaves), unique=True, max_size=5))
    edits = [Edit(path, "other") for path in chosen]
    text = rewritten(document, edits, "CD214")
    expected = TEXT
    for start, end in sorted(filter(None, map(document.extent, chosen)), reverse=True):
        expected = expected[:start] + "other" + expected[end:]
    assert text == expected


def _is_leaf(value: object) -> bool:
    return value is not None and not isinstance(value, dict | list)
