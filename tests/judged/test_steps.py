from __future__ import annotations

from tests.building import outcome_of, pack_of_check
from tests.examples import each_row

GEAR = """
instruments: {tape: {permissible_error: 1 mm}}
facts: {body.width: {unit: mm, measured_with: tape}}
"""


@each_row(
    ("mode", "width", "outcome"),
    [
        ("up", "99.7", "too_close"),
        ("up", "100.3", "too_close"),
        ("up", "97", "pass"),
        ("up", "102", "fail"),
        ("half_up", "104.7", "too_close"),
        ("half_up", "103.9", "pass"),
        ("half_even", "105.2", "too_close"),
        ("down", "109.8", "too_close"),
        ("down", "108", "pass"),
        ("down", "110", "too_close"),
    ],
)
def test_a_value_near_a_step_of_its_rounding_is_judged_on_both_sides(
    mode: str, width: str, outcome: str
) -> None:
    """Known to 1.645 times 1 mm over the root of three, 0.95 mm."""
    pack = pack_of_check(f'{{limit: "round_{mode}(body.width, 10 mm)", at_most: 100 mm}}', GEAR)
    assert outcome_of(pack, f"body: {{width: {width} mm}}").outcome == outcome
    exact = pack_of_check(
        f'{{limit: "round_{mode}(body.width, 10 mm)", at_most: 100 mm}}', "facts: {body.width: {unit: mm}}"
    )
    assert outcome_of(exact, f"body: {{width: {width} mm}}").outcome in ("pass", "fail")
