from __future__ import annotations

from dataclasses import fields
from typing import Any, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.meeting.record.chain import FIRST, canonical, linked
from checker.meeting.record.content_form import KINDS, NotReadable, read_content, to_plain
from checker.meeting.record.contents import Content

TEXT = st.text(alphabet=st.characters(exclude_categories=["Cs"]), max_size=8)
BY_HINT = {
    "str": TEXT,
    "int": st.integers(0, 10**6),
    "bool": st.booleans(),
    "list[str]": st.lists(TEXT, max_size=3),
    "dict[str, str]": st.dictionaries(TEXT, TEXT, max_size=3),
    "dict[str, int]": st.dictionaries(TEXT, st.integers(0, 99), max_size=3),
    "dict[str, object]": st.dictionaries(
        TEXT, st.lists(TEXT | st.integers() | st.none(), max_size=2), max_size=2
    ),
    "dict[str, dict[str, str]]": st.dictionaries(TEXT, st.dictionaries(TEXT, TEXT, max_size=2), max_size=2),
}


@st.composite
def contents(draw: st.DrawFn) -> Content:
    kind: Any = draw(st.sampled_from(list(KINDS.values())))
    content: Content = kind(**{field.name: draw(BY_HINT[str(field.type)]) for field in fields(kind)})
    return content


@given(contents())
def test_what_is_written_is_read_back_equal(content: Content) -> None:
    entry = linked(1, content.KIND, "2026-05-03T07:00:00.000Z", "KV", canonical(to_plain(content)), FIRST)
    assert read_content(entry) == content


@given(contents())
def test_what_is_at_its_default_is_left_out_so_that_a_later_field_changes_no_older_entry(
    content: Content,
) -> None:
    plain = to_plain(content)
    for field in fields(content):
        assert (field.name in plain) == (getattr(content, field.name) != field.default)


@given(contents(), st.data())
def test_a_field_of_another_type_is_not_read(content: Content, data: st.DataObject) -> None:
    plain = to_plain(content)
    if not plain:
        return
    name = data.draw(st.sampled_from(sorted(plain)))
    plain[name] = None
    entry = linked(1, content.KIND, "", "KV", canonical(plain), FIRST)
    with pytest.raises(NotReadable):
        read_content(entry)


def test_kinds_have_names_of_their_own() -> None:
    assert len(KINDS) == len(get_args(Content)) == 20
    assert all(kind.__doc__ for kind in KINDS.values())
