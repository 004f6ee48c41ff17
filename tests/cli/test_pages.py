"""Every report as a page of HTML: sound, alone, the same each time; and pictures of those that have some."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.cli.running import run
from tests.cli.test_documents import DUNLIN, LEGAL, PRINTED, weighed
from tests.examples import quick_first
from tests.report.html.reading import Reading

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

PAGES: dict[str, Sequence[str]] = {
    **{name: given for name, given in PRINTED.items() if name not in ("pack lint", "meeting export")},
    "pack calendar": (DUNLIN, "--from", "2026-01-01", "--until", "2026-12-31"),
    "pack book": (DUNLIN, "--on", "2026-05-24"),
    "card": ("samples/cars/creeping-inside.yaml",),
    "meeting sheet": ("7",),
    "pack history": (DUNLIN, "3.3"),
    "pack notice": (DUNLIN, "2026-B2"),
}
RACE = ("--fuel-per-lap", "0.2 L", "--laps", "40")


@pytest.mark.parametrize(
    "name",
    quick_first(
        sorted(
            PAGES,
            key=lambda name: name not in ("inspect", "meeting slip", "pack compare"),
        ),
        3,
    ),
)
def test_a_report_is_a_page_of_its_own(capsys: Capsys, tmp_path: Path, name: str) -> None:
    arguments = [*name.split(), *PAGES[name], "--format", "html"]
    if name.startswith("meeting"):
        arguments.insert(2, weighed(capsys, tmp_path))
    ran = run(capsys, *arguments)
    assert ran.err == ""
    assert ran.out == run(capsys, *arguments).out
    read = Reading(ran.out)
    assert read.elements.count("main") == 1
    assert read.elements.count("h1") >= 1
    assert not {"script", "link", "iframe", "img", "object", "form"} & set(read.elements)
    assert [a for a in read.attributes if a[1] in ("src", "style") or a[1].startswith("on")] == []


@pytest.mark.deep
def test_a_fleet_is_one_table(capsys: Capsys) -> None:
    cars = [f"samples/cars/{name}.yaml" for name in ("legal", "creeping-inside")]
    read = Reading(run(capsys, "inspect", *cars, "--format", "html").out)
    assert read.elements.count("table") == 1
    assert "Redshank" in read.text
    assert "Godwit" in read.text


@pytest.mark.parametrize(
    "arguments",
    [
        ("inspect", LEGAL),
        ("inspect", LEGAL, "--picture", "window"),
        ("inspect", LEGAL, "--picture", "margins"),
    ],
    ids=lambda given: " ".join(given[:1] + given[-1:]),
)
def test_one_picture_is_a_file_of_its_own(capsys: Capsys, tmp_path: Path, arguments: tuple[str, ...]) -> None:
    file = tmp_path / "picture.svg"
    ran = run(capsys, *arguments, "--format", "svg", "--output", str(file))
    assert (ran.out, ran.err) == ("", "")
    root = ElementTree.fromstring(file.read_text("utf-8"))
    wanted = arguments[-1] if "--picture" in arguments else "plan"
    assert wanted in str(root.get("class"))


def test_a_picture_of_what_is_not_known_is_refused(capsys: Capsys, tmp_path: Path) -> None:
    blank = tmp_path / "blank.yaml"
    blank.write_text('formula: dunlin\ncar: {number: "1"}\n')
    ran = run(capsys, "inspect", str(blank), "--format", "svg", "--on", "2026-05-03")
    assert ran.code == 2
    assert "what the picture shows is not known" in ran.err


def test_a_picture_by_name_wants_svg(capsys: Capsys) -> None:
    ran = run(capsys, "inspect", LEGAL, "--picture", "plan")
    assert ran.code == 2
    assert "--format svg" in ran.err
