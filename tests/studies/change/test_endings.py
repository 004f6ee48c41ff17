"""What lets the search for endings judge as measured first: a breach is one as measured too, but for a proven pass."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.declaration.loading import load_car
from checker.kinds.judging.assessment import FAIL
from checker.pack.model import AS_DISPLAYED, BENEFIT, STRICT, Decision
from checker.reading.printer import to_yaml
from checker.reading.quick_dataclasses import replace
from checker.reading.strict_yaml import parse_document
from checker.verdict.inspection import inspect_car
from tests.building import DAY
from tests.examples import examples
from tests.pack.test_laws import pack_of
from tests.strategies import FACTS, cars, checks

Data = dict[str, Any]

EVERY: dict[str, Data] = FACTS  # type: ignore[assignment]
MEASURED = {
    name: {**fact, "uncertainty": "0.7 mm"} if fact.get("unit") == "mm" else fact
    for name, fact in EVERY.items()
}
"""So vaguely that what `checks` ask for is often nearer a limit than it is known."""


def outcomes(check: Data, car: Data, audience: str, official: str) -> tuple[str, str]:
    """What a check comes to with what its values may be out by, and as measured."""
    pack = replace(pack_of({"1": {"check": check}}, MEASURED), decision=Decision(official))
    text = to_yaml({"formula": "example", "car": {"number": "7"}, "event": {"date": DAY.isoformat()}, **car})
    read = load_car(parse_document(text.encode(), "car.yaml", "CD"), pack.vocabulary, audience="entrant")
    found = [
        inspect_car(pack, read, DAY, audience, exact=exact).outcomes[0].outcome for exact in (False, True)
    ]
    return found[0], found[1]


@examples(150)
@given(
    check=checks(),
    car=cars(),
    whose=st.sampled_from([("entrant", STRICT), ("official", BENEFIT), ("official", AS_DISPLAYED)]),
)
def test_a_breach_is_one_as_measured(check: Data, car: Data, whose: tuple[str, str]) -> None:
    guarded, measured = outcomes(check, car, *whose)
    assert guarded != FAIL or measured == FAIL


@pytest.mark.parametrize(("official", "found"), [(STRICT, FAIL), (BENEFIT, "pass")])
def test_a_proven_pass_asks_more(official: str, found: str) -> None:
    """So there the search judges with all that its values may be out by."""
    car = {"f": {"p": "5 mm"}}
    assert outcomes({"limit": "f.p", "at_most": "5 mm"}, car, "official", official) == (found, "pass")
