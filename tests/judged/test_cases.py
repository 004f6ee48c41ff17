from __future__ import annotations

import pytest

from tests.judged.cases import Case, cases, differences

CASES = list(cases())


@pytest.mark.parametrize("case", CASES, ids=[f"{case.pack}: {case.name}" for case in CASES])
def test_a_car_comes_to_what_the_rules_say(case: Case) -> None:
    assert differences(case.inspect(), case.given["expect"]) == []
