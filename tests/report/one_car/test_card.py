"""A pit card: fuel that is legal is legal when it is judged, and all else that a crew reads off it."""

from __future__ import annotations

import re
import shutil
import subprocess
from fractions import Fraction
from pathlib import Path

import pytest

from checker.report.html.sheet import Sheet
from checker.report.one_car.card import card_text, weigh_again
from checker.report.page import Page
from checker.studies.one_car.running_out import RunningOut
from checker.verdict.run import Request, inspect_request
from tests.cli.running import run
from tests.examples import each_row, quick_first
from tests.report.documents import document_of, sample
from tests.report.html.reading import Reading
from tests.report.html.test_one_car import HOSTILE

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]
CREEPING = "samples/cars/creeping-inside.yaml"


@pytest.mark.deep
def test_the_least_fuel_to_finish_with_is_just_enough(capsys: Capsys) -> None:
    """With the level on the card clause 3.3 is met on dry tyres, worn; with a hundredth less it fails."""
    told = run(capsys, "card", CREEPING).out.partition("FUEL TO FINISH WITH, WORN")[2]
    found = re.search(r"dry tyres.*least ([0-9.]+) L, most a full tank", told)
    assert found is not None

    def margin(litres: float) -> Fraction:
        request = Request(CREEPING, what_if=(f"fuel.unusable={litres:.2f} L",))
        (outcome,) = (o for o in inspect_request(request).outcomes if o.clause.number == "3.3")
        assert outcome.assessment.margin_value is not None
        return outcome.assessment.margin_value

    least = float(found[1])
    assert margin(least) >= 0 > margin(least - 0.01)


def test_it_tells_ballast_small_margins_and_what_to_weigh_again(capsys: Capsys) -> None:
    told = run(capsys, "card", CREEPING, "--width", "100").out
    assert re.search(r"B2, 560 mm behind the front axle, 528 mm left of the centre line +7.5 kg", told)
    small = told.partition("LESS THAN 1 % IN HAND")[2].partition("\n\n")[0]
    assert re.findall(r"^  ([0-9.]+) ", small, re.MULTILINE) == ["3.3", "4.1"]
    assert re.search(r"springs, ride height, bars or tyre pressures +clause 3.5", told)


@pytest.mark.deep
def test_in_pounds_and_inches_ballast_is_told_to_the_nearest(capsys: Capsys) -> None:
    """By hand: 560 mm are 22.047 in, 528 mm 20.787 in, 7.5 kg 16.535 lb."""
    told = " ".join(run(capsys, "card", CREEPING, "--units", "us").out.split())
    assert "B2, 22 1/16 in behind the front axle, 20 13/16 in left of the centre line 16.53 lb" in told


@pytest.mark.deep
def test_any_rest_of_fuel_is_0_litres(capsys: Capsys) -> None:
    told = run(capsys, "card", "samples/cars/price-rise.yaml").out
    assert "least 0 L, most a full tank" in told
    assert "0.00 L" not in told


def soon(capsys: Capsys, car: str, *options: str) -> str:
    told = run(capsys, "card", f"samples/cars/{car}.yaml", *options).out
    return told.partition("RUNS OUT WITHIN 90 DAYS\n")[2].partition("\n\n")[0]


def test_what_runs_out_soon_is_on_it(capsys: Capsys) -> None:
    told = soon(capsys, "belts-between-meetings", "--on", "2026-05-24")
    assert re.fullmatch(r"  9.1  Belts in date, belts +7 days left, to 2026-05-31", told)
    told = soon(capsys, "belts-between-meetings", "--on", "2026-06-01")
    assert re.fullmatch(r"  9.1  Belts in date, belts +ran out 1 day ago", told)


@pytest.mark.deep
def test_days_between_two_days_of_the_past_do_not_run_out(capsys: Capsys) -> None:
    """A certificate of 40 days after the repair stays that old."""
    assert soon(capsys, "legal").startswith("  Nothing.")


@pytest.mark.deep
def test_what_a_change_of_the_rules_ends_runs_out(capsys: Capsys) -> None:
    told = soon(capsys, "price-rise")
    assert re.findall(r"5.1  Price of a damper, (\w+) dampers +0 days left, to 2026-06-21", told) == [
        "front",
        "rear",
    ]


@pytest.mark.parametrize("width", quick_first([40, 32, 80, 120, 200], 1))
def test_it_keeps_to_its_width(capsys: Capsys, width: int) -> None:
    lines = run(capsys, "card", CREEPING, "--width", str(width)).out.splitlines()
    assert max(map(len, lines)) <= width


@pytest.mark.deep
def test_as_pdf_it_is_one_page_of_a5(capsys: Capsys, tmp_path: Path) -> None:
    if shutil.which("pdfinfo") is None:
        pytest.skip("pdfinfo (poppler) is not installed")
    file = tmp_path / "card.pdf"
    ran = run(capsys, "card", CREEPING, "--format", "pdf", "--output", str(file))
    if ran.code == 74:
        pytest.skip(ran.err)
    told = subprocess.run(["pdfinfo", file], capture_output=True, text=True, check=True).stdout
    assert re.search(r"Pages: +1\n", told)
    assert re.search(r"Page size: +419\.\d+ x 595\.\d+ pts", told)


@each_row("name", HOSTILE, ids=range(len(HOSTILE)))
def test_names_that_hurt_are_text(name: str) -> None:
    inspection = sample("creeping-inside")
    document = document_of(inspection)
    document["car"] = {**document["car"], "name": name}
    page, sheet = Page(40), Sheet()
    for one in (page, sheet):
        card_text(
            document,
            {name: []},
            RunningOut((), inspection.on, is_short=True),
            weigh_again(inspection.pack),
            one,
        )
    assert all(letter == "\n" or letter.isprintable() for letter in page.text())
    assert not {"script", "b", "img"} & set(Reading(sheet.text()).elements)
