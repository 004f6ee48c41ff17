"""Four figures in the places of the wheels, the one that is being typed marked."""

from __future__ import annotations

from collections.abc import Mapping

from checker.car.described.standard import WHEELS
from checker.report.desk.figures import large
from checker.report.page import BOLD, Page


def wheels_drawn(page: Page, typed: Mapping[str, str], now: str, before: str) -> None:
    """The figures by wheel.

    Args:
        page: To draw on.
        typed: By wheel, what is typed; of `now` with its cursor.
        now: The wheel that is being typed.
        before: Stands before the wheel's name, e.g. "under the".
    """
    half = (page.width - 2) // 2
    for pair in (WHEELS[:2], WHEELS[2:]):
        labels = [f"{'>' if wheel == now else ' '} {before} {wheel_words(wheel)}".rstrip() for wheel in pair]
        if max(map(len, labels)) >= half:
            labels = [f"{'>' if wheel == now else ' '} {wheel_words(wheel)}" for wheel in pair]
        page.drawn(f"{labels[0]:<{half}}  {labels[1]}", BOLD if now in pair else "")
        figures = [
            large(typed[wheel].replace(",", "."), half - 2) if wheel in typed else ["-"] for wheel in pair
        ]
        height = max(map(len, figures))
        for row in range(height):
            left, right = (lines[row] if row < len(lines) else "" for lines in figures)
            page.drawn(f"  {left:<{half - 2}}    {right}")


def wheel_words(wheel: str) -> str:
    """ "front left"."""
    return wheel.replace("_", " ")


def with_cursor(typed: Mapping[str, str], now: str, text: str) -> dict[str, str]:
    """What is typed by wheel, with the cursor behind that of the present one."""
    return {**typed, now: f"{text}_"}
