"""The Dunlin Formula through its season: what its editions and bulletins make of the sample cars."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.verdict.inspection import Inspection
from checker.verdict.run import Request, inspect_request

ROOT = Path(__file__).parents[2]


def judged(car: str, on: str) -> Inspection:
    return inspect_request(
        Request(str(ROOT / f"samples/cars/{car}.yaml"), str(ROOT / "rulepacks/dunlin"), on)
    )


@pytest.mark.parametrize(
    ("car", "on", "failing"),
    [
        ("built-2023", "2026-10-31", []),
        ("built-2025", "2026-07-01", ["3.3"]),
        pytest.param("built-2023", "2026-07-05", [], marks=pytest.mark.deep),
        pytest.param("built-2023", "2026-11-01", ["3.3"], marks=pytest.mark.deep),
        pytest.param("built-2025", "2026-06-30", [], marks=pytest.mark.deep),
        pytest.param("built-2025", "2026-07-05", ["3.3"], marks=pytest.mark.deep),
    ],
)
def test_a_bulletin_lets_older_cars_keep_their_limit_for_a_while(
    car: str, on: str, failing: list[str]
) -> None:
    inspection = judged(car, on)
    assert [o.clause.number for o in inspection.outcomes if o.outcome == "fail"] == failing
    assert (inspection.complies is False) == bool(failing)


@pytest.mark.deep
def test_the_legal_car_is_legal_under_every_text_of_the_season() -> None:
    """On days from the one on which its declaration was issued: before, that paper is not at hand (11.1)."""
    assert [judged("legal", on).complies for on in ("2026-05-03", "2026-07-20")] == [True] * 2
    early = judged("legal", "2026-03-01")
    assert [o.clause.number for o in early.outcomes if o.outcome == "not_shown"] == ["11.1"]
    assert early.complies is None


def test_the_clause_on_wet_tyres_names_the_clause_on_ride_height() -> None:
    for on, number in (("2025-07-01", "4.3"), ("2026-03-01", "4.4"), ("2026-07-20", "4.4")):
        pack = judged("legal", on).pack
        assert f"see {number}" in pack.clauses["6.5"].text
        assert pack.clauses[number].title == "Ride height"


def test_the_second_bulletin_adds_a_tyre() -> None:
    before, after = judged("legal", "2026-07-19").pack, judged("legal", "2026-07-20").pack
    assert after.clauses["4.4"].title == "Ride height"
    assert "Ebb D4" not in before.tables["season_tyre"].rows[0]["models"]
    assert "Ebb D4" in after.tables["season_tyre"].rows[0]["models"]
    assert after.bulletins == ("2026-B1", "2026-B2")
