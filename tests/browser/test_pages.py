"""Pages in a real browser: nothing is asked for, nothing is wrong, nothing is cut off, everybody can read them.

The rules that axe-core holds a page to are those of WCAG 2.2; it works out the contrast of every text in both schemes.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from checker.cli.main import main
from checker.report.html.one_car import inspection_page
from checker.report.one_car.document import inspection_document
from checker.report.one_car.layout_data import layout_data
from checker.studies.one_car.layout import layout
from tests.clients.language_server import NODE_PATH, node_package
from tests.conftest import ROOT
from tests.report.documents import sample
from tests.report.html.test_one_car import HOSTILE

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
_LACKING = [
    what
    for what, there in (
        ("Chromium", CHROMIUM),
        ("node", shutil.which("node")),
        ("pdfinfo", shutil.which("pdfinfo")),
        ("pdftotext", shutil.which("pdftotext")),
        *((name, node_package(name)) for name in ("playwright-core", "axe-core")),
    )
    if not there
]
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(
        bool(_LACKING), reason=f"not found (packages of node on NODE_PATH): {', '.join(_LACKING)}"
    ),
]

CREEPING = "samples/cars/creeping-inside.yaml"
REPORTS = {
    "explain": ("explain", CREEPING, "3.3"),
    "conditions": ("conditions", CREEPING, "--fuel-per-lap", "0.2 L", "--laps", "40", "--start", "15 L"),
    "fleet": ("inspect", CREEPING, "samples/cars/legal.yaml", "samples/cars/hidden-alloy.yaml"),
    "compare": ("pack", "compare", "rulepacks/dunlin/2025.1.yaml", "rulepacks/dunlin/2026.1.yaml"),
    "affected": (
        *("pack", "affected", "rulepacks/dunlin/2025.1.yaml", "rulepacks/dunlin/2026.1.yaml"),
        *(CREEPING, "samples/cars/legal.yaml"),
    ),
    "sweep": (
        *("pack", "sweep", "rulepacks/dunlin/2026.1.yaml", "3.3", "--from", "51 %", "--to", "54 %"),
        *(CREEPING, "samples/cars/legal.yaml"),
    ),
    "book": ("pack", "book", "rulepacks/dunlin", "--on", "2026-05-24"),
    "notice": ("pack", "notice", "rulepacks/dunlin", "2026-B1"),
    "calendar": (*("pack", "calendar", "rulepacks/dunlin", "--from", "2026-01-01", "--until", "2026-12-31"),),
    "weighings": ("compare-weighings", "samples/weighings/home.yaml", "samples/weighings/weigh-in.yaml"),
    "card": ("card", CREEPING),
}
MEETING = {
    "board": ("meeting", "board", "DAY"),
    "results": ("meeting", "results", "DAY"),
    "slip": ("meeting", "slip", "DAY", "91"),
    "sheet": ("meeting", "sheet", "DAY", "91"),
}
ONE_SHEET = ("notice", "card", "slip")
"""What is handed out: it prints on one sheet."""
MANY = 2
"""A report of more pages may take one more on letter, which is shorter than A4."""
CARS = ("legal", "creeping-inside", "misspelt-alloy")


def _hostile() -> dict[str, Any]:
    """A document in which a car, its pack and its clauses are called what hurts most."""
    inspection = sample("creeping-inside")
    document: dict[str, Any] = inspection_document(inspection, layout_data(layout(inspection)))
    document["car"] = {**document["car"], "number": HOSTILE[5][:40], "name": HOSTILE[0]}
    document["pack"] = {**document["pack"], "title": HOSTILE[5]}
    for outcome, words in zip(document["outcomes"], HOSTILE * 100, strict=False):
        outcome["title"] = outcome["text"] = outcome["interpretation"] = words
    for piece, words in zip(document["layout"]["pieces"], HOSTILE, strict=False):
        piece["label"] = words
    document["assumed"] = list(HOSTILE)
    return document


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Any]]:
    """What a browser saw of every page, by the page's name."""
    folder = tmp_path_factory.mktemp("pages")
    before = Path.cwd()
    os.chdir(ROOT)
    try:
        for name in CARS:
            main(
                [
                    "inspect",
                    f"samples/cars/{name}.yaml",
                    "--format",
                    "html",
                    "--output",
                    str(folder / f"{name}.html"),
                ]
            )
        day = str(folder / "day.meeting")
        subprocess.run([sys.executable, "samples/meeting/replay.py", day], check=True, capture_output=True)
        for name, arguments in {**REPORTS, **MEETING}.items():
            given = [day if word == "DAY" else word for word in arguments]
            main([*given, "--format", "html", "--output", str(folder / f"{name}.html")])
        (folder / "hostile.html").write_text(inspection_page([_hostile()]), "utf-8")
    finally:
        os.chdir(before)
    pages = sorted(file.name for file in folder.glob("*.html"))
    assert len(pages) == len(CARS) + len(REPORTS) + len(MEETING) + 1
    command = ["node", str(Path(__file__).with_name("browse.mjs")), str(CHROMIUM), str(folder), *pages]
    done = subprocess.run(
        command, capture_output=True, text=True, timeout=900, env={**os.environ, "NODE_PATH": str(NODE_PATH)}
    )
    assert done.returncode == 0, done.stderr
    found: list[dict[str, Any]] = json.loads(done.stdout)
    return {one["name"].removesuffix(".html"): {**one, "folder": folder} for one in found}


