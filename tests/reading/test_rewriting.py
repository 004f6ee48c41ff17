"""Edits in a file's text leave its comments, its order and the way it is written."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.reading.document import REMOVE, Edit
from checker.reading.printer import to_yaml
from checker.reading.problems import InputError
from checker.reading.rewriting import rewritten
from checker.reading.strict_yaml import parse_document

TEXT = """\
# who
car: {number: "7"}   # the number
weighing:
  wear: new    # as weighed
  readings:
    - {total: 600 kg}

ballast:        # bolted on
  - {label: B1, mass: 5 kg,
     at: {behind_front_axle: 1 mm}}   # lead
  # the other
  - label: B2
    mass: 3 kg
# the end
spare: [1, 2]
empty: []
"""


def edited(*edits: Edit, text: str = TEXT) -> str:
    document = parse_document(text.encode(), "car.yaml", "CD")
    found = rewritten(document, edits, "CD214")
    assert parse_document(found.encode(), "car.yaml", "CD").data == document.edited(edits, "CD214").data
    return found


def changed(*edits: Edit) -> list[str]:
    """Lines that are new, and those that are gone with a minus before them."""
    after, before = edited(*edits).splitlines(), TEXT.splitlines()
    return [line for line in after if line not in before] + [f"-{one}" for one in before if one not in after]


def test_an_entry_is_added_behind_the_others() -> None:
    new: Any = {"label": "B3", "mass": "2.5 kg", "sealed": True}
    assert changed(Edit(("ballast", 2), new)) == ["  - {label: B3, mass: 2.5 kg, sealed: true}"]


def test_a_key_is_added_in_the_way_of_its_mapping() -> None:
    assert changed(Edit(("weighing", "since"), [{"added": "B3"}])) == ["  since: [{added: B3}]"]
    assert '{number: "7", name: A}   # the number' in edited(Edit(("car", "name"), "A"))
    assert edited(Edit(("fuel", "at"), {"behind": "1 mm"})).endswith("\n\nfuel:\n  at: {behind: 1 mm}\n")


def test_a_value_is_exchanged_where_it_stands() -> None:
    found = changed(Edit(("ballast", 0, "at"), {"behind_front_axle": "9 mm"}))
    assert found[0] == "     at: {behind_front_axle: 9 mm}}   # lead"


def test_an_entry_is_taken_away_with_its_lines() -> None:
    assert "B1" not in edited(Edit(("ballast", 0), REMOVE))
    assert "# the other" in edited(Edit(("ballast", 0), REMOVE))
    assert "# the end" in edited(Edit(("ballast", 1), REMOVE))
    assert "# the end" in edited(Edit(("ballast", 1), REMOVE), Edit(("ballast", 0), REMOVE))


def test_a_list_in_brackets_takes_another() -> None:
    assert "spare: [1, 2, 3]" in edited(Edit(("spare", 2), 3))
    assert "empty: [{a: 1}]" in edited(Edit(("empty", 0), {"a": 1}))


def test_what_stands_in_brackets_loses_one() -> None:
    assert "spare: [2]\n" in edited(Edit(("spare", 0), REMOVE))
    assert "spare: [1]\n" in edited(Edit(("spare", 1), REMOVE))
    assert changed(Edit(("ballast", 0, "mass"), REMOVE)) == [
        "  - {label: B1, at: {behind_front_axle: 1 mm}}   # lead",
        "-  - {label: B1, mass: 5 kg,",
        "-     at: {behind_front_axle: 1 mm}}   # lead",
    ]


def test_several_edits_are_made_together() -> None:
    found = edited(
        Edit(("weighing", "wear"), "worn"),
        Edit(("weighing", "fuel"), "6 L"),
        Edit(("car", "name"), "A"),
        Edit(("ballast", 1, "mass"), "4 kg"),
        Edit(("empty",), REMOVE),
    )
    assert found == TEXT.replace("wear: new ", "wear: worn ").replace(
        "    - {total: 600 kg}\n", "    - {total: 600 kg}\n  fuel: 6 L\n"
    ).replace('"7"}', '"7", name: A}').replace("mass: 3 kg", "mass: 4 kg").replace("empty: []\n", "")


def test_what_is_not_there_is_told() -> None:
    with pytest.raises(InputError):
        edited(Edit(("ballast", 7), REMOVE))


LEAVES = st.one_of(st.integers(-9, 99), st.booleans(), st.text("ab: ,#[]{}\"'-1", max_size=6), st.none())
DATA = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from("abc"), inner, max_size=3),
    max_leaves=8,
)


def places(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    found = [path] if path else []
    if isinstance(data, dict):
        found += [place for key in data for place in places(data[key], (*path, key))]
        found.append((*path, "new"))
    if isinstance(data, list):
        found += [place for at in range(len(data)) for place in places(data[at], (*path, at))]
        found.append((*path, len(data)))
    return found


@given(
    data=st.dictionaries(st.sampled_from("abcd"), DATA, min_size=1, max_size=3), value=DATA, draw=st.data()
)
def test_the_text_says_what_the_edited_data_says(data: Any, value: Any, draw: st.DataObject) -> None:
    path = draw.draw(st.sampled_from(places(data)))
    removes = draw.draw(st.booleans())
    edit = Edit(path, REMOVE if removes else value)
    document = parse_document(to_yaml(data).encode(), "car.yaml", "CD")
    try:
        wanted = document.edited([edit], "CD214").data
    except InputError:
        return
    assert wanted is not None
    if wanted == {}:
        return
    assert parse_document(rewritten(document, [edit], "CD214").encode(), "c", "CD").data == wanted
