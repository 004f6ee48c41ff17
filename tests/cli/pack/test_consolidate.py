from __future__ import annotations

from pathlib import Path

import pytest

from checker.cli import exits
from checker.pack.editions.loading import load_edition
from checker.studies.change.comparison import compare
from tests.cli.running import run

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]


def test_the_text_in_force_is_printed_and_says_where_it_comes_from(capsys: Capsys, tmp_path: Path) -> None:
    file = tmp_path / "july.yaml"
    ran = run(capsys, "pack", "consolidate", "rulepacks/dunlin", "--on", "2026-07-05", "--output", str(file))
    assert ran.code == exits.COMPLIES
    text = file.read_text(encoding="utf-8")
    assert "# changed by bulletin 2026-B1, in force from 2026-07-01; before: 53.0 %" in text
    assert "2026-B2" not in text
    before = load_edition("rulepacks/dunlin/2026.1.yaml")
    assert [(c.clause, c.by) for c in compare(before, load_edition(str(file)))] == [("3.3", "0.6 %")]


def test_a_day_is_needed_and_must_be_covered(capsys: Capsys) -> None:
    assert run(capsys, "pack", "consolidate", "rulepacks/dunlin").code == exits.USAGE
    assert run(capsys, "pack", "consolidate", "rulepacks/dunlin", "--on", "2026-02-30").code == exits.USAGE
    assert (
        run(capsys, "pack", "consolidate", "rulepacks/dunlin", "--on", "2020-01-01").code == exits.UNREADABLE
    )
