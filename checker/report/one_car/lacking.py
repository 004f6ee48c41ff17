"""What several parts of a report lack, told once and numbered; each part then names the numbers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from checker.car.described.standard import WHEELS
from checker.quantities.kind import IS_NOT_STATED
from checker.report.one_car.fuel import missing_words
from checker.report.one_car.missing import by_section
from checker.report.page import YELLOW, Page
from checker.report.wording import listed

_FEW = 2
"""Of so many parts that lack something each tells it by itself."""


class Lacking:
    """What the parts of a report lack.

    Args:
        parts: What each is not shown for, in the order in which it matters.
    """

    def __init__(self, parts: Iterable[Sequence[str]]) -> None:
        lacking = [part for part in parts if part]
        needed_by: dict[str, list[int]] = {}
        for place, part in enumerate(lacking):
            for says in part:
                if says.endswith(IS_NOT_STATED):
                    needed_by.setdefault(says.removesuffix(IS_NOT_STATED), []).append(place)
        groups: dict[tuple[str, tuple[int, ...]], list[str]] = {}
        for name, places in needed_by.items():
            groups.setdefault((name.partition(".")[0], tuple(dict.fromkeys(places))), []).append(name)
        self.groups: list[list[str]] = list(groups.values()) if len(lacking) > _FEW else []

    def words(self, not_shown: Sequence[str]) -> str:
        """What one part lacks, in few words."""
        if not self.groups:
            return missing_words(not_shown)
        absent = {says.removesuffix(IS_NOT_STATED) for says in not_shown if says.endswith(IS_NOT_STATED)}
        numbers = [str(at) for at, group in enumerate(self.groups, 1) if absent.intersection(group)]
        others = [says for says in not_shown if not says.endswith(IS_NOT_STATED)]
        needs = [f"needs {listed(numbers)} of what is not stated"] if numbers else []
        return "; ".join([*needs, *others])

    def put(self, page: Page) -> None:
        if self.groups:
            page.heading("Not stated, weights first", YELLOW, capitals=True)
            for at, group in enumerate(self.groups, 1):
                ((section, names),) = by_section(group).items()
                wheels = set(names) == set(WHEELS)
                page.labelled(str(at), f"{section}, each wheel" if wheels else ", ".join(group), 5, 2)
            page.blank()