def test_a_browser_has_nothing_to_say_and_nothing_to_fetch(seen: dict[str, dict[str, Any]]) -> None:
    for name, one in seen.items():
        assert one["console"] == [], name
        assert {url for url in one["requests"] if not url.endswith(f"/{name}.html")} == set()
        assert one["requests"], "the page itself"


def test_no_page_is_wider_than_a_phone(seen: dict[str, dict[str, Any]]) -> None:
    assert {name: one["wide"] for name, one in seen.items() if one["wide"]} == {}


def test_no_word_of_a_table_is_broken(seen: dict[str, dict[str, Any]]) -> None:
    broken = {name: one["broken"] for name, one in seen.items() if one["broken"] and name != "hostile"}
    assert broken == {}


def test_everybody_can_read_them_in_both_schemes(seen: dict[str, dict[str, Any]]) -> None:
    assert {name: one["axe"] for name, one in seen.items() if one["axe"]} == {}
    assert all(one["contrasts"] == 2 for one in seen.values()), "contrasts were worked out in light and dark"


def test_the_head_of_a_legal_cars_page_fits_a_laptop(seen: dict[str, dict[str, Any]]) -> None:
    """Verdict, nearest limit, its state, how sure, and what to do: 680 pixels are left of a screen of 768."""
    assert set(seen["legal"]["below"]) == {"verdict", "answers"}
    assert max(seen["legal"]["below"].values()) < 680


def test_it_prints_on_few_pages_and_cuts_nothing(seen: dict[str, dict[str, Any]]) -> None:
    for name, one in seen.items():
        pages = _pages(one["folder"] / f"{name}.html.pdf")
        assert _pages(one["folder"] / f"{name}.html.letter.pdf") <= pages + (pages > MANY), (
            f"{name}: on letter"
        )
        assert one["kept"] == 0, f"{name}: rows, clauses and pictures stay whole"
        if name in (*MEETING, "card", "weighings"):
            assert _whole_rows(one["rows"], one["folder"] / f"{name}.html.pdf") == [], name
        if name in ONE_SHEET:
            assert pages == 1, f"{name}: {pages} pages"
        elif name in CARS:
            assert 1 <= pages <= 3, f"{name}: {pages} pages"
        elif name != "hostile":
            assert pages >= 1


def _pages(pdf: Path) -> int:
    told = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
    return int(re.findall(r"Pages:\s+(\d+)", told)[0])


def _whole_rows(rows: list[str], pdf: Path) -> list[str]:
    """Rows of tables whose words do not all stand on one printed page."""
    told = subprocess.run(["pdftotext", "-raw", pdf, "-"], capture_output=True, text=True, check=True).stdout
    pages = [set(page.split()) for page in told.split("\f")]
    return [row for row in rows if not any(set(row.split()) <= page for page in pages)]
