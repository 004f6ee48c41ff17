"""The rooms of a meeting stand in one order too: the record, tables, how it is judged, how cars stand, what is taken."""

from __future__ import annotations

from tests.test_imports import PACKAGE, imported

ROOMS = ("record", "tables", "session", "standing", "taking", "desk")


def test_imports_between_the_rooms_point_one_way() -> None:
    wrong = []
    for at, room in enumerate(ROOMS):
        for file in (PACKAGE / "meeting" / room).glob("*.py"):
            for line, name in imported(file):
                parts = name.split(".")
                if parts[1:2] == ["meeting"] and ROOMS.index(parts[2]) > at:
                    wrong.append(f"{room}/{file.name}:{line} imports {name}")
    assert wrong == []
    assert {file.name for file in (PACKAGE / "meeting").iterdir() if file.is_dir()} - {"__pycache__"} == set(
        ROOMS
    )
