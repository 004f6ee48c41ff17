from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from checker.cli import exits
from tests.cli.running import run
from tests.examples import quick_first

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]


def test_members_are_told_when_why_what_and_who(capsys: Capsys) -> None:
    cars = ("samples/cars/legal.yaml", "samples/cars/built-2025.yaml")
    ran = run(capsys, "pack", "notice", "rulepacks/dunlin", "2026-B1", *cars)
    told = " ".join(ran.out.split())
    assert ran.code == exits.COMPLIES
    assert told.startswith("Notice to members: bulletin 2026-B1 to Dunlin Formula technical regulations")
    for words in (
        "In force from 2026-07-01.",
        "Tyre wear on the outside front has doubled",
        "before The two wheels nearer the centre of the course carry at most 53.0 %",
        "now The two wheels nearer the centre of the course carry at most 52.4 %",
        "tightened by 0.6 %",
        "car 75 Plover, before 2026-07-01: clause 3.3:",
        "of 2 cars looked at have to act.",
    ):
        assert words in told, words


def test_as_markdown_without_cars_nobody_is_named(capsys: Capsys) -> None:
    told = run(capsys, "pack", "notice", "rulepacks/dunlin", "2026-B2", "--format", "markdown").out
    assert told.startswith("# Notice to members")
    assert "## 6.3" in told
    assert "Who has to act" not in told


def test_a_bulletin_that_is_not_there_is_a_wrong_command_line(capsys: Capsys) -> None:
    assert run(capsys, "pack", "notice", "rulepacks/dunlin", "2026-B9").code == exits.USAGE


@pytest.mark.parametrize("form", quick_first(["text", "markdown"], 1))
@pytest.mark.parametrize(
    ("change", "clause", "says", "now"),
    [
        ('"3.3", at: check.at_most, for: 52.4 %, read: 52.0 %', "3.3 Inside weight", "52.4 %", "52.0 %"),
        ('tables.minimum_weight, at: "rows[1].value", for: 585 kg, read: 590 kg', "3.1 Minimum weight", "585 kg", "590 kg"),
    ],
)  # fmt: skip
def test_notice_and_book_say_beside_the_clause_where_its_wording_says_the_old_number(
    change: str, clause: str, says: str, now: str, form: str, capsys: Capsys, tmp_path: Path
) -> None:
    folder = tmp_path / "dunlin"
    shutil.copytree("rulepacks/dunlin", folder)
    (folder / "2026-B3.yaml").write_text(
        'bulletin: 2026-B3\namends: {pack: dunlin, edition: "2026.1"}\nin_force: {from: 2026-08-15}\n'
        f"reason: Tyres wear out in one meeting\nchanges:\n  - {{change: {change}}}\n"
    )
    for _ in ("compiled", "kept"):
        ran = run(capsys, "pack", "notice", str(folder), "2026-B3", "--format", form)
        told = " ".join(ran.out.translate({ord("*"): "", ord("`"): ""}).split())
        told = told[told.index(clause) :]
        assert f"the text says {says}, which the check does not: it has" in told
        assert f"{says} becomes {now}" in told
        assert told.count("weight.total at least minimum_weight") == clause.startswith("3.1"), "once"
    book = run(capsys, "pack", "book", f"{folder}@2026-08-15").out
    [but] = [line for line in book.splitlines() if "**But:**" in line]
    assert but.startswith(f"> **But:** the text says {says}, which the check does not: it has")
    assert f"### {clause}\n" in book[: book.index(but)]
    assert "**But:**" not in run(capsys, "pack", "book", f"{folder}@2026-08-14").out
