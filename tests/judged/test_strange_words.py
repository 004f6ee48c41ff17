from __future__ import annotations

import pytest

from tests.building import outcome_of, pack_of_check

TABLE = """
materials: {light metal: [aluminium, magnesium], steel: []}
facts: {floor.metal: {type: material}, floor.thickness: {unit: mm}}
tables: {thinnest: {by: [metal], rows: [{metal: magnesium, value: 3 mm}, {metal: any, value: 1 mm}]}}
"""


@pytest.mark.parametrize(
    ("metal", "outcome"), [("steel", "pass"), ("magnesium", "fail"), ("magnesum", "not_shown")]
)
def test_a_misspelt_material_does_not_slip_into_the_row_for_any(metal: str, outcome: str) -> None:
    pack = pack_of_check("{limit: floor.thickness, at_least: thinnest(floor.metal)}", TABLE)
    found = outcome_of(pack, f"floor: {{metal: {metal}, thickness: 2 mm}}")
    assert found.outcome == outcome
