"""Densities of liquids that get into a fuel tank, against published values."""

from __future__ import annotations

import math
from fractions import Fraction
from pathlib import Path

import pytest

from checker.car.errors.sources import permissible_variance
from checker.car.weights.fuel import STANDARD_DEGC, density
from checker.pack.editions.loading import load_edition
from tests.building import outcome_of, pack_of_check
from tests.car.cars import known, loaded, problems, varied

LITRE = 10**6
LOW, HIGH = Fraction("0.720"), Fraction("0.775")
"""L1: EN 228:2012, density at 15 degC, kg/L; read in a summary of its limits."""


def test_en_228_is_stated_for_15_degrees() -> None:
    assert STANDARD_DEGC == 15


def test_the_sample_rulebook_has_the_range_of_en_228() -> None:
    rules = load_edition(str(Path(__file__).parents[2] / "rulepacks" / "dunlin" / "2026.1.yaml"))
    words = rules.clauses["10.2"].check.sentence()
    assert "0.720 kg/L" in words
    assert "0.775 kg/L" in words


def test_forty_litres_of_petrol() -> None:
    """L3, computed: 28.8 to 31.0 kg; known to be in the range only, u of the density is 15.877 kg/m3."""
    masses = [
        40 * LITRE * known(density(loaded(varied({"fuel.density": f"{float(d):.3f} kg/L"}))))
        for d in (LOW, HIGH)
    ]
    assert masses == [Fraction("28.8"), Fraction("31.0")]
    u = math.sqrt(permissible_variance((HIGH - LOW) / 2)) * 1000
    assert u == pytest.approx(15.877, abs=5e-4)


def test_six_pounds_a_gallon_is_just_below_the_range() -> None:
    """L4: the aviation convention, recomputed with exact units: 0.7189586 kg/L."""
    convention = 6 * Fraction("0.45359237") / Fraction("3.785411784")
    assert float(convention) == pytest.approx(0.7189586, abs=1e-7)
    assert convention < LOW
    pack = pack_of_check("{limit: fuel.density, at_least: 0.720 kg/L, at_most: 0.775 kg/L}")
    assert outcome_of(pack, f"fuel: {{density: {float(convention):.7f} kg/L}}").outcome == "fail"


@pytest.mark.parametrize(
    ("liquid", "kg_per_m3"),
    [
        ("ethanol at 15 degC", "793.7"),  # L6: CoolProp; OIML R 22 gives 789.24 at 20 degC (recalled)
        ("ethanol at 20 degC", "789.4"),
        ("methanol at 15 degC", "795.7"),  # L7: CoolProp
        ("methanol at 20 degC", "791.0"),
    ],
)
def test_alcohols_are_fuels(liquid: str, kg_per_m3: str) -> None:
    assert problems(varied({"fuel.density": f"{float(kg_per_m3) / 1000:.4f} kg/L"})) == (), liquid


@pytest.mark.parametrize("kg_per_m3", ["999.975", "999.103", "998.207", "997.048"])
def test_water_is_none(kg_per_m3: str) -> None:
    """L5: 4, 15, 20 and 25 degC, IAPWS-95 and Tanaka 2001 agree; computed."""
    (found,) = problems(varied({"fuel.density": f"{float(kg_per_m3) / 1000:.6f} kg/L"}))
    assert found.code == "CD208"


def test_ethanol_expands_about_as_petrol_is_taken_to() -> None:
    """From the two temperatures of L6: 0.00108 for each degree, near the 0.00095 taken for petrol."""
    expansion = (Fraction("793.7") - Fraction("789.4")) / 5 / Fraction("793.7")
    assert float(expansion) == pytest.approx(0.00108, abs=5e-6)
    stated = {"fuel.density": "0.7937 kg/L", "fuel.temperature": "20 degC", "fuel.expansion": "0.1084 %"}
    warm = known(density(loaded(varied(stated)))) * LITRE
    assert float(warm) == pytest.approx(0.7894, abs=5e-5)
