"""What makes up a car stands in one order: an import points to the same room or to one before it."""

from __future__ import annotations

from tests.test_imports import PACKAGE, imported

ROOMS = (
    "reasons",
    "described",
    "reading",
    "gear",
    "weights",
    "remarks",
    "premises",
    "car",
    "errors",
    "scene",
    "declaration",
)
"""Folders of `checker/car`, and the files beside them."""


def test_imports_between_the_rooms_point_one_way() -> None:
    wrong = []
    for file in (PACKAGE / "car").rglob("*.py"):
        room = file.relative_to(PACKAGE / "car").parts[0].removesuffix(".py")
        for line, name in imported(file):
            parts = name.split(".")
            if room != "__init__" and parts[1] == "car" and ROOMS.index(parts[2]) > ROOMS.index(room):
                wrong.append(f"{file.relative_to(PACKAGE)}:{line} imports {name}")
    assert wrong == []
    assert not any("TYPE_CHECKING" in file.read_text("utf-8") for file in (PACKAGE / "car").rglob("*.py"))
