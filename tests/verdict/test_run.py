"""Judging files by their names, as a program does that runs for hours."""

from __future__ import annotations

from pathlib import Path

from checker import inspect_files
from tests.pack.folders import EDITION, bulletin, write

CAR = "formula: kart\ncar: {number: '27'}\nevent: {date: 2026-07-05}\nframe: {width: 1350 mm}\n"


def test_a_pack_that_changed_is_read_again(tmp_path: Path) -> None:
    pack = write(tmp_path / "kart", {"e.yaml": EDITION, "list.yaml": "- tin\n"})
    write(tmp_path, {"car.yaml": CAR})

    def outcome() -> str:
        inspection = inspect_files(str(tmp_path / "car.yaml"), pack=str(pack))
        assert inspection.pack is inspect_files(str(tmp_path / "car.yaml"), pack=str(pack)).pack, (
            "read only once"
        )
        return next(o.outcome for o in inspection.outcomes if o.clause.number == "1")

    def rewrite(name: str, old: str, new: str) -> None:
        text = (pack / name).read_text()
        assert len(old) == len(new)
        assert old in text
        (pack / name).write_text(text.replace(old, new))

    assert outcome() == "pass"
    rewrite("e.yaml", "at_most: 1400 mm", "at_most: 1300 mm")
    assert outcome() == "fail"
    rewrite("e.yaml", "at_most: 1300 mm", "at_most: 1400 mm")
    write(pack, {"b.yaml": bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1300 mm}')})
    assert outcome() == "fail"
    rewrite("b.yaml", "from: 2026-06-01", "from: 2026-08-01")
    assert outcome() == "pass"
    rewrite("b.yaml", "from: 2026-08-01", "from: 2026-06-01")
    assert outcome() == "fail"
    (pack / "b.yaml").unlink()
    with_words = (
        (pack / "e.yaml")
        .read_text()
        .replace("clauses:", "materials: {soft: {words_from: list.yaml}}\nclauses:")
    )
    (pack / "e.yaml").write_text(with_words)
    before = inspect_files(str(tmp_path / "car.yaml"), pack=str(pack)).pack
    rewrite("list.yaml", "tin", "tar")
    assert inspect_files(str(tmp_path / "car.yaml"), pack=str(pack)).pack.sha256 != before.sha256
