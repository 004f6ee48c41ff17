"""Pictures: sound SVG with words and numbers, the same each time, and drawn where the numbers say."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree

import pytest

from checker.cli.planned import as_planned
from checker.report.figure import Figure
from checker.report.figures.affected import affected_figure
from checker.report.figures.drawing import Drawing, as_file, width_of
from checker.report.figures.margins import margins_figure, measured
from checker.report.figures.race import race_figure
from checker.report.figures.scales import Scale, ticks
from checker.report.figures.sweep import sweep_figure
from checker.report.html.one_car import figures
from checker.report.one_car.document import inspection_document
from checker.report.one_car.layout_data import layout_data
from checker.studies.one_car.layout import layout
from checker.verdict.run import Request
from tests.cli.running import run
from tests.conftest import ROOT
from tests.examples import each_row, quick_first
from tests.report.documents import STORIES, sample, valid

pytestmark = pytest.mark.usefixtures("at_root")

SVG = "{http://www.w3.org/2000/svg}"


def drawable(name: str) -> dict[str, Any]:
    inspection = sample(name)
    return valid(inspection_document(inspection, layout_data(layout(inspection))))


def sound(figure: Figure) -> ElementTree.Element:
    """The picture as XML, after what holds for all of them."""
    root = ElementTree.fromstring(as_file(figure))
    assert root.tag == f"{SVG}svg"
    title, about = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert about is not None
    assert root.get("aria-labelledby") == f"{title.get('id')} {about.get('id')}"
    assert figure.rows
    assert {len(row) for row in figure.rows} == {len(figure.head)}
    assert not [name for part in root.iter() for name in part.attrib if "href" in name or name == "style"]
    return root


@pytest.mark.parametrize("name", quick_first(STORIES, 1))
def test_every_picture_of_a_car_is_sound(name: str) -> None:
    drawn = figures(drawable(name))
    assert {one.name for one in drawn} == {"plan", "window", "margins", "more"}
    assert [as_file(one) for one in drawn] == [as_file(one) for one in figures(drawable(name))]
    for one in drawn:
        sound(one)


@pytest.mark.parametrize("kind", ["plan", "window"])
def test_a_picture_is_as_accepted(kind: str, golden: Callable[[str, str], None]) -> None:
    figure = next(one for one in figures(drawable("creeping-inside")) if one.name == kind)
    golden(f"figure-{kind}.svg", figure.svg.replace("><", ">\n<") + "\n")


def test_a_margin_stands_on_its_side_of_the_limit() -> None:
    outcomes = measured(drawable("creeping-inside"))
    root = sound(margins_figure(outcomes, "entrant"))
    limit = float(root.find(f"{SVG}line[@class='limit']").get("x1", "0"))  # type: ignore[union-attr]
    met = [float(one.get("cx", "0")) for one in root.iter(f"{SVG}circle")]
    (struck,) = (one.get("d", "") for one in root.iter(f"{SVG}path") if one.get("class") == "struck")
    assert met == sorted(met), "the tightest first"
    assert min(met) > limit
    assert float(struck[1:].split()[0]) < limit
    assert [row[0].split()[0] for row in margins_figure(outcomes, "entrant").rows] == [
        o["clause"] for o in outcomes
    ]


def test_margins_are_drawn_by_share_of_the_limit() -> None:
    for outcome in measured(drawable("legal")):
        assert Fraction(outcome["scale"]) > 0
    by_number = {o["clause"]: o for o in measured(drawable("legal"))}
    assert by_number["3.1"]["scale"] == "585/1"


@each_row("name", ["<script>", "]]>", "a & 'b' \"c\"", "\u202etfel", "x" * 10_000, "\x00\x1b[31m"])
def test_words_in_a_picture_are_text(name: str) -> None:
    drawing = Drawing("test", 100)
    drawing.text("small", 0, 10, name, room=80)
    figure = drawing.done(20, name, name, ("a",), [(name,)])
    root = sound(figure)
    texts = root.findall(f"{SVG}text")
    assert len(texts) == 1
    assert len(texts[0].text or "") < 40
    assert len(list(root.iter())) == 6


def test_ticks_are_round_and_within() -> None:
    for low, high in ((0.0, 1.0), (52.13, 53.61), (-3.2, 411.0), (1e-4, 3e-4)):
        found = ticks(Scale(low, high, 0, 100), 5)
        assert 3 <= len(found) <= 14
        assert all(low <= one <= high for one in found)


def document_printed(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    found: dict[str, Any] = valid(json.loads(run(capsys, *arguments, "--format", "json").out))
    return found


CREEPING = "samples/cars/creeping-inside.yaml"
BOTH = ("rulepacks/dunlin/2025.1.yaml", "rulepacks/dunlin/2026.1.yaml")


@pytest.mark.deep
def test_a_race_is_drawn_with_its_limits_and_the_lap_on_which_it_fails(
    capsys: pytest.CaptureFixture[str],
) -> None:
    race = ("--fuel-per-lap", "0.2 L", "--laps", "40", "--start", "15 L")
    figure = race_figure(document_printed(capsys, "conditions", CREEPING, *race))
    assert figure is not None
    root = sound(figure)
    assert len(figure.rows) == 41
    first = next(row[0] for row in figure.rows if row[-1])
    assert first == "24"
    (struck,) = (one.get("d", "") for one in root.iter(f"{SVG}path") if one.get("class") == "struck")
    assert float(struck[1:].split()[0]) == pytest.approx(52 + 24 / 40 * 340 - 5, abs=0.1)
    told = [one.text for one in root.iter(f"{SVG}text")]
    for limit in ("3.1: least 560 kg", "3.2: least 655 kg", "3.3: most 53 %", "3.4: most 50.5 %", "this run"):
        assert limit in told


def struck_through(root: ElementTree.Element) -> list[str]:
    """Limits in words that a curve, or an upright limit, goes through."""
    found = []
    for text in root.iter(f"{SVG}text"):
        if text.get("class") != "small strong halo" or ": " not in (words := text.text or ""):
            continue
        x, y, long = float(text.get("x", "0")), float(text.get("y", "0")), width_of(words, 12)
        left, right = (x - long, x) if text.get("text-anchor") == "end" else (x, x + long)
        ways = [one.get("d", "") for one in root.iter(f"{SVG}path") if "curve" in one.get("class", "")]
        points = [
            [(float(a), float(b)) for a, b in re.findall(r"(-?[\d.]+) (-?[\d.]+)", way)] for way in ways
        ]
        points += [
            [(float(one.get("x1", "0")), float(one.get(end, "0"))) for end in ("y1", "y2")]
            for one in root.iter(f"{SVG}line")
            if one.get("class") == "limit" and one.get("x1") == one.get("x2")
        ]
        for way in points:
            for (x1, y1), (x2, y2) in pairwise(way):
                steps = [(x1 + (x2 - x1) * at / 40, y1 + (y2 - y1) * at / 40) for at in range(41)]
                if any(left + 1 < a < right - 1 and y - 8 < b < y for a, b in steps):
                    found.append(words)
    return found


@pytest.mark.deep
def test_no_line_goes_through_the_words_of_a_limit(capsys: pytest.CaptureFixture[str]) -> None:
    race = ("--fuel-per-lap", "0.2 L", "--laps", "40", "--start", "15 L")
    figure = race_figure(document_printed(capsys, "conditions", CREEPING, *race))
    assert figure is not None
    assert struck_through(sound(figure)) == []
    (window,) = (one for one in figures(drawable("creeping-inside")) if one.name == "window")
    assert [words for words in struck_through(sound(window)) if "53 %" in words] == []


@pytest.mark.deep
def test_without_a_race_there_is_no_picture_of_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert race_figure(document_printed(capsys, "conditions", CREEPING)) is None


@pytest.mark.deep
def test_who_is_affected_has_one_mark_a_car(capsys: pytest.CaptureFixture[str]) -> None:
    document = document_printed(capsys, "pack", "affected", *BOTH, CREEPING, "samples/cars/legal.yaml")
    figure = affected_figure(document)
    assert figure is not None
    root = sound(figure)
    rows = [row for row in figure.rows if row[0].startswith("3.3 ")]
    assert rows == [
        ("3.3 Inside weight", "31 Godwit", "+0.87 %", "-0.33 %"),
        ("3.3 Inside weight", "27 Redshank", "+2.52 %", "+1.32 %"),
    ]
    assert len([one for one in root.iter(f"{SVG}path") if one.get("class") == "struck"]) == 1


def test_a_sweep_is_drawn_by_its_exact_steps(capsys: pytest.CaptureFixture[str]) -> None:
    ends = ("--from", "51 %", "--to", "54 %", "--on", "2026-05-24")
    document = document_printed(capsys, "pack", "sweep", BOTH[1], "3.3", *ends, CREEPING)
    figure = sweep_figure(document)
    root = sound(figure)
    assert [row[1:] for row in figure.rows] == [("1", "0", "0", "31 Godwit")]
    curve = next(one.get("d", "") for one in root.iter(f"{SVG}path") if one.get("class") == "curve")
    step = 34 + float(Fraction(document["steps"][0]["exact"]) - 51) / 3 * 354
    assert float(curve.split("L")[1].split()[0]) == pytest.approx(step, abs=0.1)


def test_a_sweep_over_days_is_drawn(capsys: pytest.CaptureFixture[str]) -> None:
    ends = ("--from", "2023-01-01", "--to", "2025-12-31")
    sound(sweep_figure(document_printed(capsys, "pack", "sweep", BOTH[1], "1.1", *ends, CREEPING)))


@pytest.mark.parametrize("kind", quick_first(["plan", "window"], 0))
def test_the_readme_shows_a_picture_as_it_is_drawn_now(kind: str, request: pytest.FixtureRequest) -> None:
    """`pytest --accept` draws it again."""
    file = ROOT / "samples" / "pictures" / f"creeping-inside-{kind}.svg"
    asked = Request("samples/cars/creeping-inside.yaml")
    planned = as_planned(drawable("creeping-inside"), sample("creeping-inside"), asked, draw=True)
    figure = next(one for one in figures(valid(planned)) if one.name == kind)
    if request.config.getoption("--accept"):
        file.write_text(as_file(figure), "utf-8")
    assert file.read_text("utf-8") == as_file(figure)
    assert f"](samples/pictures/{file.name})" in (ROOT / "README.md").read_text("utf-8")
