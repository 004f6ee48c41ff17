"""What has to be edited in data so that it becomes other data."""

from __future__ import annotations

from difflib import SequenceMatcher

from checker.reading.edits import REMOVE, Edit
from checker.reading.problems import Path
from checker.reading.values import Plain


def differences(before: Plain, after: Plain, path: Path = ()) -> list[Edit]:
    """The edits, as small as they can be, in an order in which they can be made one after the other."""
    if same(before, after):
        return []
    if isinstance(before, dict) and isinstance(after, dict) and before and after:
        return _of_mappings(before, after, path)
    if isinstance(before, list) and isinstance(after, list) and before and after:
        found = _of_lists(before, after, path)
        if found is not None:
            return found
    return [Edit(path, after)]


def same(one: Plain, other: Plain) -> bool:
    """Whether both say the same: 1 is not true, and 2 is 2.0."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return isinstance(one, bool) == isinstance(other, bool) and one == other


def _of_mappings(before: dict[str, Plain], after: dict[str, Plain], path: Path) -> list[Edit]:
    found = []
    for key, value in after.items():
        if key in before:
            found += differences(before[key], value, (*path, key))
        else:
            found.append(Edit((*path, key), value))
    return found + [Edit((*path, key), REMOVE) for key in before if key not in after]


def _of_lists(before: list[Plain], after: list[Plain], path: Path) -> list[Edit] | None:
    """Edits of entries, the last first, then what is added behind; None where something comes in between."""
    if len(before) == len(after):
        pairs = zip(before, after, strict=True)
        return [edit for at, (old, new) in enumerate(pairs) for edit in differences(old, new, (*path, at))]
    found: list[Edit] = []
    added: list[Plain] = []
    codes = SequenceMatcher(None, [*map(repr, before)], [*map(repr, after)], autojunk=False).get_opcodes()
    for what, start, end, new_start, new_end in reversed(codes):
        if what == "equal":
            continue
        paired = min(end - start, new_end - new_start)
        if new_end - new_start > paired:
            if end < len(before):
                return None
            added = after[new_start + paired : new_end]
        found += [Edit((*path, at), REMOVE) for at in range(end - 1, start + paired - 1, -1)]
        for at in range(paired - 1, -1, -1):
            found += differences(before[start + at], after[new_start + at], (*path, start + at))
    left = len(after) - len(added)
    return found + [Edit((*path, left + at), value) for at, value in enumerate(added)]
