from __future__ import annotations

import json
from pathlib import Path

import pytest

from checker.cli import exits
from tests.cli.running import run

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]
OLD, NEW = "rulepacks/dunlin/2025.1.yaml", "rulepacks/dunlin/2026.1.yaml"


def test_editions_are_compared_as_text_json_and_markdown(capsys: Capsys) -> None:
    text = run(capsys, "pack", "compare", OLD, NEW)
    assert text.code == exits.COMPLIES
    assert "3.3 Inside weight: tightened by 1.2 %" in text.out
    assert "edition 2026.1 as it stands, without bulletins: 2026-B1" in text.out, "what is left aside is told"
    document = json.loads(run(capsys, "pack", "compare", OLD, NEW, "--format", "json").out)
    assert (document["document"], document["version"]) == ("comparison", 1)
    assert {"clause", "change", "old", "new", "by", "words"} <= set(document["changes"][0])
    assert "# Changes to" in run(capsys, "pack", "compare", OLD, NEW, "--format", "markdown").out


def test_days_of_a_folder_are_compared_with_their_bulletins(capsys: Capsys) -> None:
    ran = run(
        capsys,
        "pack",
        "compare",
        "rulepacks/dunlin@2026-06-30",
        "rulepacks/dunlin@2026-07-01",
        "--format",
        "json",
    )
    document = json.loads(ran.out)
    assert [(c["clause"], c["change"], c["by"]) for c in document["changes"]] == [
        ("3.3", "tightened", "0.6 %")
    ]
    assert document["new"]["bulletins"] == ["2026-B1"]


def test_a_pack_does_not_differ_from_itself(capsys: Capsys) -> None:
    document = json.loads(run(capsys, "pack", "compare", NEW, NEW, "--format", "json").out)
    assert document["changes"] == []


def test_the_result_can_be_written_to_a_file(capsys: Capsys, tmp_path: Path) -> None:
    file = tmp_path / "changes.md"
    ran = run(capsys, "pack", "compare", OLD, NEW, "--format", "markdown", "--output", str(file))
    assert (ran.code, ran.out) == (exits.COMPLIES, "")
    assert file.read_text(encoding="utf-8").startswith("# Changes to")
    assert run(capsys, "pack", "compare", OLD, str(tmp_path / "no.yaml")).code == exits.UNREADABLE
