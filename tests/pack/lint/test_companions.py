"""Procedures beside a pack that stand in each other's way, before a meeting is opened."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checker.meeting.taking.opening import Opening, open_meeting
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.lint.everything import lint
from checker.reading.problems import InputError
from tests.pack.folders import EDITION, write

ALL, ONE, OLD = (
    "procedure: kart\n",
    'procedure: kart\neditions: ["1"]\n',
    'procedure: kart\neditions: ["0"]\n',
)


@pytest.mark.parametrize(
    ("procedures", "told"),
    [
        ((), []),
        ((ALL,), []),
        ((ONE,), []),
        ((ONE, OLD), []),
        ((ALL, ALL), [("p1.yaml", False, "two procedures are for edition 1")]),
        ((ONE, ALL), [("p1.yaml", False, "two procedures are for edition 1")]),
        ((ONE, OLD, ONE), [("p2.yaml", False, "two procedures are for edition 1")]),
        ((OLD,), [("p0.yaml", True, "no procedure here is for edition 1")]),
        ((OLD, OLD), [("p1.yaml", True, "no procedure here is for edition 1")]),
    ],
)
def test_lint_tells_what_opening_a_meeting_would_refuse(
    tmp_path: Path, procedures: tuple[str, ...], told: list[tuple[str, bool, str]]
) -> None:
    folder = tmp_path / "kart"
    write(folder, {"e.yaml": EDITION, **{f"p{at}.yaml": text for at, text in enumerate(procedures)}})
    found = [problem for problem in lint(folder) if problem.code == "PK612"]
    assert [(Path(p.span.file).name if p.span else "", p.warning) for p in found] == [one[:2] for one in told]
    assert all(problem.message.startswith(one[2]) for problem, one in zip(found, told, strict=True))
    assert load_pack(open_folder(folder), date(2026, 7, 5)).edition == "1", "no car is judged by a procedure"
    opening = Opening(str(folder), "2026-07-05", ("KV",))
    if told:
        with pytest.raises(InputError) as caught:
            open_meeting(tmp_path / "m", opening)
        assert [problem.code for problem in caught.value.problems] == ["MT250"]
    else:
        open_meeting(tmp_path / "m", opening)
